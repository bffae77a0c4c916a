package substance

import (
	"errors"
	"fmt"
	"strings"
	"sync"

	"afterpour/chem/data"
	"afterpour/chem/units"
)

// ErrUnknownElement says that a symbol or name is not in the table of elements.
var ErrUnknownElement = errors.New("unknown element")

// Element is a row of the table of elements, H to U.
type Element struct {
	Symbol string
	Name   string // English, small letters
	Z      int    // atomic number

	// Weight is the CIAAW abridged standard atomic weight 2021; WeightDoubt its stated uncertainty.
	Weight, WeightDoubt units.MolarMass
}

type elementTable struct {
	all      []Element
	bySymbol map[string]Element
	byName   map[string]Element
}

var elements = sync.OnceValue(func() *elementTable {
	rows, err := data.Elements()
	if err != nil {
		panic(fmt.Sprintf("substance: the table of elements is wrong: %v", err))
	}
	t := &elementTable{bySymbol: map[string]Element{}, byName: map[string]Element{}}
	for _, r := range rows {
		e := Element{r.Symbol, r.Name, r.Z, units.MolarMass(r.Weight), units.MolarMass(r.Uncertainty)}
		t.all = append(t.all, e)
		t.bySymbol[e.Symbol] = e
		for _, name := range append(r.OtherNames, r.Name) {
			t.byName[name] = e
		}
	}
	return t
})

// Elements returns the table in order of atomic number. Do not change it.
func Elements() []Element { return elements().all }

// ElementBySymbol returns the element with that symbol ("Ag") or English name ("silver", in any case).
// Error: ErrUnknownElement, which tells a real element outside the table from a word that is none.
func ElementBySymbol(s string) (Element, error) {
	if e, ok := elements().bySymbol[s]; ok {
		return e, nil
	}
	if e, ok := elements().byName[strings.ToLower(s)]; ok {
		return e, nil
	}
	if isOutsideTable(s) {
		return Element{}, fmt.Errorf("%w: %s is an element, but outside the table of this program", ErrUnknownElement, s)
	}
	return Element{}, fmt.Errorf("%w: %q is no element symbol", ErrUnknownElement, s)
}

// outside lists the symbols that the table of elements does not hold.
const outside = " Tc Pm Po At Rn Fr Ra Ac Np Pu Am Cm Bk Cf Es Fm Md No Lr" +
	" Rf Db Sg Bh Hs Mt Ds Rg Cn Nh Fl Mc Lv Ts Og "

func isOutsideTable(symbol string) bool {
	return symbol != "" && strings.Contains(outside, " "+symbol+" ")
}
