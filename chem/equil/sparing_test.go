package equil

import (
	"math"
	"testing"

	"afterpour/chem/substance"
)

// TestLeadChloride: below its solubility it stays in solution or goes back into
// it, above that the rest stands; hot water takes three times as much.
func TestLeadChloride(t *testing.T) {
	molarMass := float64(substance.MustFind("PbCl2(s)").Species().MolarMass)
	for celsius, gramsPer100 := range map[float64]float64{20: 1.0, 100: 3.2} {
		s := streamOf(t, celsius, map[string]float64{"H2O(l)": 1 / waterMolarMass, "PbCl2(s)": 0.2})
		before := s.Clone()
		if _, err := (Limiting{}).Equilibrate(&s); err != nil {
			t.Fatal(err)
		}
		checkConserved(t, before, s)
		if got, want := molOf(t, s, "Pb^2+"), gramsPer100*10/molarMass; !near(got, want, 1e-4) {
			t.Errorf("at %g degC water takes %.5f mol/kg, want %.5f", celsius, got, want)
		}
	}
	weak := streamOf(t, 20, map[string]float64{"H2O(l)": 1 / waterMolarMass, "Pb^2+": 0.01, "Cl^-": 0.02})
	if _, err := (Limiting{}).Equilibrate(&weak); err != nil || molOf(t, weak, "PbCl2(s)") > 0 {
		t.Errorf("0.01 mol/kg comes down: %g mol, %v", molOf(t, weak, "PbCl2(s)"), err)
	}
	salted := streamOf(t, 20, map[string]float64{"H2O(l)": 1 / waterMolarMass, "Pb^2+": 0.01, "Cl^-": 0.5, "Na^+": 0.48})
	if _, err := (Limiting{}).Equilibrate(&salted); err != nil || !(molOf(t, salted, "PbCl2(s)") > 0.005) {
		t.Errorf("half a mol of chloride leaves %g mol/kg lead, %v", molOf(t, salted, "Pb^2+"), err)
	}
}

func TestLeadSulfate(t *testing.T) {
	s := streamOf(t, 25, map[string]float64{"H2O(l)": 1 / waterMolarMass, "PbSO4(s)": 0.1})
	if _, err := (Limiting{}).Equilibrate(&s); err != nil {
		t.Fatal(err)
	}
	if got, want := molOf(t, s, "Pb^2+"), math.Sqrt(math.Pow(10, -7.79)); !near(got, want, 1e-3) {
		t.Errorf("lead %g mol/kg, want %g", got, want)
	}
}

func TestLogInterpolate(t *testing.T) {
	xs, ys := []float64{0, 10, 30}, []float64{1, 10, 1000}
	for x, want := range map[float64]float64{-5: 1, 0: 1, 5: math.Sqrt(10), 10: 10, 20: 100, 30: 1000, 99: 1000} {
		if got := logInterpolate(xs, ys, x); !near(got, want, 1e-12) {
			t.Errorf("logInterpolate(%g) = %g, want %g", x, got, want)
		}
	}
}
