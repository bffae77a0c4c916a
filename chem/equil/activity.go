package equil

import (
	"fmt"
	"math"
)

// activityKind is the family of equations that a set of constants was made for.
type activityKind uint8

const (
	idealActivity activityKind = iota
	daviesActivity
	bdotActivity
)

func parseActivityKind(name string) (activityKind, error) {
	switch name {
	case "ideal":
		return idealActivity, nil
	case "davies":
		return daviesActivity, nil
	case "b-dot":
		return bdotActivity, nil
	}
	return 0, fmt.Errorf("equil: activity model %q: want ideal, davies or b-dot", name)
}

// Limits of the activity equations. Beyond them the coefficients are held, so
// that no search can run away; answers there carry a warning in any case.
const (
	highestIonicStrength = 100.0 // mol/kg
	lowestWaterActivity  = 0.1
	waterActivitySlope   = 0.017 // a_w = 1 - 0.017 sum(m), Garrels and Christ (1965)
	daviesSlope          = 0.3   // Davies (1962)
	daviesNeutral        = 0.1   // log10 g of a neutral species per mol/kg of ionic strength
)

// coefficients are the constants of an activity model at one temperature.
type coefficients struct {
	kind activityKind
	a    float64 // Debye-Hueckel A, log10, (kg/mol)^0.5
	b    float64 // Debye-Hueckel B, per angstrom
	bdot float64 // kg/mol
}

// gammaClass is the charge and ion size that species with one and the same
// activity coefficient share.
type gammaClass struct {
	z2   float64
	size float64 // angstrom
}

// lnGamma gives the natural logarithm of the activity coefficient and its
// slope with ionic strength I, mol/kg:
//
//	Davies  log10 g = -A z^2 ( sqrt(I)/(1+sqrt(I)) - 0.3 I ), neutral 0.1 I
//	B-dot   log10 g = -A z^2 sqrt(I)/(1 + a B sqrt(I)) + bdot I, neutral 0
func (k coefficients) lnGamma(c gammaClass, ionic float64) (value, slope float64) {
	if k.kind == idealActivity {
		return 0, 0
	}
	held := ionic > highestIonicStrength
	if held {
		ionic = highestIonicStrength
	}
	value, slope = k.formula(c, ionic)
	if held {
		slope = 0
	}
	return value * math.Ln10, slope * math.Ln10
}

func (k coefficients) formula(c gammaClass, ionic float64) (value, slope float64) {
	if c.z2 == 0 {
		if k.kind == daviesActivity {
			return daviesNeutral * ionic, daviesNeutral
		}
		return 0, 0
	}
	root := math.Sqrt(ionic)
	width, linear := 1.0, k.a*c.z2*daviesSlope
	if k.kind == bdotActivity {
		width, linear = c.size*k.b, k.bdot
	}
	den := 1 + width*root
	value = -k.a*c.z2*root/den + linear*ionic
	slope = -k.a*c.z2/(2*math.Max(root, 1e-12)*den*den) + linear
	return value, slope
}

// lnWater is the natural logarithm of the activity of water over a solution
// with the given sum of molalities, and its slope with that sum.
func (k coefficients) lnWater(sum float64) (value, slope float64) {
	if k.kind == idealActivity {
		return 0, 0
	}
	activity := 1 - waterActivitySlope*sum
	if !(activity > lowestWaterActivity) {
		return math.Log(lowestWaterActivity), 0
	}
	return math.Log(activity), -waterActivitySlope / activity
}
