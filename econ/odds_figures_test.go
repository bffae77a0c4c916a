package econ

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestQuantilesByHand(t *testing.T) {
	list := []float64{50, 10, 40, 20, 30, 60, 80, 70, 100, 90}
	if got, want := quantiles(list, 0.1, 0.5, 0.9), []float64{10, 50, 90}; !slices.Equal(got, want) {
		t.Errorf("quantiles %v, want %v", got, want)
	}
	if got := quantiles([]float64{7}, 0.1, 0.9); !slices.Equal(got, []float64{7, 7}) {
		t.Errorf("of one value: %v", got)
	}
	if !slices.Equal(list, []float64{50, 10, 40, 20, 30, 60, 80, 70, 100, 90}) {
		t.Error("the list was sorted in place")
	}
}

// Welford's moments are those of the definition, also far from nothing.
func TestMoments(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		far := rapid.Float64Range(-1e6, 1e6).Draw(t, "far")
		list := rapid.SliceOfN(rapid.Float64Range(-100, 100), 2, 50).Draw(t, "list")
		mean := 0.0
		for i := range list {
			mean += list[i] / float64(len(list))
		}
		variance := 0.0
		shifted := make([]float64, len(list))
		for i, x := range list {
			variance += square(x-mean) / float64(len(list)-1)
			shifted[i] = x + far
		}
		m := momentsOf(shifted)
		if math.Abs(m.mean-mean-far) > 1e-9*(1+math.Abs(far)) || math.Abs(m.variance()-variance) > 1e-6*(1+variance) {
			t.Fatalf("mean %v, want %v; variance %v, want %v", m.mean-far, mean, m.variance(), variance)
		}
	})
	one := moments{}
	one.add(3)
	if one.sd() != 0 {
		t.Errorf("one value scatters by %v", one.sd())
	}
}

// Three plans over four draws, by hand. The first is the plan ranked first, the
// last lacks the last two draws.
func TestContestByHand(t *testing.T) {
	c := &contest{
		nets:  [][]float64{{10, -5, 3, 0}, {8, 5, 3, -2}, {-20, -20}},
		fails: [][]bool{make([]bool, 4), {false, true, false, false}, make([]bool, 2)},
		zero:  []float64{0, 0, 3, -1},
	}
	c.judge()
	if !slices.Equal(c.best, []float64{10, 5, 3, 0}) || !slices.Equal(c.wins, []int{3, 1, 0}) {
		t.Fatalf("best %v, wins %v", c.best, c.wins) // equal in the third draw: the first counts
	}
	first, second, third := c.odds(0), c.odds(1), c.odds(2)
	near(t, "regret of the first", first.Regret.Float(), 10.0/4, 1e-12)
	near(t, "regret of the second", second.Regret.Float(), (2.0+0+0+2)/4, 1e-12)
	near(t, "regret of the third", third.Regret.Float(), (30.0+25)/2, 1e-12)
	near(t, "gains of the first", first.PPositive, 2.0/4, 1e-12)   // 10 and 1; −5 and 0 are none
	near(t, "gains of the second", second.PPositive, 2.0/4, 1e-12) // 8 and 5
	near(t, "second ahead", second.Ahead, (0+1+0.5+0)/4, 1e-12)
	near(t, "second fails", second.Fails, 0.25, 1e-12)
	if !second.Equal || third.Equal || first.Equal || third.Draws != 2 || second.Draws != 4 {
		t.Errorf("%+v, %+v, %+v", first, second, third)
	}
	if !c.farBehind(2, 0, 1.5) || c.farBehind(1, 0, 1.5) {
		t.Error("the third lies 30 and 15 behind the first, the second nowhere near so far")
	}
}

func TestShownStep(t *testing.T) {
	for spread, want := range map[float64]float64{39: 1, 9.9: 0.1, 10: 1, 123: 10, 0.05: 0.001, 0: 0} {
		near(t, "step", ShownStep(spread), want, 1e-12)
	}
	if ShownStep(math.NaN()) != 0 || ShownStep(math.Inf(1)) != 0 {
		t.Error("a step of no spread")
	}
}
