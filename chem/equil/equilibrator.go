package equil

import "afterpour/chem/substance"

// Equilibrator moves a stream's dissolved totals and solids to equilibrium at
// the stream's temperature.
//
// Elements and charge are conserved; an error leaves the stream as it was.
type Equilibrator interface {
	Equilibrate(s *substance.Stream) (Outcome, error)
}

// Outcome says how a stream was brought to equilibrium and how far to trust it.
type Outcome struct {
	Method        string   // "limiting reactions", or the set of constants used
	Converged     bool     // false only together with an error
	PH            float64  // -log10 of the hydrogen-ion activity; see Warnings where it has no meaning
	IonicStrength float64  // mol per kg water
	Residual      float64  // largest balance error left, relative to its total
	Iterations    int      // Newton steps taken
	Warnings      []string // ranges left, substances passed by, disagreements
	Sources       []string // where the constants come from

	// Spread is the model doubt: for each metal, the dissolved amount by every
	// set of constants that can answer. Empty for Limiting.
	Spread []MetalSpread
}

// MetalSpread is how far the sets of constants disagree on one metal.
type MetalSpread struct {
	Metal     string             // symbol
	Dissolved map[string]float64 // set -> mol dissolved
	Factor    float64            // largest over smallest, at least 1
}
