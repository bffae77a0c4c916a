package equil

import (
	"errors"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"

	"afterpour/chem/substance"
	"pgregory.net/rapid"
)

func mustSpeciation(t fataler, name string) *Speciation {
	t.Helper()
	sp, err := NewSpeciation(name)
	if err != nil {
		t.Fatal(err)
	}
	return sp
}

// TestSpeciationMeetsCase: a stream posed as case c06 splits its silver as the
// case does.
func TestSpeciationMeetsCase(t *testing.T) {
	cases := publishedCases(t)
	c := cases[slices.IndexFunc(cases, func(c publishedCase) bool { return c.ID == "c06" })]
	for _, name := range publishedSets() {
		s := streamOf(t, 25, map[string]float64{
			"H2O(l)": 1 / waterMolarMass, "Cu^2+": 0.3, "Ag^+": 0.01, "NO3^-": 2.61, "Na^+": 1, "Cl^-": 1, "H^+": 2.0,
		})
		outcome, err := mustSpeciation(t, name).Equilibrate(&s)
		if err != nil {
			t.Fatal(err)
		}
		want := c.Result[name]
		if math.Abs(outcome.PH-want.PH) > 0.001 || !near(outcome.IonicStrength, want.IonicStrength, 1e-3) {
			t.Errorf("%s: pH %g, ionic strength %g, want %g, %g", name, outcome.PH, outcome.IonicStrength, want.PH, want.IonicStrength)
		}
		if got := molOf(t, s, "AgCl(s)"); !near(got, want.Precipitated["AgCl"], 1e-4) {
			t.Errorf("%s: %g mol AgCl, want %g", name, got, want.Precipitated["AgCl"])
		}
		if got := molOf(t, s, "Ag^+"); !near(got, want.Dissolved["Ag"], 1e-3) {
			t.Errorf("%s: %g mol silver dissolved, want %g", name, got, want.Dissolved["Ag"])
		}
		if !outcome.Converged || outcome.Iterations < 1 || !(outcome.Residual < convergedAt) || len(outcome.Sources) == 0 {
			t.Errorf("%s: outcome %+v", name, outcome)
		}
		if len(outcome.Warnings) == 0 {
			t.Errorf("%s: no warning at an ionic strength of %g", name, outcome.IonicStrength)
		}
	}
}

// TestSpeciationConserves: every element and the charge, whatever the liquor;
// what the set does not know stays; a second time changes nothing but hairs.
func TestSpeciationConserves(t *testing.T) {
	sets := map[string]*Speciation{}
	for _, name := range SetNames() {
		sets[name] = mustSpeciation(t, name)
	}
	rapid.Check(t, func(t *rapid.T) {
		sp := sets[rapid.SampledFrom(SetNames()).Draw(t, "set")]
		s := drawStream(t)
		before := s.Clone()
		outcome, err := sp.Equilibrate(&s)
		if err != nil {
			if !errors.Is(err, ErrUnsupported) && !errors.Is(err, ErrNotConverged) {
				t.Fatal(err)
			}
			if !slices.Equal(s.Mol, before.Mol) {
				t.Fatalf("%v, and the stream has changed", err)
			}
			return
		}
		checkConserved(t, before, s)
		for _, name := range []string{"Sn^2+", "Fe^2+", "C6H11O7^-", "SnO2(s)", "Ag(s)"} {
			if was, is := molOf(t, before, name), molOf(t, s, name); !near(is, was, 1e-12) {
				t.Fatalf("%s went from %g to %g", name, was, is)
			}
		}
		once := s.Clone()
		again, err := sp.Equilibrate(&s)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(again.PH-outcome.PH) > 1e-4 {
			t.Fatalf("pH %g, a second time %g", outcome.PH, again.PH)
		}
		for i, n := range s.Mol {
			if math.Abs(n-once.Mol[i]) > 1e-5*(1e-3+n) {
				t.Fatalf("%s: %g mol, a second time %g", substance.SpeciesID(i).Species().Name, once.Mol[i], n)
			}
		}
	})
}

// TestSpeciationScales: twice the liquor gives twice the answer.
func TestSpeciationScales(t *testing.T) {
	sp := mustSpeciation(t, DefaultSet)
	rapid.Check(t, func(t *rapid.T) {
		s := drawStream(t)
		big := s.Clone()
		big.Scale(2)
		if _, err := sp.Equilibrate(&s); err != nil {
			t.Skip(err)
		}
		if _, err := sp.Equilibrate(&big); err != nil {
			t.Fatal(err)
		}
		for i, n := range s.Mol {
			if math.Abs(big.Mol[i]-2*n) > 1e-6*(1e-6+n) {
				t.Fatalf("%s: %g mol, of twice the liquor %g", substance.SpeciesID(i).Species().Name, n, big.Mol[i])
			}
		}
	})
}

func TestSpeciationDry(t *testing.T) {
	sp := mustSpeciation(t, DefaultSet)
	s := streamOf(t, 25, map[string]float64{"AgCl(s)": 1, "NaNO3(s)": 2})
	before := s.Clone()
	outcome, err := sp.Equilibrate(&s)
	if err != nil || len(outcome.Warnings) == 0 || !slices.Equal(s.Mol, before.Mol) {
		t.Errorf("dry: %+v, %v", outcome, err)
	}
	if _, err := sp.ProblemOf(s); err == nil {
		t.Error("ProblemOf made a problem of a dry stream")
	}
}

