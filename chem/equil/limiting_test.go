package equil

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestLimitingReactions(t *testing.T) {
	tests := map[string]struct {
		start, want map[string]float64
	}{
		"neutralisation": {
			map[string]float64{"H2O(l)": 50, "H^+": 0.3, "OH^-": 0.2, "Na^+": 0.2, "Cl^-": 0.3},
			map[string]float64{"H^+": 0.1, "OH^-": 0, "H2O(l)": 50.2},
		},
		"soda in acid": {
			map[string]float64{"H2O(l)": 50, "H^+": 0.3, "CO3^2-": 0.1, "Na^+": 0.2, "NO3^-": 0.3},
			map[string]float64{"H^+": 0.1, "CO3^2-": 0, "HCO3^-": 0, "CO2(g)": 0.1},
		},
		"soda with little acid": {
			map[string]float64{"H2O(l)": 50, "H^+": 0.15, "CO3^2-": 0.1, "Na^+": 0.2, "NO3^-": 0.15},
			map[string]float64{"HCO3^-": 0.05, "CO2(g)": 0.05, "H^+": 0},
		},
		"salting out silver": {
			map[string]float64{"H2O(l)": 50, "Ag^+": 0.1, "NO3^-": 0.1, "Na^+": 0.12, "Cl^-": 0.12},
			map[string]float64{"AgCl(s)": 0.1, "Ag^+": 0, "Cl^-": 0.02},
		},
		"too little chloride": {
			map[string]float64{"H2O(l)": 50, "Ag^+": 0.1, "NO3^-": 0.1, "Na^+": 0.03, "Cl^-": 0.03},
			map[string]float64{"AgCl(s)": 0.03, "Ag^+": 0.07, "Cl^-": 0},
		},
		"iron takes alkali before copper": {
			map[string]float64{"H2O(l)": 50, "Fe^3+": 0.1, "Cu^2+": 0.1, "OH^-": 0.4, "Na^+": 0.4, "NO3^-": 0.5},
			map[string]float64{"Fe(OH)3(s)": 0.1, "Cu(OH)2(s)": 0.05, "Cu^2+": 0.05, "OH^-": 0},
		},
		"silver oxide": {
			map[string]float64{"H2O(l)": 50, "Ag^+": 0.1, "NO3^-": 0.1, "OH^-": 0.15, "Na^+": 0.15},
			map[string]float64{"Ag2O(s)": 0.05, "OH^-": 0.05, "H2O(l)": 50.05},
		},
		"acid on hydroxide": {
			map[string]float64{"H2O(l)": 50, "Zn(OH)2(s)": 0.1, "Cu(OH)2(s)": 0.1, "H^+": 0.3, "NO3^-": 0.3},
			map[string]float64{"Zn(OH)2(s)": 0, "Cu(OH)2(s)": 0.05, "H^+": 0},
		},
		"copper by soda": {
			map[string]float64{"H2O(l)": 50, "Cu^2+": 0.1, "NO3^-": 0.2, "CO3^2-": 0.1, "Na^+": 0.2},
			map[string]float64{"Cu(OH)2(s)": 0.1, "CO2(g)": 0.1, "Cu^2+": 0},
		},
		"ammonia set free": {
			map[string]float64{"H2O(l)": 50, "NH4^+": 0.1, "NO3^-": 0.1, "OH^-": 0.2, "Na^+": 0.2},
			map[string]float64{"NH3(aq)": 0.1, "OH^-": 0.1, "NH4^+": 0},
		},
		"silver chloride stays in caustic": {
			map[string]float64{"H2O(l)": 50, "AgCl(s)": 0.1, "OH^-": 1, "Na^+": 1},
			map[string]float64{"AgCl(s)": 0.1, "OH^-": 1},
		},
	}
	for name, tc := range tests {
		t.Run(name, func(t *testing.T) {
			s := streamOf(t, 25, tc.start)
			before := s.Clone()
			outcome, err := Limiting{}.Equilibrate(&s)
			if err != nil || !outcome.Converged {
				t.Fatal(outcome, err)
			}
			checkConserved(t, before, s)
			for species, want := range tc.want {
				if got := molOf(t, s, species); math.Abs(got-want) > 1e-12 {
					t.Errorf("%s: %.12g mol, want %g", species, got, want)
				}
			}
		})
	}
}

// TestLimitingConserves: every element and the charge, whatever the liquor, and
// a second time changes nothing.
func TestLimitingConserves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawStream(t)
		before := s.Clone()
		if _, err := (Limiting{}).Equilibrate(&s); err != nil {
			t.Fatal(err)
		}
		checkConserved(t, before, s)
		once := s.Clone()
		if _, err := (Limiting{}).Equilibrate(&s); err != nil {
			t.Fatal(err)
		}
		for i, n := range s.Mol {
			// Lead that two salts draw on settles slowly; its last traces do not matter.
			if math.Abs(n-once.Mol[i]) > 1e-7*(1e-2+n) {
				t.Fatalf("a second time species %d goes from %g to %g", i, once.Mol[i], n)
			}
		}
	})
}

func TestLimitingPH(t *testing.T) {
	acid := streamOf(t, 25, map[string]float64{"H2O(l)": 1 / waterMolarMass, "H^+": 0.01, "NO3^-": 0.01})
	outcome, err := Limiting{}.Equilibrate(&acid)
	if err != nil || math.Abs(outcome.PH-2) > 1e-3 || math.Abs(outcome.IonicStrength-0.01) > 1e-5 {
		t.Errorf("0.01 mol/kg acid: %+v, %v", outcome, err)
	}
	alkali := streamOf(t, 25, map[string]float64{"H2O(l)": 1 / waterMolarMass, "OH^-": 0.01, "Na^+": 0.01})
	if outcome, _ := (Limiting{}).Equilibrate(&alkali); math.Abs(outcome.PH-12) > 1e-3 {
		t.Errorf("0.01 mol/kg alkali: pH %g", outcome.PH)
	}
	dry := streamOf(t, 25, map[string]float64{"AgCl(s)": 1})
	if outcome, err := (Limiting{}).Equilibrate(&dry); err != nil || len(outcome.Warnings) == 0 || !near(outcome.PH, 7, 0) {
		t.Errorf("dry: %+v, %v", outcome, err)
	}
}
