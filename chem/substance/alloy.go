package substance

import (
	"fmt"
	"sort"
	"sync"

	"afterpour/chem/data"
	"afterpour/chem/units"
)

// Alloy is a grade with its nominal composition.
type Alloy struct {
	ID      string // "sterling-925"
	Name    string
	Group   string
	Shares  []Share // largest first; they may sum to less than 1, the rest being inert
	Melting []units.Temperature
	Note    string
	Source  data.Row
}

// Share is a constituent of a piece: an element, or an oxide that stands in it as such.
type Share struct {
	Species  SpeciesID
	Symbol   string // of the metal (or element) that it counts as
	Fraction units.MassFraction
}

type alloyTable struct {
	all   []Alloy
	index *nameIndex
}

var alloys = sync.OnceValue(func() *alloyTable {
	t, err := newAlloyTable()
	if err != nil {
		panic(fmt.Sprintf("substance: the alloy table is wrong: %v", err))
	}
	return t
})

func newAlloyTable() (*alloyTable, error) {
	rows, err := data.Alloys()
	if err != nil {
		return nil, err
	}
	t := &alloyTable{index: newNameIndex("grade")}
	for i, row := range rows {
		a, err := newAlloy(row)
		if err == nil {
			err = t.index.add(i, append([]string{row.ID, row.Name}, row.Aliases...)...)
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", row.ID, err)
		}
		t.all = append(t.all, a)
	}
	return t, nil
}

func newAlloy(row data.Alloy) (Alloy, error) {
	a := Alloy{ID: row.ID, Name: row.Name, Group: row.Group, Note: row.Note, Source: row.Row}
	for name, percent := range row.Composition {
		id, err := undissolvedSpecies(name)
		if err != nil {
			return Alloy{}, err
		}
		sp := id.Species()
		symbol := sp.Metal
		if symbol == "" {
			symbol = sp.Formula.Elements()[0]
		}
		a.Shares = append(a.Shares, Share{id, symbol, units.MassFraction(percent) * units.Percent})
	}
	sort.Slice(a.Shares, func(i, j int) bool {
		x, y := a.Shares[i], a.Shares[j]
		return x.Fraction > y.Fraction || x.Fraction == y.Fraction && x.Symbol < y.Symbol
	})
	for _, c := range row.MeltingCelsius {
		a.Melting = append(a.Melting, units.Celsius(c))
	}
	return a, nil
}

// undissolvedSpecies returns the solid (or liquid metal) of a formula without phase.
func undissolvedSpecies(formula string) (SpeciesID, error) {
	id, err := Find(formula)
	if err != nil {
		return 0, err
	}
	if !Undissolved(id.Species()) {
		return 0, fmt.Errorf("substance: %s is not a solid", formula)
	}
	return id, nil
}

// Alloys returns the table of grades. Do not change it.
func Alloys() []Alloy { return alloys().all }

// FindAlloy returns the grade of that id or alias ("sterling 925", "925", "coin silver 900", "brass").
// Error: *UnknownNameError with the near grades.
func FindAlloy(grade string) (Alloy, error) {
	row, err := alloys().index.find(grade)
	if err != nil {
		return Alloy{}, err
	}
	return alloys().all[row], nil
}

// Fraction returns the mass share of an element in the grade, counting what stands in oxides.
func (a Alloy) Fraction(symbol string) units.MassFraction {
	var sum units.MassFraction
	for _, s := range a.Shares {
		sum += s.Fraction * s.Species.Species().Formula.MassShare(symbol)
	}
	return sum
}
