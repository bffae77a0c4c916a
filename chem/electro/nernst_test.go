package electro

import (
	"testing"

	"afterpour/chem/units"
)

func TestNernstShiftsByDecades(t *testing.T) {
	for n := 1; n <= 3; n++ {
		a := must[units.Potential](t)(Nernst(0.5, n, 1, units.Celsius(25)))
		b := must[units.Potential](t)(Nernst(0.5, n, 10, units.Celsius(25)))
		near(t, "standard", float64(a), 0.5, 1e-12)
		near(t, "decade", float64(a-b), 0.05916/float64(n), 5e-6) // 59.16 mV, OpenStax section 17.4 (0.0592)
	}
}