// TestSpeciationWetCake: where hardly any water is left, the limiting reactions
// step in and it says so.
func TestSpeciationWetCake(t *testing.T) {
	sp := mustSpeciation(t, DefaultSet)
	s := streamOf(t, 90, map[string]float64{"H2O(l)": 0.5, "Ag^+": 1, "NO3^-": 2, "Na^+": 1.5, "Cl^-": 0.5})
	before := s.Clone()
	outcome, err := sp.Equilibrate(&s)
	if err != nil || !strings.Contains(strings.Join(outcome.Warnings, " "), "limiting") {
		t.Errorf("wet cake: %+v, %v", outcome, err)
	}
	checkConserved(t, before, s)
	if got := molOf(t, s, "AgCl(s)"); !near(got, 0.5, 1e-12) {
		t.Errorf("%g mol AgCl, want 0.5", got)
	}
}

// TestSpeciationCarbonate: acid drives carbon dioxide out, alkali keeps it.
func TestSpeciationCarbonate(t *testing.T) {
	sp := mustSpeciation(t, DefaultSet)
	acid := streamOf(t, 25, map[string]float64{"H2O(l)": 1 / waterMolarMass, "H^+": 0.5, "Cl^-": 0.5, "Na^+": 0.4, "CO3^2-": 0.2})
	if _, err := sp.Equilibrate(&acid); err != nil {
		t.Fatal(err)
	}
	if gas := molOf(t, acid, "CO2(g)"); !(gas > 0.16 && gas < 0.175) {
		t.Errorf("%g mol of carbon dioxide leaves, want 0.2 less 0.034 that stays dissolved", gas)
	}
	soda := streamOf(t, 25, map[string]float64{"H2O(l)": 1 / waterMolarMass, "Na^+": 0.4, "CO3^2-": 0.2})
	outcome, err := sp.Equilibrate(&soda)
	if err != nil || molOf(t, soda, "CO2(g)") > 0 || math.Abs(outcome.PH-11.5) > 0.3 {
		t.Errorf("soda: pH %g, %g mol gas, %v", outcome.PH, molOf(t, soda, "CO2(g)"), err)
	}
}

// TestSpeciationStrangers: tin takes no part but its charge does.
func TestSpeciationStrangers(t *testing.T) {
	sp := mustSpeciation(t, DefaultSet)
	s := streamOf(t, 25, map[string]float64{"H2O(l)": 1 / waterMolarMass, "Sn^2+": 0.05, "Cl^-": 0.2, "H^+": 0.1})
	outcome, err := sp.Equilibrate(&s)
	if err != nil || math.Abs(outcome.PH-1.1) > 0.05 {
		t.Errorf("pH %g, %v", outcome.PH, err)
	}
	if !slices.Contains(outcome.Warnings, "Sn^2+ takes no part in the equilibrium") {
		t.Errorf("warnings %q do not name tin", outcome.Warnings)
	}
}

// TestSpeciationTogether: the answer is the same to the last bit from several
// goroutines and in any order.
func TestSpeciationTogether(t *testing.T) {
	sp := mustSpeciation(t, DefaultSet)
	start := func(k int) substance.Stream {
		return streamOf(t, 25, map[string]float64{
			"H2O(l)": 55, "Ag^+": 0.01 * float64(1+k), "NO3^-": 1 + 0.01*float64(1+k), "H^+": 1, "Na^+": 0.3, "Cl^-": 0.3,
		})
	}
	var want [8]substance.Stream
	for k := range want {
		want[k] = start(k)
		if _, err := sp.Equilibrate(&want[k]); err != nil {
			t.Fatal(err)
		}
	}
	var group sync.WaitGroup
	for range 4 {
		group.Go(func() {
			for k := len(want) - 1; k >= 0; k-- {
				s := start(k)
				if _, err := sp.Equilibrate(&s); err != nil || !slices.Equal(s.Mol, want[k].Mol) {
					t.Errorf("liquor %d differs between goroutines (%v)", k, err)
				}
			}
		})
	}
	group.Wait()
}

// TestProblemOf: a stream posed as a problem gives the answer that the stream
// is brought to.
func TestProblemOf(t *testing.T) {
	sp := mustSpeciation(t, DefaultSet)
	s := streamOf(t, 60, map[string]float64{
		"H2O(l)": 111, "Ag^+": 0.01, "Cu^2+": 0.2, "NO3^-": 0.31, "H^+": 0.1, "Na^+": 0.2, "Cl^-": 0.4, "AgCl(s)": 0.02,
	})
	p, err := sp.ProblemOf(s)
	if err != nil {
		t.Fatal(err)
	}
	r, err := sp.Set().Solve(p)
	if err != nil {
		t.Fatal(err)
	}
	outcome, err := sp.Equilibrate(&s)
	if err != nil || math.Abs(r.PH-outcome.PH) > 1e-6 {
		t.Errorf("as a problem pH %g, as a stream %g (%v)", r.PH, outcome.PH, err)
	}
	if got, want := molOf(t, s, "Ag^+")/2, r.DissolvedMol["Ag"]; !near(got, want, 0.01) {
		t.Errorf("silver %g mol/kg, as a problem %g", got, want)
	}
}

func TestNewSpeciationUnknown(t *testing.T) {
	if _, err := NewSpeciation("guesswork"); err == nil {
		t.Error("there is a set called guesswork")
	}
}
