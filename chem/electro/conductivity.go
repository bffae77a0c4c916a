package electro

import (
	"fmt"
	"math"

	"afterpour/chem/units"
)

// IonConcentration is how much of an ion a liquor holds. Ions of the table: H,
// OH, Na, K, NH4, NO3, Cl, SO4, HSO4, Fe2, Fe3 and the symbols of the metals
// Ag, Cu, Zn, Ni, Pb, Cd, Co, Hg, Pd and Sn.
type IonConcentration struct {
	Ion           string
	Concentration units.Concentration
}

// Conductivity returns the conductivity of a liquor in S/m.
//
//	κ = Σ λ°·c / (1 + a·√I) · (1 + 0.02 K⁻¹·(T − 25 °C)),  I = ½ Σ z²·c
//
// with molar conductivities λ° at infinite dilution and a = 0.4 (L/mol)^½. It is
// within 5 % for potassium chloride to 1 mol/L; liquors of divalent sulfates
// pair and conduct up to 2.5 times less than it says. ErrUnknown for an ion that
// has no row, ErrDomain for a negative concentration or a temperature outside
// 0 to 100 °C.
//
// Sources: Kohlrausch's law of independent migration; λ° from the CRC Handbook
// (from memory); the divisor is an assumption; 2 % a kelvin is common practice.
func Conductivity(t units.Temperature, ions ...IonConcentration) (float64, error) {
	const name = "Conductivity"
	if err := demand(name, liquid("temperature", float64(t))); err != nil {
		return 0, err
	}
	var sum, strength float64
	for _, i := range ions {
		row, ok := loaded().ions[i.Ion]
		if !ok {
			return 0, fmt.Errorf("ion %q: %w", i.Ion, ErrUnknown)
		}
		if err := demand(name, notNegative("concentration of "+i.Ion, float64(i.Concentration))); err != nil {
			return 0, err
		}
		c := float64(i.Concentration)
		sum += row.conductivity * c * 1000 // mol/L to mol/m3
		strength += row.charge * row.charge * c / 2
	}
	return result(name, conductivity(sum, strength, float64(t), loaded().figures["conductivity-root"].value))
}

// conductivity divides the limiting conductivity in S/m for the ionic strength
// in mol/L, with the divisor's coefficient root, and warms it from 25 °C.
func conductivity(limiting, strength, kelvins, root float64) float64 {
	return limiting / (1 + root*math.Sqrt(strength)) * max(0.2, 1+0.02*(kelvins-standardKelvins))
}

// OhmicDrop returns the voltage that a liquor takes between two plates.
//
//	U = I·d/(κ·A)
//
// with the gap d and the conductivity κ in S/m; A is the area through which the
// current passes. Fringes and gas bubbles are left out (bubbles add some 10 to
// 20 %, common practice). ErrDomain for a current or gap below 0, or an area or
// conductivity not above 0.
func OhmicDrop(i units.Current, gap units.Length, area units.Area, conductivity float64) (units.Potential, error) {
	const name = "OhmicDrop"
	if err := demand(name, notNegative("current", float64(i)), notNegative("gap", float64(gap)),
		positive("area", float64(area)), positive("conductivity", conductivity)); err != nil {
		return 0, err
	}
	u, err := result(name, float64(i)*float64(gap)/(conductivity*float64(area)))
	return units.Potential(u), err
}
