package stoich

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"strings"

	"afterpour/chem/substance"
)

// What is wrong with the amounts that a yield is asked of.
var (
	ErrAmount      = errors.New("an amount lies between 0 and 1e15 mol")
	ErrNoReactant  = errors.New("no amount of a reactant is given")
	ErrNotReactant = errors.New("it is not a reactant")
	ErrTwice       = errors.New("its amount is given twice")
)

// Yield is what a reaction makes and leaves of stated amounts. The maps are keyed by formula as in the reaction.
type Yield struct {
	Limiting  string             // the reactant that ends it
	ExtentMol float64            // moles of reaction, for the coefficients in Reaction
	MadeG     map[string]float64 // g of each product
	LeftG     map[string]float64 // g of each reactant whose amount was given
	Reaction  string             // balanced
}

// YieldOf runs a reaction to its end. amounts is in mol, keyed by reactant; a reactant without an amount is taken to be
// in excess. A text whose coefficients balance is taken as it stands, any other is balanced first. Electrons have no
// mass and are left out of the maps.
// Errors: of ParseEquation and Balance; ErrAmount, ErrNoReactant, ErrNotReactant, ErrTwice.
func YieldOf(text string, amounts map[string]float64) (Yield, error) {
	eq, err := balancedEquation(text)
	if err != nil {
		return Yield{}, err
	}
	given, err := match(eq, amounts)
	if err != nil {
		return Yield{}, err
	}
	y := Yield{ExtentMol: math.Inf(1), MadeG: map[string]float64{}, LeftG: map[string]float64{}, Reaction: eq.String()}
	for i, n := range given {
		if x := n / coefficient(eq.Left[i]); n >= 0 && x < y.ExtentMol {
			y.ExtentMol, y.Limiting = x, eq.Left[i].Formula.String()
		}
	}
	for _, t := range eq.Right {
		addGrams(y.MadeG, t.Formula, coefficient(t)*y.ExtentMol)
	}
	for i, n := range given {
		if n >= 0 {
			left := n - coefficient(eq.Left[i])*y.ExtentMol
			if eq.Left[i].Formula.String() == y.Limiting {
				left = 0
			}
			addGrams(y.LeftG, eq.Left[i].Formula, math.Max(left, 0))
		}
	}
	return y, nil
}

// balancedEquation reads an equation and balances it unless it is balanced as written.
func balancedEquation(text string) (substance.Equation, error) {
	eq, err := substance.ParseEquation(text)
	if err != nil {
		return eq, err
	}
	if eq.Check() == nil {
		return eq, nil
	}
	b, err := Balance(text)
	return b.Equation, err
}

// mostMol bounds an amount, so that no result overflows.
const mostMol = 1e15

// match assigns the amounts to the terms of the left side; -1 stands for one that is not given.
func match(eq substance.Equation, amounts map[string]float64) ([]float64, error) {
	given := make([]float64, len(eq.Left))
	for i := range given {
		given[i] = -1
	}
	if len(amounts) == 0 {
		return nil, fmt.Errorf("stoich: %w", ErrNoReactant)
	}
	for name, n := range amounts {
		i, err := reactant(eq, name)
		switch {
		case err != nil:
			return nil, err
		case !(n >= 0 && n <= mostMol):
			return nil, fmt.Errorf("stoich: %s: %w", name, ErrAmount)
		case given[i] >= 0:
			return nil, fmt.Errorf("stoich: %s: %w", name, ErrTwice)
		}
		given[i] = n
	}
	return given, nil
}

// reactant finds a name among the terms of the left side; the phase may be left out.
func reactant(eq substance.Equation, name string) (int, error) {
	f, err := substance.ParseFormula(name)
	if err != nil {
		return 0, err
	}
	var known []string
	for i, t := range eq.Left {
		known = append(known, t.Formula.String())
		if t.Formula.String() == f.String() || f.Phase() == substance.Unstated && withoutPhase(t.Formula) == f.String() {
			return i, nil
		}
	}
	return 0, fmt.Errorf("stoich: %s: %w; the reactants are %s", name, ErrNotReactant, strings.Join(known, ", "))
}

func withoutPhase(f substance.Formula) string {
	return strings.TrimSuffix(f.String(), f.Phase().String())
}

func coefficient(t substance.EquationTerm) float64 {
	n, _ := new(big.Rat).Set(t.Coefficient).Float64()
	return n
}

func addGrams(grams map[string]float64, f substance.Formula, mol float64) {
	if !f.IsElectron() {
		grams[f.String()] += mol * float64(f.MolarMass())
	}
}
