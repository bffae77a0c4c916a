package equil

import (
	"slices"
	"testing"
)

func TestSpread(t *testing.T) {
	sp, err := mustSpeciation(t, DefaultSet).WithSpread()
	if err != nil {
		t.Fatal(err)
	}
	s := streamOf(t, 25, map[string]float64{"H2O(l)": 1 / waterMolarMass, "Ag^+": 0.01, "NO3^-": 0.01, "H^+": 4, "Cl^-": 4})
	outcome, err := sp.Equilibrate(&s)
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(outcome.Spread, func(m MetalSpread) bool { return m.Metal == "Ag" })
	if i < 0 {
		t.Fatalf("no spread for silver in %+v", outcome.Spread)
	}
	silver := outcome.Spread[i]
	// 4 mol/kg acid: 3.4e-4 by Davies, 2.2e-3 by llnl, 9.7e-4 by Thermoddem.
	if len(silver.Dissolved) != 4 || !(silver.Factor > 5 && silver.Factor < 8) {
		t.Errorf("silver in 4 mol/kg acid: %+v, want four sets and a factor near 6", silver)
	}
	if got := silver.Dissolved[DefaultSet]; !near(got, molOf(t, s, "Ag^+"), 1e-6) {
		t.Errorf("the spread holds %g, the stream %g", got, molOf(t, s, "Ag^+"))
	}
}

// TestSpreadLeavesOut: a set that lacks the standing solid is not asked.
func TestSpreadLeavesOut(t *testing.T) {
	sp, err := mustSpeciation(t, DefaultSet).WithSpread()
	if err != nil {
		t.Fatal(err)
	}
	s := streamOf(t, 25, map[string]float64{"H2O(l)": 55, "AgCl(s)": 0.1, "Na^+": 1, "OH^-": 1})
	outcome, err := sp.Equilibrate(&s)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range outcome.Spread {
		if _, ok := m.Dissolved[LLNLBdot]; ok {
			t.Errorf("llnl has no silver oxide and yet answers: %+v", m)
		}
		if len(m.Dissolved) != 3 || m.Factor < 1 {
			t.Errorf("spread %+v, want three sets", m)
		}
	}
}

func TestDocumentedDoubt(t *testing.T) {
	last := 1.0
	for _, ionic := range []float64{0, 0.05, 0.1, 0.5, 3, 4, 20} {
		d := DocumentedDoubt(ionic)
		if d < last {
			t.Errorf("the doubt falls to %g at %g mol/kg", d, ionic)
		}
		last = d
	}
}
