package substance

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/units"
)

// The parts taken by list are those taken by predicate, to the last bit.
func TestPartsAgreeWithSplit(t *testing.T) {
	all := func(Species) bool { return true }
	rapid.Check(t, func(t *rapid.T) {
		s := NewStream(units.Celsius(20))
		for range rapid.IntRange(0, 20).Draw(t, "species") {
			s.Mol[rapid.IntRange(0, len(s.Mol)-1).Draw(t, "id")] = rapid.Float64Range(0, 50).Draw(t, "mol")
		}
		if got, want := s.SolidMass(), s.MassOf(Undissolved); got != want {
			t.Fatalf("SolidMass = %v, want %v", got, want)
		}
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		for name, c := range map[string]struct {
			take  func(*Stream, float64) Stream
			which func(Species) bool
		}{
			"undissolved": {(*Stream).TakeUndissolved, Undissolved}, "dissolved": {(*Stream).TakeDissolved, Dissolved},
			"escaping": {(*Stream).TakeEscaping, Escaping}, "all": {(*Stream).TakeAll, all},
		} {
			a, b := s.Clone(), s.Clone()
			taken, split := c.take(&a, share), b.Split(share, c.which)
			if !slices.Equal(taken.Mol, split.Mol) || !slices.Equal(a.Mol, b.Mol) || taken.Temperature != split.Temperature {
				t.Fatalf("%s: taken and split differ", name)
			}
		}
	})
}
