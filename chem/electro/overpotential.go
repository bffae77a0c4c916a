package electro

import (
	"fmt"
	"math"

	"afterpour/chem/units"
)

// Tafel is the overpotential of a slow reaction as a straight line in the
// logarithm of the current density: At100 is the overpotential at 100 A/m2,
// Slope the rise in volts per decade.
type Tafel struct {
	At100, Slope units.Potential
	Provenance
}

// Overpotential returns how far the electrode must be driven beyond its
// reversible potential to carry the current density given in A/m2, a positive
// number for either direction.
//
//	η = η100 + b·log10(j/100 A/m2), not below 0
//
// It holds for current densities between about 1 and 5000 A/m2. ErrDomain for a
// density below 0; none gives 0.
//
// Source: Tafel's law, Bard and Faulkner, section 3.3; the coefficients name theirs.
func (t Tafel) Overpotential(ampsPerM2 float64) (units.Potential, error) {
	const name = "Tafel.Overpotential"
	if err := demand(name, notNegative("current density", ampsPerM2)); err != nil {
		return 0, err
	}
	if ampsPerM2 == 0 {
		return 0, nil
	}
	v, err := result(name, max(0, float64(t.At100)+float64(t.Slope)*math.Log10(ampsPerM2/100)))
	return units.Potential(v), err
}

// density returns the current density in A/m2 at the overpotential in volts.
func (t Tafel) density(overpotential float64) float64 {
	return 100 * math.Exp(math.Ln10*(overpotential-float64(t.At100))/float64(t.Slope))
}

// Gas returns the Tafel line of a gas on an electrode: "hydrogen-Cu",
// "hydrogen-Ag", and "oxygen-" or "chlorine-" with an anode material (see
// AnodeMaterials). ErrUnknown for any other.
func Gas(id string) (Tafel, error) {
	t, ok := loaded().gases[id]
	if !ok {
		return Tafel{}, fmt.Errorf("gas evolution %q: %w", id, ErrUnknown)
	}
	return t, nil
}

// AnodeMaterials returns the inert anodes that have rows.
func AnodeMaterials() []string { return []string{"graphite", "mixed-oxide", "platinum", "lead"} }

// activation returns the overpotential in volts of metal deposition,
// η = 2·(RT/F)·asinh(j/2j0), for one electron in the slow step and a transfer
// coefficient of one half (Bard and Faulkner, 2nd edition, eq. 3.4.11 inverted).
func activation(density, exchange, kelvins float64) float64 {
	return 2 * thermalVolt(kelvins) * math.Asinh(density/(2*exchange))
}

// ConcentrationOverpotential returns by how much the potential of a metal
// electrode falls because the liquor at its face is poorer than the bulk.
//
//	η = −(R·T/n·F)·ln(1 − I/I_lim)
//
// It grows without bound as the current nears the limiting current. ErrDomain
// for a current outside 0 to below the limit, or arguments outside their range.
//
// Source: Bard and Faulkner, 2nd edition, section 1.4.
func ConcentrationOverpotential(i, limit units.Current, n int, t units.Temperature) (units.Potential, error) {
	const name = "ConcentrationOverpotential"
	if err := demand(name, notNegative("current", float64(i)), positive("limiting current", float64(limit)),
		electrons(n), positive("temperature", float64(t)),
		argument{name: "current", value: float64(i), valid: i < limit, want: "below the limiting current"}); err != nil {
		return 0, err
	}
	v, err := result(name, -thermalVolt(float64(t))/float64(n)*math.Log1p(-float64(i/limit)))
	return units.Potential(v), err
}
