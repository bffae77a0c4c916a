package data

import "sync"

// Species is a row of species.toml: one substance in one phase.
type Species struct {
	Name  string `toml:"name"`  // formula with charge and phase
	Title string `toml:"title"` // in words
	Metal string `toml:"metal"` // symbol of the working metal that it carries

	Density *float64 `toml:"density"` // solids: kg/L
	Volume  *float64 `toml:"volume"`  // dissolved: apparent molar volume at infinite dilution, cm3/mol
	Slope   float64  `toml:"slope"`   // dissolved: its gain, cm3/mol per root of mol/kg of ionic strength
	Row
}

// SpeciesRows returns the table of species in the order of the file.
func SpeciesRows() ([]Species, error) { return species() }

var species = sync.OnceValues(func() ([]Species, error) {
	return rows[Species]("species.toml")
})

func (s Species) check() error {
	if s.Volume != nil && s.Density != nil {
		return wrong(false, "species %q has both a density and an apparent volume", s.Name)
	}
	ok := named(s.Name, s.Title) && finite(s.Slope) &&
		(s.Density == nil || positive(*s.Density)) && (s.Volume == nil || finite(*s.Volume))
	return wrong(ok, "species %q needs name, title and sound figures", s.Name)
}
