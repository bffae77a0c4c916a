package stoich

import (
	"math"
	"testing"

	"afterpour/chem/substance"
	"afterpour/chem/units"

	"pgregory.net/rapid"
)

var cementation = substance.MustReaction("Cu(s) + 2 Ag^+ -> Cu^2+ + 2 Ag(s)")

func TestExtent(t *testing.T) {
	s := substance.NewStream(units.Celsius(20))
	if x, limiting := Extent(s, cementation); x != 0 || limiting != substance.MustFind("Cu(s)") {
		t.Errorf("Extent of nothing = %g, limited by %d", x, limiting)
	}
	s.Add(substance.MustFind("Cu(s)"), 1)
	s.Add(substance.MustFind("Ag^+"), 0.6)
	x, limiting := Extent(s, cementation)
	if math.Abs(x-0.3) > 1e-15 || limiting != substance.MustFind("Ag^+") {
		t.Errorf("Extent = %g, limited by %s; want 0.3, Ag^+", x, limiting.Species().Name)
	}
	Run(&s, cementation, x)
	for name, want := range map[string]float64{"Cu(s)": 0.7, "Ag^+": 0, "Cu^2+": 0.3, "Ag(s)": 0.6} {
		if got := s.Mol[substance.MustFind(name)]; math.Abs(got-want) > 1e-15 {
			t.Errorf("%s = %g mol, want %g", name, got, want)
		}
	}
	if x, limiting := Extent(s, substance.Reaction{}); x != 0 || limiting != -1 {
		t.Errorf("Extent of no reaction = %g, %d; want 0, -1", x, limiting)
	}
}

// TestRunConserves: elements and charge stay, nothing turns negative, for every dissolving reaction.
func TestRunConserves(t *testing.T) {
	all := substance.DissolvingReactions()
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(all).Draw(t, "reaction")
		s := substance.NewStream(units.Celsius(20))
		for _, term := range d.Reaction.Terms {
			s.Add(term.Species, rapid.Float64Range(0, 20).Draw(t, "mol"))
		}
		before := s.Clone()
		x, limiting := Extent(s, d.Reaction)
		Run(&s, d.Reaction, x)
		for _, symbol := range substance.Symbols() {
			if got, want := s.Element(symbol), before.Element(symbol); math.Abs(got-want) > 1e-10*(1+math.Abs(want)) {
				t.Fatalf("%s: %s was %g mol, is %g", d.ID, symbol, want, got)
			}
		}
		if got, want := s.Charge(), before.Charge(); math.Abs(got-want) > 1e-10*(1+math.Abs(want)) {
			t.Fatalf("%s: charge was %g mol, is %g", d.ID, want, got)
		}
		for id, n := range s.Mol {
			if n < 0 {
				t.Fatalf("%s: %g mol of %s", d.ID, n, substance.SpeciesID(id).Species().Name)
			}
		}
		if limiting >= 0 && s.Mol[limiting] != 0 {
			t.Fatalf("%s: %g mol of the limiting %s left", d.ID, s.Mol[limiting], limiting.Species().Name)
		}
	})
}
