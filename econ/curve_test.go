package econ

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestPlaces(t *testing.T) {
	for name, c := range map[string]struct {
		from, to float64
		n        int
		log      bool
		here     float64
		want     []float64
	}{
		"even":     {0, 4, 5, false, 9, []float64{0, 1, 2, 3, 4}},
		"with me":  {0, 4, 3, false, 1, []float64{0, 1, 2, 4}},
		"on one":   {0, 4, 3, false, 2, []float64{0, 2, 4}},
		"at start": {0, 4, 3, false, 0, []float64{0, 2, 4}},
		"log":      {0.1, 10, 3, true, 1, []float64{0.1, 1, 10}},
	} {
		got := places(c.from, c.to, c.n, c.log, c.here)
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
			continue
		}
		for i := range got {
			near(t, name, got[i], c.want[i], 1e-12)
		}
	}
}

// Places rise, keep their ends, and hold the place where one stands.
func TestPlacesOfAnyRange(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		from := rapid.Float64Range(0.001, 100).Draw(r, "from")
		to := from * rapid.Float64Range(1.01, 1000).Draw(r, "wider")
		here := rapid.Float64Range(0, 2*to).Draw(r, "here")
		list := places(from, to, rapid.IntRange(2, 60).Draw(r, "n"), rapid.Bool().Draw(r, "log"), here)
		if !slices.IsSorted(list) || math.Abs(list[0]-from) > 0 || math.Abs(list[len(list)-1]-to) > 0 {
			r.Fatalf("from %g to %g: %v", from, to, list)
		}
		inside := here >= from && here <= to
		near := slices.ContainsFunc(list, func(x float64) bool { return math.Abs(x-here) <= 1e-9*(to-from) })
		if inside != near && inside {
			r.Fatalf("%g is not among %v", here, list)
		}
	})
}
