package substance

import (
	"fmt"
	"math/big"
)

// tally counts atoms while a formula is read, exactly and in order of first appearance.
type tally struct {
	order []Element
	count map[string]*big.Rat
}

func newTally() *tally { return &tally{count: map[string]*big.Rat{}} }

func (t *tally) add(e Element, n *big.Rat) {
	if t.count[e.Symbol] == nil {
		t.order = append(t.order, e)
		t.count[e.Symbol] = new(big.Rat)
	}
	t.count[e.Symbol].Add(t.count[e.Symbol], n)
}

func (t *tally) addAll(other *tally, times *big.Rat) {
	for _, e := range other.order {
		t.add(e, new(big.Rat).Mul(other.count[e.Symbol], times))
	}
}

func (t *tally) atoms() ([]atom, error) {
	atoms := make([]atom, len(t.order))
	for i, e := range t.order {
		exact := t.count[e.Symbol]
		n, _ := exact.Float64()
		if n > mostAtoms {
			return nil, fmt.Errorf("substance: more than %d atoms of %s in one formula unit", mostAtoms, e.Symbol)
		}
		atoms[i] = atom{symbol: e.Symbol, count: n, exact: exact, weight: e.Weight}
	}
	return atoms, nil
}
