package electro

import (
	"testing"

	"afterpour/chem/units"
)

// The limiting current of industrial copper liquor (40 g/L) in natural
// convection is known to lie well above the 200 to 350 A/m2 at which plants run
// (practice row cu_ew_j) and below 2000 A/m2.
func TestLimitingCurrentOfPlants(t *testing.T) {
	k := must[float64](t)(NaturalConvection(1*units.Metre, 40/63.546, 0.714e-9, 0.16))
	i := must[units.Current](t)(LimitingCurrent(2, k, 1, 40/63.546))
	if i < 350 || i > 2000 {
		t.Errorf("limiting current %.0f A/m2", i)
	}
	// The row for a still liquor covers what the correlation gives on a bench plate.
	value, low, high, err := MassTransfer(Still)
	if err != nil || !(low < value && value < high) {
		t.Fatal(low, value, high, err)
	}
	for _, c := range []units.Concentration{0.02, 0.1, 0.5, 1} {
		k := must[float64](t)(NaturalConvection(10*units.Centimetre, c, 0.714e-9, 0.16))
		if k < low || k > high {
			t.Errorf("%g mol/L: k = %.2g m/s, outside %g to %g", c, k, low, high)
		}
	}
}
