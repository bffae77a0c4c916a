package substance

import (
	"fmt"
	"sort"
	"sync"

	"afterpour/chem/data"
	"afterpour/chem/units"
)

// Reagent is what a bench pours or weighs in.
type Reagent struct {
	ID       string // as in the price book: "sodium-hydroxide"
	Name     string // "sodium hydroxide"
	Formula  Formula
	Strength units.MassFraction // usual mass share of the formula
	Density  units.Density      // as sold
	Solution bool               // a solution in water (or water itself)
	Enters   []Term             // what a mole of the formula becomes in a vessel
	Dry      SpeciesID          // what it is as a solid, or -1
	Note     string
	Source   data.Row
}

type reagentTable struct {
	all   []Reagent
	index *nameIndex
}

var reagents = sync.OnceValue(func() *reagentTable {
	t, err := newReagentTable()
	if err != nil {
		panic(fmt.Sprintf("substance: the reagent table is wrong: %v", err))
	}
	return t
})

func newReagentTable() (*reagentTable, error) {
	rows, err := data.Reagents()
	if err != nil {
		return nil, err
	}
	t := &reagentTable{index: newNameIndex("reagent")}
	for i, row := range rows {
		r, err := newReagent(row)
		if err == nil {
			err = t.index.add(i, append([]string{row.Name, row.ID}, row.OtherNames...)...)
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", row.ID, err)
		}
		t.all = append(t.all, r)
	}
	return t, nil
}

func newReagent(row data.Reagent) (Reagent, error) {
	f, err := ParseFormula(row.Formula)
	if err != nil {
		return Reagent{}, err
	}
	r := Reagent{
		ID: row.ID, Name: row.Name, Formula: f, Strength: units.MassFraction(row.Percent) * units.Percent,
		Density: units.Density(row.Density), Solution: row.Solution, Dry: -1, Note: row.Note, Source: row.Row,
	}
	if row.Dry != "" {
		if r.Dry, err = Find(row.Dry); err != nil {
			return Reagent{}, err
		}
	}
	for name, n := range row.Enters {
		id, err := Find(name)
		if err != nil {
			return Reagent{}, err
		}
		r.Enters = append(r.Enters, Term{id, n})
	}
	sort.Slice(r.Enters, func(i, j int) bool { return r.Enters[i].Species < r.Enters[j].Species })
	return r, r.checkConserved()
}

// checkConserved makes sure that what enters is what the formula holds.
func (r Reagent) checkConserved() error {
	var charge float64
	count := map[string]float64{}
	for _, t := range r.Enters {
		sp := t.Species.Species()
		charge += t.Nu * float64(sp.Charge)
		for _, symbol := range sp.Formula.Elements() {
			count[symbol] += t.Nu * sp.Formula.Atoms(symbol)
		}
	}
	for _, symbol := range append(r.Formula.Elements(), Symbols()...) {
		if n := count[symbol]; n != r.Formula.Atoms(symbol) {
			return fmt.Errorf("%w: %s enters with %g %s", ErrUnbalanced, r.Formula, n, symbol)
		}
	}
	if charge != 0 {
		return fmt.Errorf("%w: %s enters with charge %g", ErrUnbalanced, r.Formula, charge)
	}
	return nil
}

// Reagents returns the catalogue. Do not change it.
func Reagents() []Reagent { return reagents().all }

// FindReagent returns the reagent of that id ("nitric-acid"), name ("nitric acid", "lye") or formula ("HNO3").
// Error: *UnknownNameError with the near names.
func FindReagent(name string) (Reagent, error) {
	t := reagents()
	row, err := t.index.find(name)
	if err == nil {
		return t.all[row], nil
	}
	if f, bad := ParseFormula(name); bad == nil {
		for _, r := range t.all {
			if r.Formula.String() == f.String() {
				return r, nil
			}
		}
	}
	return Reagent{}, err
}

// AddTo pours mass of the reagent of that strength (mass share of its formula) into the stream. What is not the formula
// counts as water, except with an insoluble reagent such as a metal, where it is left out as inert.
func (r Reagent) AddTo(s *Stream, mass units.Mass, strength units.MassFraction) {
	n := strength.Of(mass).Amount(r.Formula.MolarMass())
	for _, t := range r.Enters {
		s.Mol[t.Species] += float64(n) * t.Nu
	}
	if r.Soluble() {
		rest := mass - strength.Of(mass)
		s.Mol[loaded().water] += float64(rest.Amount(loaded().species[loaded().water].MolarMass))
	}
}

// Soluble tells whether the reagent enters a liquor as dissolved species or water.
func (r Reagent) Soluble() bool {
	for _, t := range r.Enters {
		if !Dissolved(t.Species.Species()) {
			return false
		}
	}
	return true
}

// DensityAt returns the reagent's density at a strength: of a solution from the density table, if it is tabled, else as
// sold. Error: *StrengthError outside the table.
func (r Reagent) DensityAt(strength units.MassFraction) (units.Density, error) {
	if !r.Solution || !isTabled(r.Formula.String()) {
		return r.Density, nil
	}
	return SolutionDensity(r.Formula.String(), strength)
}
