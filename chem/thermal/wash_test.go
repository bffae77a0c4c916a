package thermal

import (
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/units"
)

func TestLeftShare(t *testing.T) {
	for name, c := range map[string]struct {
		heel, fill units.Volume
		n          int
		want       float64
	}{
		"five, a tenth left": {0.05, 0.45, 5, 1e-5},
		"none":               {0.05, 0.5, 0, 1},
		"no heel":            {0, 0.5, 1, 0},
		"no water":           {0.05, 0, 3, 1},
		"as the call shows":  {0.05, 0.5, 5, 6.209213230591551e-06}, // (1/11)^5
	} {
		near(t, name, must[float64](t)(LeftShare(c.heel, c.fill, c.n)), c.want, 1e-12)
	}
}

// Two washes of a millilitre "leach out about 97 %" of the few drops that stay on
// a precipitate (Oklahoma State University, inorganic qualitative analysis,
// appendix, p. 27). Four drops of 0.05 mL are taken as a few.
func TestWashingOfAPrecipitate(t *testing.T) {
	left := must[float64](t)(LeftShare(4*0.05*units.Millilitre, 1*units.Millilitre, 2))
	near(t, "washed out", 100*(1-left), 97, 0.5)
}

func TestWashesFor(t *testing.T) {
	for name, c := range map[string]struct {
		heel, fill units.Volume
		target     float64
		want       int
	}{
		"exactly five":   {0.05, 0.45, 1e-5, 5},
		"a little under": {0.05, 0.45, 0.99e-5, 6},
		"nothing to do":  {0.05, 0.45, 1, 0},
		"no heel":        {0, 0.45, 1e-9, 1},
	} {
		if got := must[int](t)(WashesFor(c.heel, c.fill, c.target)); got != c.want {
			t.Errorf("%s: %d washes, want %d", name, got, c.want)
		}
	}
}

func TestWashingProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		heel := units.Volume(rapid.Float64Range(1e-3, 1).Draw(r, "heel"))
		fill := units.Volume(rapid.Float64Range(1e-3, 10).Draw(r, "fill"))
		n := rapid.IntRange(0, 40).Draw(r, "n")
		left, err := LeftShare(heel, fill, n)
		more, err2 := LeftShare(heel, fill, n+1)
		if err != nil || err2 != nil || more > left || left > 1 || more < 0 {
			r.Fatalf("%g after %d, %g after one more", left, n, more)
		}
		target := rapid.Float64Range(1e-8, 0.999).Draw(r, "target")
		need, err := WashesFor(heel, fill, target)
		if err != nil {
			r.Fatal(err)
		}
		enough, err := LeftShare(heel, fill, need)
		if err != nil || enough > target*(1+1e-6) {
			r.Fatalf("%d washes leave %g of a target of %g (%v)", need, enough, target, err)
		}
		if need > 0 {
			short, err := LeftShare(heel, fill, need-1)
			if err != nil || short <= target*(1-1e-9) {
				r.Fatalf("%d washes would do: %g of %g (%v)", need-1, short, target, err)
			}
		}
	})
}

// The count must beat every other count.
func TestBestWashesIsTheBest(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		heel := units.Volume(rapid.Float64Range(0.01, 1).Draw(r, "heel"))
		fill := units.Volume(rapid.Float64Range(0.1, 5).Draw(r, "fill"))
		salt := units.Mass(rapid.Float64Range(0, 0.5).Draw(r, "salt"))
		loss := units.Mass(rapid.Float64Range(1e-6, 0.01).Draw(r, "loss"))
		harm := rapid.Float64Range(0.01, 10).Draw(r, "harm")
		best, err := BestWashes(heel, fill, salt, loss, harm)
		if err != nil {
			r.Fatal(err)
		}
		most, err := WashesFor(heel, fill, 1e-6)
		if err != nil {
			r.Fatal(err)
		}
		cost := func(n int) float64 {
			left, err := LeftShare(heel, fill, n)
			if err != nil {
				r.Fatal(err)
			}
			return harm*float64(salt)*left + float64(loss)*float64(n)
		}
		for n := range most + 1 {
			if cost(n) < cost(best)*(1-1e-9)-1e-15 {
				r.Fatalf("%d washes cost %g, the best %d cost %g", n, cost(n), best, cost(best))
			}
		}
	})
}

func TestWashLoss(t *testing.T) {
	// Lead chloride at 100 °C dissolves to 32 g/L: 2 washes of half a litre take 32 g,
	// or all of it.
	m := must[units.Mass](t)(WashLoss(32, 0.5, 2, 50*units.Gram))
	near(t, "WashLoss", m.Grams(), 32, 1e-9)
	m = must[units.Mass](t)(WashLoss(32, 0.5, 2, 10*units.Gram))
	near(t, "all of it", m.Grams(), 10, 1e-9)
}

func TestCakeLeftShare(t *testing.T) {
	near(t, "one volume", must[float64](t)(CakeLeftShare(1, 1, 0.7)), 0.3, 1e-12)
	near(t, "three volumes", must[float64](t)(CakeLeftShare(1, 3, 0.7)), 0.027, 1e-12)
	near(t, "no wash", must[float64](t)(CakeLeftShare(1, 0, 0.7)), 1, 1e-12)
	near(t, "perfect", must[float64](t)(CakeLeftShare(1, 1, 1)), 0, 1e-12)
}

func BenchmarkWashesFor(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := WashesFor(0.05, 0.5, 1e-5); err != nil {
			b.Fatal(err)
		}
	}
}
