package equil

import (
	"math"

	"afterpour/chem/substance"
)

// streamIonicStrength is half the sum of molality times charge squared over
// the dissolved species as they stand, 0 without water.
func streamIonicStrength(s substance.Stream, water float64) float64 {
	if !(water > 0) {
		return 0
	}
	sum := 0.0
	for _, sp := range substance.AllSpecies() {
		if sp.Phase != substance.Aqueous {
			continue
		}
		z := float64(sp.Charge)
		sum += s.Mol[sp.ID] * z * z
	}
	return sum / (2 * water)
}

// strongPH is the pH that free acid or alkali alone gives, taking activity for
// molality and 14 for the ion product of water.
func strongPH(s substance.Stream, water float64) (float64, []string) {
	if !(water > 0) {
		return 7, []string{"no liquid water: the pH has no meaning"}
	}
	acid := s.Mol[substance.MustFind("H^+")] / water
	alkali := s.Mol[substance.MustFind("OH^-")] / water
	switch {
	case acid > 1e-7:
		return -math.Log10(acid), nil
	case alkali > 1e-7:
		return 14 + math.Log10(alkali), nil
	}
	return 7, nil
}
