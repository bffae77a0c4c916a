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

// ModelOf makes a lot ready for calculation, as Appraise does: with the equilibrium
// that routes are simulated with. It registers inputs of its own in figs. Errors:
// a figure that cannot be turned into moles.
func ModelOf(l *lot.Lot, figs *input.Figures) (*lot.Model, error) {
	eq, err := speciation()
	if err != nil {
		return nil, err
	}
	return l.ModelWith(figs, eq)
}
