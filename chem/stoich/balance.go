package stoich

import (
	"errors"
	"fmt"
	"math/big"
	"strings"

	"afterpour/chem/substance"
)

// Why a reaction cannot be balanced.
var (
	ErrNoSolution    = errors.New("no solution")
	ErrManySolutions = errors.New("more than one independent solution")
	ErrTooLarge      = errors.New("a coefficient is too large")
)

// Balanced is a reaction with the smallest positive whole coefficients, in the order as written: left, then right.
type Balanced struct {
	Coefficients []int64
	Text         string // "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag"
	Equation     substance.Equation
}

// Balance finds the smallest positive whole coefficients that conserve every element and the charge. Coefficients in
// the text are ignored; any formula will do, not only registry species, and e^- is an electron. The arithmetic is exact:
// the null space of the matrix of elements and charge, in fractions. Errors: a text that does not parse; ErrNoSolution
// if none exists with every substance on its side of the arrow; ErrManySolutions if the substances react in more than
// one independent way; ErrTooLarge beyond the range of int64.
func Balance(text string) (Balanced, error) {
	eq, err := substance.ParseEquation(text)
	if err != nil {
		return Balanced{}, err
	}
	basis := nullSpace(conservation(eq))
	switch len(basis) {
	case 0:
		return Balanced{}, fmt.Errorf("stoich: %w balances %s: %s", ErrNoSolution, text, whyNone(eq))
	case 1:
		return finish(eq, basis[0])
	}
	return Balanced{}, fmt.Errorf("stoich: %w for %s: %d independent reactions are mixed in it; write them one by one",
		ErrManySolutions, text, len(basis))
}

// conservation returns a row for each element and the charge: left counts positive, right negative.
func conservation(eq substance.Equation) [][]*big.Rat {
	var matrix [][]*big.Rat
	for _, what := range eq.Conserved() {
		var row []*big.Rat
		for _, t := range eq.Left {
			row = append(row, t.Formula.Count(what))
		}
		for _, t := range eq.Right {
			n := t.Formula.Count(what)
			row = append(row, n.Neg(n))
		}
		matrix = append(matrix, row)
	}
	return matrix
}

// whyNone names an element that stands on one side only, if there is one.
func whyNone(eq substance.Equation) string {
	for _, what := range eq.Conserved() {
		left, right := holds(eq.Left, what), holds(eq.Right, what)
		if left != right && what != "charge" {
			side := map[bool]string{true: "left", false: "right"}[left]
			return fmt.Sprintf("%s stands on the %s only", what, side)
		}
	}
	return "elements and charge cannot all be conserved"
}

func holds(terms []substance.EquationTerm, what string) bool {
	for _, t := range terms {
		if t.Formula.Count(what).Sign() != 0 {
			return true
		}
	}
	return false
}

// finish turns a null vector into the balanced equation.
func finish(eq substance.Equation, vector []*big.Rat) (Balanced, error) {
	whole := smallest(vector)
	b := Balanced{Equation: eq, Coefficients: make([]int64, len(whole))}
	for i, n := range whole {
		name := term(eq, i).Formula.String()
		switch {
		case n.Sign() == 0:
			return Balanced{}, fmt.Errorf("stoich: %w with %s in it: it takes no part", ErrNoSolution, name)
		case n.Sign() < 0:
			return Balanced{}, fmt.Errorf("stoich: %w: %s stands on the wrong side of the arrow", ErrNoSolution,
				strings.Join(misplaced(eq, whole), ", "))
		case !n.IsInt64():
			return Balanced{}, fmt.Errorf("stoich: %w: that of %s is %s", ErrTooLarge, name, n)
		}
		b.Coefficients[i] = n.Int64()
		term(eq, i).Coefficient = new(big.Rat).SetInt(n)
	}
	b.Text = eq.String()
	return b, nil
}

// term returns the i-th term, counted from the left across the arrow.
func term(eq substance.Equation, i int) *substance.EquationTerm {
	if i < len(eq.Left) {
		return &eq.Left[i]
	}
	return &eq.Right[i-len(eq.Left)]
}

// misplaced lists the substances whose coefficient has the sign of the smaller party.
func misplaced(eq substance.Equation, whole []*big.Int) []string {
	var negative, positive []string
	for i, n := range whole {
		if n.Sign() < 0 {
			negative = append(negative, term(eq, i).Formula.String())
		} else if n.Sign() > 0 {
			positive = append(positive, term(eq, i).Formula.String())
		}
	}
	if len(positive) > 0 && len(positive) < len(negative) {
		return positive
	}
	return negative
}
