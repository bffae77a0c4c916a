package substance

import (
	"math/big"
	"strings"
)

// Equation is a reaction as written, of any formulas, balanced or not.
type Equation struct{ Left, Right []EquationTerm }

// EquationTerm is a formula with the coefficient written before it (1 if none).
type EquationTerm struct {
	Coefficient *big.Rat
	Formula     Formula
}

// mostTerms bounds each side of an equation.
const mostTerms = 30

// ParseEquation reads terms joined by + on both sides of an arrow (->, → or =; ⇌ too). A coefficient is a whole number, a
// decimal or a fraction before the formula. Errors: *SyntaxError with the character.
func ParseEquation(text string) (Equation, error) {
	s, err := newScanner(strings.TrimSpace(text))
	if err != nil {
		return Equation{}, err
	}
	var eq Equation
	if eq.Left, err = s.side(); err != nil {
		return Equation{}, err
	}
	width := s.arrowWidth(0)
	if width == 0 {
		return Equation{}, s.fail("+ and a further substance, or the arrow ->", "")
	}
	s.at += width
	if eq.Right, err = s.side(); err != nil {
		return Equation{}, err
	}
	if s.peek(0) != end {
		return Equation{}, s.fail("+ and a further substance, or the end", "")
	}
	return eq, nil
}

// side reads the terms before or after the arrow.
func (s *scanner) side() ([]EquationTerm, error) {
	var terms []EquationTerm
	for {
		s.skipSpaces()
		if len(terms) == mostTerms {
			return nil, s.fail("at most 30 substances on a side", "")
		}
		t, err := s.term()
		if err != nil {
			return nil, err
		}
		terms = append(terms, t)
		s.skipSpaces()
		if s.peek(0) != '+' {
			return terms, nil
		}
		s.at++
	}
}

func (s *scanner) term() (EquationTerm, error) {
	n, err := s.multiplier()
	if err != nil {
		return EquationTerm{}, err
	}
	s.skipSpaces()
	f, err := s.formula()
	return EquationTerm{n, f}, err
}

// String returns the canonical form: "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag".
func (eq Equation) String() string { return sideText(eq.Left) + " -> " + sideText(eq.Right) }

func sideText(terms []EquationTerm) string {
	words := make([]string, len(terms))
	for i, t := range terms {
		words[i] = t.Formula.String()
		if n := ratText(t.Coefficient); n != "" {
			words[i] = n + " " + words[i]
		}
	}
	return strings.Join(words, " + ")
}
