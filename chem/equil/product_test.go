package equil

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// idealSet is a set with activities taken as concentrations, water's own
// dissociation and the given rows.
func idealSet(t testing.TB, components []ComponentRow, species, solids []ConstantRow) *Set {
	t.Helper()
	set, err := Definition{
		Name: "textbook", Activity: "ideal",
		Components: append([]ComponentRow{{Name: "H", Ion: "H+"}}, components...),
		Species:    append([]ConstantRow{{Name: "OH-", Reaction: "H2O = OH- + H+", LogK: -14}}, species...),
		Solids:     solids,
	}.Set()
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// ExampleMolarSolubility is OpenStax, Chemistry 2e, example 15.4: calcium
// hydroxide, Ksp 1.3e-6, dissolves to 6.9e-3 mol/L.
func ExampleMolarSolubility() {
	s, err := MolarSolubility(1.3e-6, 1, 2)
	fmt.Printf("%.1e mol/L, %v\n", s, err)
	// Output: 6.9e-03 mol/L, <nil>
}

// ExampleSolubilityProduct is OpenStax, Chemistry 2e, example 15.5: lead
// chromate dissolves to 4.6e-6 g/L (323.2 g/mol), so its product is 2.0e-16.
func ExampleSolubilityProduct() {
	ksp, err := SolubilityProduct(4.6e-6/323.2, 1, 1)
	fmt.Printf("%.1e, %v\n", ksp, err)
	// Output: 2.0e-16, <nil>
}

// TestWorkedSolubility holds the worked examples "ksp_caoh2", "ksp_pbcro4" and
// "ksp_ag2so4_ions" (OpenStax, Chemistry 2e: examples 15.4 and 15.5, chapter 15
// exercise 27), the closed form and the solver beside each other.
func TestWorkedSolubility(t *testing.T) {
	tests := map[string]struct {
		ksp              float64
		cations, anions  int
		want, tolerance  float64 // molar solubility
		cation           ComponentRow
		anion            ComponentRow
		solid, dissolves string
	}{
		"ksp_ag2so4_ions": {
			1.2e-5, 2, 1, 0.0144, 0.00025,
			ComponentRow{Name: "Ag", Ion: "Ag+"},
			ComponentRow{Name: "SO4", Ion: "SO4-2"},
			"Ag2SO4", "Ag2SO4 = 2 Ag+ + SO4-2",
		},
		"ksp_pbcro4": {
			2.0e-16, 1, 1, 4.6e-6 / 323.2, 1e-9,
			ComponentRow{Name: "Pb", Ion: "Pb+2"},
			ComponentRow{Name: "CrO4", Ion: "CrO4-2"},
			"PbCrO4", "PbCrO4 = Pb+2 + CrO4-2",
		},
	}
	for id, tc := range tests {
		closed, err := MolarSolubility(tc.ksp, tc.cations, tc.anions)
		if err != nil || math.Abs(closed-tc.want) > tc.tolerance {
			t.Errorf("%s: MolarSolubility = %g (%v), want %g", id, closed, err, tc.want)
		}
		set := idealSet(t, []ComponentRow{tc.cation, tc.anion}, nil,
			[]ConstantRow{{Name: tc.solid, Reaction: tc.dissolves, LogK: math.Log10(tc.ksp)}})
		r, err := set.Solve(Problem{TemperatureC: 25, SolidAdded: map[string]float64{tc.solid: 1}, Allowed: []string{tc.solid}})
		if err != nil {
			t.Fatalf("%s: %v", id, err)
		}
		if got := r.DissolvedMol[tc.anion.Name] / float64(tc.anions); !near(got, closed, 1e-6) {
			t.Errorf("%s: the solver dissolves %g, the closed form %g", id, got, closed)
		}
	}
	if ag := 2 * 0.0144; math.Abs(2*mustSolubility(t, 1.2e-5, 2, 1)-ag) > 0.0005 {
		t.Errorf("ksp_ag2so4_ions: silver %g mol/L, want %g", 2*mustSolubility(t, 1.2e-5, 2, 1), ag)
	}
}

// TestWorkedCalciumHydroxide is "ksp_caoh2" through the solver, where the
// solid is written with hydrogen ion and the pH follows.
func TestWorkedCalciumHydroxide(t *testing.T) {
	set := idealSet(t, []ComponentRow{{Name: "Ca", Ion: "Ca+2"}}, nil,
		[]ConstantRow{{Name: "Ca(OH)2", Reaction: "Ca(OH)2 + 2 H+ = Ca+2 + 2 H2O", LogK: math.Log10(1.3e-6) + 28}})
	r, err := set.Solve(Problem{TemperatureC: 25, SolidAdded: map[string]float64{"Ca(OH)2": 1}, Allowed: []string{"Ca(OH)2"}})
	if err != nil {
		t.Fatal(err)
	}
	// The textbook gives mol/L; here the water used up is given back on
	// dissolving, which changes the fourth digit.
	if got := r.DissolvedMol["Ca"] / r.WaterKg; math.Abs(got-0.0069) > 5e-5 {
		t.Errorf("calcium %g mol/kg, want 0.0069", got)
	}
	if got := r.PH; math.Abs(got-12.14) > 0.01 {
		t.Errorf("pH %.3f, want 12.14", got)
	}
}

// TestWorkedComplexes holds "cx_agnh3" and "cx_fixer" (OpenStax, Chemistry 2e,
// examples 15.14 and 15.16).
func TestWorkedComplexes(t *testing.T) {
	ammine := idealSet(t,
		[]ComponentRow{{Name: "Ag", Ion: "Ag+"}, {Name: "NH3", Ion: "NH3"}, {Name: "NO3", Ion: "NO3-"}},
		[]ConstantRow{{Name: "Ag(NH3)2+", Reaction: "Ag+ + 2 NH3 = Ag(NH3)2+", LogK: math.Log10(1.7e7)}}, nil)
	r, err := ammine.Solve(Problem{TemperatureC: 25, Total: map[string]float64{"Ag": 0.1, "NH3": 0.2, "NO3": 0.1}})
	if err != nil {
		t.Fatal(err)
	}
	if got := r.SpeciesMol["Ag+"]; math.Abs(got-0.0011) > 5e-5 {
		t.Errorf("cx_agnh3: free silver %g mol/L, want 0.0011", got)
	}

	fixer := idealSet(t,
		[]ComponentRow{{Name: "Na", Ion: "Na+"}, {Name: "Ag", Ion: "Ag+"}, {Name: "Br", Ion: "Br-"}, {Name: "S2O3", Ion: "S2O3-2"}},
		[]ConstantRow{{Name: "Ag(S2O3)2-3", Reaction: "Ag+ + 2 S2O3-2 = Ag(S2O3)2-3", LogK: math.Log10(4.7e13)}},
		[]ConstantRow{{Name: "AgBr", Reaction: "AgBr = Ag+ + Br-", LogK: math.Log10(5.0e-13)}})
	r, err = fixer.Solve(Problem{
		TemperatureC: 25, Total: map[string]float64{"Na": 0.02, "S2O3": 0.01},
		SolidAdded: map[string]float64{"AgBr": 0.1}, Allowed: []string{"AgBr"},
	})
	if err != nil {
		t.Fatal(err)
	}
	free := r.SpeciesMol["S2O3-2"]
	if got := r.SpeciesMol["Ag(S2O3)2-3"] * r.SpeciesMol["Br-"] / (free * free); math.Abs(got-24) > 1 {
		t.Errorf("cx_fixer: combined constant %g, want 24", got)
	}
	if got := 1.0 / 187.77; math.Abs(got-0.00532) > 5e-5 {
		t.Errorf("cx_fixer: bromide of 1 g %g mol/L, want 0.00532", got)
	}
	// The published amount of thiosulfate holds just that much: 2 in the
	// complex and the free part sqrt([complex][Br]/K).
	need := 2*0.00532 + 0.00532/math.Sqrt(23.5)
	r, err = fixer.Solve(Problem{
		TemperatureC: 25, Total: map[string]float64{"Na": 2 * need, "S2O3": need},
		SolidAdded: map[string]float64{"AgBr": 0.00532}, Allowed: []string{"AgBr"},
	})
	if err != nil || r.SolidsMol["AgBr"] > 1e-5 {
		t.Errorf("cx_fixer: %g mol AgBr left by %g mol thiosulfate (%v)", r.SolidsMol["AgBr"], need, err)
	}
}

func mustSolubility(t *testing.T, ksp float64, cations, anions int) float64 {
	t.Helper()
	s, err := MolarSolubility(ksp, cations, anions)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestSolubilityRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, n := rapid.IntRange(1, 4).Draw(t, "cations"), rapid.IntRange(1, 4).Draw(t, "anions")
		ksp := math.Pow(10, rapid.Float64Range(-60, 2).Draw(t, "log ksp"))
		s, err := MolarSolubility(ksp, m, n)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := SolubilityProduct(s, m, n); err != nil || !near(back/ksp, 1, 1e-9) {
			t.Fatalf("back from %g mol/L: %g (%v), want %g", s, back, err, ksp)
		}
	})
}

func TestSolubilityFaults(t *testing.T) {
	for _, bad := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		if v, err := MolarSolubility(bad, 1, 1); err == nil {
			t.Errorf("MolarSolubility(%g) = %g", bad, v)
		}
		if v, err := SolubilityProduct(bad, 1, 1); err == nil {
			t.Errorf("SolubilityProduct(%g) = %g", bad, v)
		}
	}
	if _, err := MolarSolubility(1, 0, 1); err == nil {
		t.Error("MolarSolubility took a salt without cations")
	}
}
