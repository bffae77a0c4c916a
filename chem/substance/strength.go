package substance

import (
	"fmt"
	"math"
	"sync"

	"afterpour/chem/data"
	"afterpour/chem/units"
)

// StrengthError says that a strength lies outside the density table of its solute.
type StrengthError struct {
	Solute    string  // formula
	Asked     float64 // in Unit
	Low, High float64
	Unit      string // "%" or "mol/L"
}

// Error says what the table spans.
func (e *StrengthError) Error() string {
	return fmt.Sprintf("substance: %s of %.4g %s is outside the density table, which runs from %.4g to %.4g %s",
		e.Solute, e.Asked, e.Unit, e.Low, e.High, e.Unit)
}

// solution is the density table of one solute at 20 degC, from pure water on.
type solution struct {
	formula Formula
	share   []float64 // mass share, rising from 0
	density []float64 // kg/L
	rows    []data.Density
}

type solutionTable struct {
	all   []*solution
	index *nameIndex
}

var solutions = sync.OnceValue(func() *solutionTable {
	t, err := newSolutionTable()
	if err != nil {
		panic(fmt.Sprintf("substance: the density table is wrong: %v", err))
	}
	return t
})

func newSolutionTable() (*solutionTable, error) {
	names, err := data.Solutes()
	if err != nil {
		return nil, err
	}
	rows, err := data.Densities()
	if err != nil {
		return nil, err
	}
	t := &solutionTable{index: newNameIndex("solute")}
	for i, n := range names {
		f, err := ParseFormula(n.Formula)
		if err == nil {
			err = t.index.add(i, append([]string{f.String(), n.Name}, n.OtherNames...)...)
		}
		if err != nil {
			return nil, err
		}
		t.all = append(t.all, newSolution(f, rows))
	}
	return t, t.check(len(rows))
}

func newSolution(f Formula, rows []data.Density) *solution {
	s := &solution{formula: f, share: []float64{0}, density: []float64{float64(WaterDensity(units.Celsius(20)))}}
	for _, r := range rows {
		if r.Solute == f.String() {
			s.share = append(s.share, r.Percent/100)
			s.density = append(s.density, r.Density)
			s.rows = append(s.rows, r)
		}
	}
	return s
}

// check makes sure that every row found its solute and that strength rises.
func (t *solutionTable) check(rows int) error {
	for _, s := range t.all {
		rows -= len(s.rows)
		for i := 1; i < len(s.share); i++ {
			if !(s.share[i] > s.share[i-1] && s.molarity(s.share[i]) > s.molarity(s.share[i-1])) {
				return fmt.Errorf("%s at %g: strength does not rise", s.formula, s.share[i])
			}
		}
		if len(s.rows) == 0 {
			return fmt.Errorf("%s has no rows", s.formula)
		}
	}
	if rows != 0 {
		return fmt.Errorf("%d rows have no named solute", rows)
	}
	return nil
}

func (s *solution) most() float64 { return s.share[len(s.share)-1] }

func (s *solution) densityAt(w float64) float64 { return curve{s.share, s.density}.at(w) }

// molarity is c = w ρ/M in mol/L, with ρ in kg/L and M in g/mol.
func (s *solution) molarity(w float64) float64 {
	return gramsPerKilogram * w * s.densityAt(w) / float64(s.formula.MolarMass())
}

func findSolution(solute string) (*solution, error) {
	row, err := solutions().index.find(solute)
	if err == nil {
		return solutions().all[row], nil
	}
	if f, bad := ParseFormula(solute); bad == nil {
		for _, s := range solutions().all {
			if s.formula.String() == f.withPhase(Unstated).String() {
				return s, nil
			}
		}
	}
	return nil, err
}

func isTabled(solute string) bool {
	_, err := findSolution(solute)
	return err == nil
}

// inTable checks a mass share and finds its solute.
func inTable(solute string, w units.MassFraction) (*solution, error) {
	s, err := findSolution(solute)
	if err != nil {
		return nil, err
	}
	if !(w >= 0 && float64(w) <= s.most()+1e-12) {
		return nil, &StrengthError{s.formula.String(), w.Percent(), 0, 100 * s.most(), "%"}
	}
	return s, nil
}

// SolutionDensity returns the density at 20 degC of a solution of the mass share w, linear between the rows of the
// density table (which begin with pure water). solute is a formula ("HNO3") or a name ("nitric acid").
// Errors: *UnknownNameError, *StrengthError.
func SolutionDensity(solute string, w units.MassFraction) (units.Density, error) {
	s, err := inTable(solute, w)
	if err != nil {
		return 0, err
	}
	return units.Density(s.densityAt(float64(w))), nil
}

// MolarityOf returns the amount concentration at 20 degC of a solution of the mass share w: c = w ρ/M.
// Errors: *UnknownNameError, *StrengthError.
func MolarityOf(solute string, w units.MassFraction) (units.Concentration, error) {
	s, err := inTable(solute, w)
	if err != nil {
		return 0, err
	}
	return units.Concentration(s.molarity(float64(w))), nil
}

// FractionOf returns the mass share at which a solution has the amount concentration c at 20 degC: the inverse of
// MolarityOf. Errors: *UnknownNameError, *StrengthError.
func FractionOf(solute string, c units.Concentration) (units.MassFraction, error) {
	s, err := findSolution(solute)
	if err != nil {
		return 0, err
	}
	top := s.molarity(s.most())
	if !(c >= 0 && float64(c) <= top*(1+1e-12)) {
		return 0, &StrengthError{s.formula.String(), float64(c), 0, top, "mol/L"}
	}
	return units.MassFraction(s.fraction(float64(c))), nil
}

// fraction inverts c = w ρ(w)/M, which is a quadratic between two rows; halving the interval 60 times is exact enough.
func (s *solution) fraction(c float64) float64 {
	low, high := 0.0, s.most()
	for range 60 {
		middle := low + (high-low)/2
		if s.molarity(middle) < c {
			low = middle
		} else {
			high = middle
		}
	}
	return math.Min(low+(high-low)/2, s.most())
}

// SoluteMolarMass returns the formula and molar mass of a tabled solute. Error: *UnknownNameError.
func SoluteMolarMass(solute string) (Formula, units.MolarMass, error) {
	s, err := findSolution(solute)
	if err != nil {
		return Formula{}, 0, err
	}
	return s.formula, s.formula.MolarMass(), nil
}
