package data

import "sync"

// Density is a row of densities.toml: a solution in water at 20 degC.
type Density struct {
	Solute  string  `toml:"solute"`  // formula
	Percent float64 `toml:"percent"` // mass share of the solute, %
	Density float64 `toml:"density"` // kg/L

	Check       float64 `toml:"check"` // a second, independent density, kg/L; 0 if there is none
	CheckSource string  `toml:"check_source"`
	Row
}

// Densities returns the density table of solutions, per solute in rising order of strength.
func Densities() ([]Density, error) { return densities() }

var densities = sync.OnceValues(func() ([]Density, error) {
	return rows[Density]("densities.toml")
})

func (d Density) check() error {
	ok := named(d.Solute) && d.Percent > 0 && d.Percent <= 100 && positive(d.Density) &&
		(d.Check > 0) == (d.CheckSource != "")
	return wrong(ok, "density of %s at %g %%", d.Solute, d.Percent)
}

// Solute is a row of solutes.toml: what the solutes of the density table are called.
type Solute struct {
	Formula    string   `toml:"formula"`
	Name       string   `toml:"name"`
	OtherNames []string `toml:"other_names"`
	Row
}

// Solutes returns the solutes of the density table.
func Solutes() ([]Solute, error) { return solutes() }

var solutes = sync.OnceValues(func() ([]Solute, error) {
	return rows[Solute]("solutes.toml")
})

func (s Solute) check() error { return wrong(named(s.Formula, s.Name), "solute %q", s.Formula) }
