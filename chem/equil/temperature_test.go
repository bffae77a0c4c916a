package equil

import (
	"fmt"
	"testing"
)

func ExampleSet_Components() {
	set, err := LoadSet(LLNLBdot)
	if err != nil {
		panic(err)
	}
	fmt.Println(set.Components())
	// Output: [H Na K Ag Cu Zn Ni Pb Fe Cl NO3 SO4 NH3]
}

// TestVantHoff: the ion product of water by its enthalpy alone, against the
// table of OpenStax, Chemistry 2e, appendix E. A constant enthalpy is good to
// 0.07 up to 60 degC.
func TestVantHoff(t *testing.T) {
	for celsius, want := range map[float64]float64{0: -14.95, 10: -14.54, 25: -14.00, 40: -13.55, 60: -13.03} {
		got := vantHoff(-13.997, 55.81, celsius+zeroCelsius)
		if d := got - want; d > 0.07 || d < -0.07 {
			t.Errorf("log Kw at %g degC = %.3f, want %.2f", celsius, got, want)
		}
	}
	if got := vantHoff(-9.75, 0, 350); !near(got, -9.75, 1e-15) {
		t.Errorf("without an enthalpy the constant changes to %g", got)
	}
}

// TestPolynomial: silver chloride by the five-term law of llnl, against log Ksp
// computed from it in the reference tables.
func TestPolynomial(t *testing.T) {
	a := [5]float64{-96.834, -0.034624, -1182, 40.962, -18.415}
	for celsius, want := range map[float64]float64{10: -10.373, 25: -9.764, 60: -8.5847, 100: -7.5722} {
		if got := polynomial(a, celsius+zeroCelsius); got-want > 1e-3 || want-got > 1e-3 {
			t.Errorf("log Ksp at %g degC = %.4f, want %.4f", celsius, got, want)
		}
	}
}
