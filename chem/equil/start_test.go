package equil

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/substance"
)

// TestNearIsTheSameAnswer: begun at the answer to a liquor somewhat like it, or
// quite unlike it, a search ends where a cold one does; elements and charge are
// conserved; what was kept is not changed.
func TestNearIsTheSameAnswer(t *testing.T) {
	sp := mustSpeciation(t, DefaultSet)
	rapid.Check(t, func(t *rapid.T) {
		s := drawStream(t)
		like := s.Clone()
		for i, n := range like.Mol {
			if n > 0 {
				like.Mol[i] *= rapid.Float64Range(0.5, 2).Draw(t, "factor")
			}
		}
		if rapid.Bool().Draw(t, "unlike") {
			like = drawStream(t)
		}
		var start, after Start
		if _, err := sp.EquilibrateNear(&like, nil, &start); err != nil {
			t.Skip(err)
		}
		cold, before := s.Clone(), s.Clone()
		want, err := sp.Equilibrate(&cold)
		if err != nil {
			t.Skip(err)
		}
		got, err := sp.EquilibrateNear(&s, &start, &after)
		if err != nil {
			t.Fatal(err)
		}
		checkConserved(t, before, s)
		if math.Abs(got.PH-want.PH) > 1e-4 {
			t.Fatalf("pH %g, cold %g", got.PH, want.PH)
		}
		for i, n := range s.Mol {
			if math.Abs(n-cold.Mol[i]) > 1e-5*(1e-3+n) {
				t.Fatalf("%s: %g mol, cold %g", substance.SpeciesID(i).Species().Name, n, cold.Mol[i])
			}
		}
		if again, err := sp.EquilibrateNear(&before, &start, nil); err != nil || again.PH != got.PH {
			t.Fatalf("the same search ends at pH %v and %v, %v", got.PH, again.PH, err)
		}
	})
}

func TestNearWithoutWater(t *testing.T) {
	sp := mustSpeciation(t, DefaultSet)
	s := streamOf(t, 25, map[string]float64{"AgCl(s)": 1})
	var start Start
	if outcome, err := sp.EquilibrateNear(&s, nil, &start); err != nil || outcome.PH != 7 || start.ln != nil {
		t.Errorf("%+v, %v, kept %v", outcome, err, start)
	}
}

// BenchmarkNear is a liquor whose silver differs by up to a tenth from the one
// that the search begins at.
func BenchmarkNear(b *testing.B) {
	sp := mustSpeciation(b, DefaultSet)
	start := streamOf(b, 25, map[string]float64{
		"H2O(l)": 55.5, "Ag^+": 0.01, "NO3^-": 2.61, "Cu^2+": 0.3, "Na^+": 1, "Cl^-": 1, "H^+": 2,
	})
	s := start.Clone()
	var from Start
	if _, err := sp.EquilibrateNear(&s, nil, &from); err != nil {
		b.Fatal(err)
	}
	silver := substance.MustFind("Ag^+")
	n := 0
	b.ReportAllocs()
	for b.Loop() {
		copy(s.Mol, start.Mol)
		n++
		s.Mol[silver] *= 0.9 + 0.02*float64(n%11)
		if _, err := sp.EquilibrateNear(&s, &from, nil); err != nil {
			b.Fatal(err)
		}
	}
}
