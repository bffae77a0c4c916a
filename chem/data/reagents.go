package data

import "sync"

// Reagent is a row of reagents.toml: what a bench pours and weighs in.
type Reagent struct {
	ID         string             `toml:"id"`
	Name       string             `toml:"name"`
	OtherNames []string           `toml:"other_names"`
	Formula    string             `toml:"formula"`
	Enters     map[string]float64 `toml:"enters"`   // species → mol per mol of formula, once in a vessel
	Solution   bool               `toml:"solution"` // sold as a solution in water
	Dry        string             `toml:"dry"`      // the species that it is as a solid
	Percent    float64            `toml:"percent"`  // usual strength, mass percent
	Density    float64            `toml:"density"`  // kg/L as sold
	Row
}

// Reagents returns the catalogue of reagents.
func Reagents() ([]Reagent, error) { return reagents() }

var reagents = sync.OnceValues(func() ([]Reagent, error) {
	return rows[Reagent]("reagents.toml")
})

func (r Reagent) check() error {
	ok := named(r.ID, r.Name, r.Formula) && len(r.Enters) > 0 && r.Percent > 0 && r.Percent <= 100 && positive(r.Density)
	return wrong(ok, "reagent %q", r.ID)
}
