package substance

import (
	"testing"

	"pgregory.net/rapid"
)

// TestElementAmounts: the same as asking for the elements one by one, into a slice of any length.
func TestElementAmounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawStream(t)
		into := make([]float64, rapid.IntRange(0, 200).Draw(t, "length"))
		for i := range into {
			into[i] = 1
		}
		got := s.ElementAmounts(into)
		if len(got) != len(Symbols()) {
			t.Fatalf("%d amounts for %d elements", len(got), len(Symbols()))
		}
		for i, symbol := range Symbols() {
			if want := s.Element(symbol); !near(got[i], want, 1e-9) {
				t.Fatalf("%s: %g mol, want %g", symbol, got[i], want)
			}
		}
	})
}
