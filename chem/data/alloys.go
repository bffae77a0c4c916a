package data

import "sync"

// Alloy is a row of alloys.toml: the nominal composition of a piece.
type Alloy struct {
	ID             string             `toml:"id"`
	Name           string             `toml:"name"`
	Aliases        []string           `toml:"aliases"`
	Group          string             `toml:"group"`
	Composition    map[string]float64 `toml:"composition"` // element symbol or oxide → mass percent
	MeltingCelsius []float64          `toml:"melting_celsius"`
	Row
}

// Alloys returns the table of alloys.
func Alloys() ([]Alloy, error) { return alloys() }

var alloys = sync.OnceValues(func() ([]Alloy, error) {
	return rows[Alloy]("alloys.toml")
})

func (a Alloy) check() error {
	ok := named(a.ID, a.Name, a.Group) && len(a.Composition) > 0 &&
		(len(a.MeltingCelsius) == 0 || len(a.MeltingCelsius) == 2)
	var sum float64
	for symbol, percent := range a.Composition {
		ok = ok && named(symbol) && positive(percent)
		sum += percent
	}
	return wrong(ok && sum < 100.01, "alloy %q: its shares sum to %g %%", a.ID, sum)
}
