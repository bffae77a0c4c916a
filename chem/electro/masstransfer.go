package electro

import (
	"fmt"
	"math"

	"afterpour/chem/units"
)

// Stirring is how the liquor moves past the cathode.
type Stirring string

// The rows of the table of mass transfer.
const (
	Still   Stirring = "still"   // natural convection alone
	Gassing Stirring = "gassing" // gas rising from the anode, or a slow stir
	Stirred Stirring = "stirred" // magnetic stirrer, or air under the cathode
)

// MassTransfer returns the mass-transfer coefficient in m/s of an ion that
// diffuses as the copper ion, at 25 °C, with the range met in practice. ErrUnknown for a stirring without a row.
//
// Sources: natural convection from Wilke, Eisenberg and Tobias (1953), from
// memory; the rest common practice. A range of three either way is its doubt.
func MassTransfer(s Stirring) (value, low, high float64, err error) {
	f, ok := loaded().transfer[string(s)]
	if !ok {
		return 0, 0, 0, fmt.Errorf("stirring %q: %w", s, ErrUnknown)
	}
	return f.value, f.low, f.high, nil
}

// NaturalConvection returns the mass-transfer coefficient in m/s at a vertical
// plate of the height given on which a metal plates from a still liquor.
//
//	k = Sh·D/h,  Sh = 0.67·(Sc·Gr)^¼,  Sc = ν/D,  Gr = g·h³·α·c/ν²
//
// with the diffusion coefficient D in m2/s, kinematic viscosity ν = 1e-6 m2/s,
// and the densification α in L/mol, the relative density that the dissolved
// metal adds (0.16 L/mol for copper sulfate, from memory). It holds while the
// flow is laminar, Sc·Gr below about 1e12. ErrDomain for anything not above 0.
//
// Source: Wilke, Eisenberg and Tobias, J. Electrochem. Soc. 100 (1953) 513, from
// memory; check there.
func NaturalConvection(height units.Length, c units.Concentration, diffusion, densification float64) (float64, error) {
	const name, viscosity, gravity = "NaturalConvection", 1e-6, 9.80665
	if err := demand(name, positive("height", float64(height)), positive("concentration", float64(c)),
		positive("diffusion coefficient", diffusion), positive("densification", densification)); err != nil {
		return 0, err
	}
	h := float64(height)
	grashof := gravity * h * h * h * densification * float64(c) / (viscosity * viscosity)
	return result(name, 0.67*math.Sqrt(math.Sqrt(viscosity/diffusion*grashof))*diffusion/h)
}

// LimitingCurrent returns the most current that a reaction can carry: the rate
// at which its ion reaches the plate.
//
//	I_lim = n·F·k·A·c
//
// with the mass-transfer coefficient k in m/s. It falls in proportion to the
// concentration. Migration is left out, as the liquors carry much acid or salt.
// ErrDomain for n outside 1 to 8, or k, area or concentration below 0.
//
// Source: Bard and Faulkner, 2nd edition, section 1.4.
func LimitingCurrent(n int, k float64, area units.Area, c units.Concentration) (units.Current, error) {
	const name = "LimitingCurrent"
	if err := demand(name, electrons(n), notNegative("mass-transfer coefficient", k),
		notNegative("area", float64(area)), notNegative("concentration", float64(c))); err != nil {
		return 0, err
	}
	i, err := result(name, limiting(float64(n), k, float64(area), float64(c)))
	return units.Current(i), err
}

// limiting is n·F·k·A·c in A, with k in m/s, A in m2 and c in mol/L.
func limiting(n, k, area, c float64) float64 { return n * Faraday * k * area * c * 1000 }

// transferOf scales the coefficient k of copper at 25 °C to another ion and
// temperature: k ∝ D^(2/3) (Lévêque's boundary layer) and exp(−Ea/RT).
func transferOf(k float64, name string, kelvins float64) float64 {
	t := loaded()
	ratio := t.ions[name].diffusion / t.ions["Cu"].diffusion
	return k * math.Cbrt(ratio*ratio) * arrhenius(t.figures["transfer-activation"].value, kelvins)
}

// arrhenius returns exp(−Ea/R·(1/T − 1/298.15 K)) for Ea in kJ/mol.
func arrhenius(kilojoules, kelvins float64) float64 {
	return math.Exp(-kilojoules * 1000 / gasConstant * (1/kelvins - 1/standardKelvins))
}
