package data

import "sync"

// Element is a row of elements.toml. Weight is in g/mol.
type Element struct {
	Symbol      string   `toml:"symbol"`
	Name        string   `toml:"name"`
	OtherNames  []string `toml:"other_names"`
	Z           int      `toml:"z"`
	Weight      float64  `toml:"weight"`
	Uncertainty float64  `toml:"uncertainty"`
	FullValue   string   `toml:"full_value"`
	Row
}

// Elements returns the table of elements, H to U, in order of atomic number.
func Elements() ([]Element, error) { return elements() }

var elements = sync.OnceValues(func() ([]Element, error) {
	return rows[Element]("elements.toml")
})

func (e Element) check() error {
	return wrong(named(e.Symbol, e.Name) && e.Z > 0 && positive(e.Weight) && positive(e.Uncertainty),
		"element %q needs symbol, name, z, weight and uncertainty", e.Symbol)
}
