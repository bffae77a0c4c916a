package substance

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
)

// ErrUnbalanced says that a reaction does not conserve every element and the charge.
var ErrUnbalanced = errors.New("unbalanced")

// UnbalancedError names what a reaction does not conserve. It is an ErrUnbalanced.
type UnbalancedError struct {
	Text string
	Off  []Imbalance
}

// Imbalance is an element, or "charge", with its sum on either side.
type Imbalance struct {
	What        string
	Left, Right *big.Rat
}

// Error names every element that is off, and the charge.
func (e *UnbalancedError) Error() string {
	words := make([]string, len(e.Off))
	for i, o := range e.Off {
		words[i] = fmt.Sprintf("%s %s on the left, %s on the right", o.What, o.Left.RatString(), o.Right.RatString())
	}
	return fmt.Sprintf("substance: %s is unbalanced: %s", e.Text, strings.Join(words, "; "))
}

// Is makes errors.Is(err, ErrUnbalanced) true.
func (e *UnbalancedError) Is(target error) bool { return target == ErrUnbalanced }

// chargeWord stands for the charge where elements are listed.
const chargeWord = "charge"

// Conserved lists the elements of the equation in order of first appearance, then "charge".
func (eq Equation) Conserved() []string {
	var names []string
	seen := map[string]bool{}
	for _, t := range append(append([]EquationTerm(nil), eq.Left...), eq.Right...) {
		for _, symbol := range t.Formula.Elements() {
			if !seen[symbol] {
				seen[symbol] = true
				names = append(names, symbol)
			}
		}
	}
	return append(names, chargeWord)
}

// Count returns how much of a conserved thing (an element symbol or "charge") one unit of the formula holds, exactly.
func (f Formula) Count(what string) *big.Rat {
	if what == chargeWord {
		return big.NewRat(int64(f.charge), 1)
	}
	return f.ExactAtoms(what)
}

// Check returns nil if the equation conserves every element and the charge, else an *UnbalancedError.
func (eq Equation) Check() error {
	var off []Imbalance
	for _, what := range eq.Conserved() {
		left, right := total(eq.Left, what), total(eq.Right, what)
		if left.Cmp(right) != 0 {
			off = append(off, Imbalance{what, left, right})
		}
	}
	if len(off) == 0 {
		return nil
	}
	return &UnbalancedError{Text: eq.String(), Off: off}
}

func total(terms []EquationTerm, what string) *big.Rat {
	sum := new(big.Rat)
	for _, t := range terms {
		sum.Add(sum, new(big.Rat).Mul(t.Coefficient, t.Formula.Count(what)))
	}
	return sum
}
