package equil

import (
	"fmt"
	"math"
)

// MolarSolubility is the mol/L of a salt that dissolves in pure water, from its
// solubility product alone (activities taken as concentrations, no complexes):
//
//	s = (Ksp / (m^m n^n))^(1/(m+n))   for m cations and n anions a formula.
//
// An error is for a product or counts that are not positive. Source: OpenStax,
// Chemistry 2e, section 15.1.
func MolarSolubility(ksp float64, cations, anions int) (float64, error) {
	if !(ksp > 0) || math.IsInf(ksp, 0) || cations < 1 || anions < 1 || cations > 20 || anions > 20 {
		return 0, fmt.Errorf("equil: solubility product %g of %d cations and %d anions", ksp, cations, anions)
	}
	m, n := float64(cations), float64(anions)
	return math.Exp((math.Log(ksp) - m*math.Log(m) - n*math.Log(n)) / (m + n)), nil
}

// SolubilityProduct is the inverse of MolarSolubility: Ksp = m^m n^n s^(m+n)
// from a solubility in mol/L.
func SolubilityProduct(solubility float64, cations, anions int) (float64, error) {
	if !(solubility > 0) || math.IsInf(solubility, 0) || cations < 1 || anions < 1 || cations > 20 || anions > 20 {
		return 0, fmt.Errorf("equil: solubility %g of %d cations and %d anions", solubility, cations, anions)
	}
	m, n := float64(cations), float64(anions)
	return math.Exp(m*math.Log(m) + n*math.Log(n) + (m+n)*math.Log(solubility)), nil
}
