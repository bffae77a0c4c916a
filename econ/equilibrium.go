package econ

import (
	"sync"

	"afterpour/chem/equil"
	"afterpour/chem/input"
	"afterpour/chem/lot"
)

// speciation is the equilibrium of the lot, the same that routes are simulated
// with.
var speciation = sync.OnceValues(func() (*equil.Speciation, error) { return equil.NewSpeciation("default") })

// modelOf makes a lot ready for calculation.
func modelOf(l *lot.Lot, figs *input.Figures) (*lot.Model, error) {
	eq, err := speciation()
	if err != nil {
		return nil, err
	}
	return l.ModelWith(figs, eq)
}
