package substance

import (
	"errors"
	"strings"
	"testing"

	"afterpour/chem/units"
)

// TestReagentsNeeded lists the ids that price books and routes use.
func TestReagentsNeeded(t *testing.T) {
	const needed = `sodium-hydroxide sodium-chloride hydrochloric-acid nitric-acid sulfuric-acid glucose ascorbic-acid copper-scrap
	copper-sheet borax sodium-carbonate sodium-hydrogencarbonate water hydrogen-peroxide iron-scrap zinc-powder ammonia-water
	sulfamic-acid calcium-hydroxide potassium-nitrate sodium-sulfite sodium-thiosulfate sodium-metabisulfite`
	for _, id := range strings.Fields(needed) {
		if r, err := FindReagent(id); err != nil || r.ID != id {
			t.Errorf("FindReagent(%q) = %q, %v", id, r.ID, err)
		}
	}
}

func TestFindReagent(t *testing.T) {
	cases := map[string]string{
		"nitric acid": "nitric-acid", "HNO3": "nitric-acid", "lye": "sodium-hydroxide", "Salt": "sodium-chloride",
		"muriatic acid": "hydrochloric-acid", "baking soda": "sodium-hydrogencarbonate", "CuSO4.5H2O": "copper-sulfate",
	}
	for name, want := range cases {
		if r, err := FindReagent(name); err != nil || r.ID != want {
			t.Errorf("FindReagent(%q) = %q, %v; want %q", name, r.ID, err, want)
		}
	}
	var unknown *UnknownNameError
	if _, err := FindReagent("sodium hydroxid"); !errors.As(err, &unknown) || unknown.Near[0] != "sodium hydroxide" {
		t.Errorf("a misspelt reagent: %v", err)
	}
}

// TestAddTo pours 100 g of 68 % nitric acid: 68/63.012 mol of acid and 32 g of water, and no mass is lost.
func TestAddTo(t *testing.T) {
	acid, err := FindReagent("nitric-acid")
	if err != nil {
		t.Fatal(err)
	}
	s := NewStream(units.Celsius(20))
	acid.AddTo(&s, 100*units.Gram, 68*units.Percent)
	want := 68 / (1.008 + 14.007 + 3*15.999)
	if got := s.Mol[MustFind("H^+")]; !near(got, want, 1e-12) {
		t.Errorf("acid = %g mol, want %g", got, want)
	}
	if got := s.Mass().Grams(); !near(got, 100, 1e-12) {
		t.Errorf("mass = %g g, want 100", got)
	}
	for _, r := range Reagents() {
		s := NewStream(units.Celsius(20))
		r.AddTo(&s, units.Kilogram, r.Strength)
		want := 1.0
		if !r.Soluble() {
			want = float64(r.Strength)
		}
		if got := float64(s.Mass()); !near(got, want, 1e-12) {
			t.Errorf("1 kg of %s adds %g kg, want %g", r.ID, got, want)
		}
		if got := s.Charge(); !near(got, 0, 1e-12) {
			t.Errorf("%s adds a charge of %g mol", r.ID, got)
		}
	}
}

func TestDensityAt(t *testing.T) {
	acid, _ := FindReagent("nitric-acid")
	if got, err := acid.DensityAt(68 * units.Percent); err != nil || !near(float64(got), 1.4031, 1e-9) {
		t.Errorf("68 %% nitric acid: %g kg/L, %v; want 1.4031", float64(got), err)
	}
	var outside *StrengthError
	if _, err := acid.DensityAt(99 * units.Percent); !errors.As(err, &outside) {
		t.Errorf("99 %% nitric acid: %v, want a StrengthError", err)
	}
	lye, _ := FindReagent("sodium-hydroxide")
	if got, err := lye.DensityAt(98 * units.Percent); err != nil || !near(float64(got), 2.13, 1e-9) {
		t.Errorf("98 %% sodium hydroxide is a solid: %g kg/L, %v", float64(got), err)
	}
}
