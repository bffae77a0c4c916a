package stoich

import (
	"math"

	"afterpour/chem/substance"
)

// Extent returns how far the reaction can go in the stream, in mol, and the reactant that ends it. Reactants are the
// terms with a negative stoichiometric number. Where a reactant is missing the extent is 0. A reaction without
// reactants has extent 0 and no limiting species (-1).
func Extent(s substance.Stream, r substance.Reaction) (extent float64, limiting substance.SpeciesID) {
	extent, limiting = math.Inf(1), -1
	for _, t := range r.Terms {
		if t.Nu < 0 {
			if x := math.Max(s.Mol[t.Species], 0) / -t.Nu; x < extent {
				extent, limiting = x, t.Species
			}
		}
	}
	if limiting < 0 {
		return 0, limiting
	}
	return extent, limiting
}

// Run moves the stream along the reaction by extent mol: each species gains its stoichiometric number times extent.
// A remainder of the limiting reactant below rounding is set to 0, so that it never turns negative.
func Run(s *substance.Stream, r substance.Reaction, extent float64) {
	for _, t := range r.Terms {
		before := s.Mol[t.Species]
		after := before + t.Nu*extent
		if t.Nu < 0 && math.Abs(after) < rounding*math.Abs(before) {
			after = 0
		}
		s.Mol[t.Species] = after
	}
}

// rounding is the relative remainder that counts as none.
const rounding = 1e-14
