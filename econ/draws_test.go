package econ

import (
	"math"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// A figure's draws hang on its id, the seed and the number of the draw alone:
// not on what else is in the register, nor on its place there.
func TestDrawsHangOnTheirOwnFigure(t *testing.T) {
	all := func(string) bool { return true }
	alone, crowded := &input.Figures{}, &input.Figures{}
	d := units.NormalDist(5, 1)
	alone.Add(input.Figure{ID: "lot/a", Dist: d})
	for _, id := range []string{"x", "y", "lot/a", "z"} {
		crowded.Add(input.Figure{ID: id, Dist: d})
	}
	one, many := newSampler(alone, 3, all), newSampler(crowded, 3, all)
	v, w := alone.Central(), crowded.Central()
	for draw := range 100 {
		one.fill(v, draw)
		many.fill(w, draw)
		if v[0] != w[2] {
			t.Fatalf("draw %d: %v alone, %v among others", draw, v[0], w[2])
		}
		if w[0] == w[1] || w[0] == w[2] {
			t.Fatalf("draw %d: two figures have one value", draw)
		}
	}
}

// Figures that are not asked for keep their central values, exact ones always.
func TestSamplerLeavesOthers(t *testing.T) {
	figs := &input.Figures{}
	figs.Add(input.Figure{ID: "price/a", Dist: units.NormalDist(5, 1)})
	figs.Add(input.Figure{ID: "lot/a", Dist: units.NormalDist(7, 1)})
	figs.Add(input.Figure{ID: "lot/b", Dist: units.Exactly(9)})
	s := newSampler(figs, 1, isPrice)
	v := make(input.Values, 3)
	s.fill(v, 4)
	if v[0] == 5 || v[1] != 7 || v[2] != 9 {
		t.Errorf("draw %v", v)
	}
}

// The numbers are even: mean ½, variance 1/12, no correlation between
// neighbouring draws, streams and seeds, and each tenth holds a tenth.
func TestUniform(t *testing.T) {
	const n = 100_000
	for name, pair := range map[string][2]func(i int) float64{
		"draws":   {func(i int) float64 { return uniform(streamOf(1, "a"), i) }, func(i int) float64 { return uniform(streamOf(1, "a"), i+1) }},
		"streams": {func(i int) float64 { return uniform(streamOf(1, "a"), i) }, func(i int) float64 { return uniform(streamOf(1, "b"), i) }},
		"seeds":   {func(i int) float64 { return uniform(streamOf(1, "a"), i) }, func(i int) float64 { return uniform(streamOf(2, "a"), i) }},
		"no seed": {func(i int) float64 { return uniform(streamOf(0, ""), i) }, func(i int) float64 { return uniform(streamOf(0, "a"), i) }},
	} {
		var m moments
		var tenths [10]int
		product := 0.0
		for i := range n {
			u, w := pair[0](i), pair[1](i)
			if !(u > 0 && u < 1) {
				t.Fatalf("%s: %v", name, u)
			}
			m.add(u)
			tenths[int(10*u)]++
			product += (u - 0.5) * (w - 0.5)
		}
		if math.Abs(m.mean-0.5) > 4*math.Sqrt(1.0/12/n) || math.Abs(m.variance()-1.0/12) > 4*math.Sqrt(1.0/180/n) {
			t.Errorf("%s: mean %v, variance %v", name, m.mean, m.variance())
		}
		if correlation := 12 * product / n; math.Abs(correlation) > 4/math.Sqrt(n) {
			t.Errorf("%s: correlation %v", name, correlation)
		}
		squares := 0.0
		for _, k := range tenths {
			squares += square(float64(k)-n/10) / (n / 10)
		}
		if squares > 33.7 { // chi-squared of 9 degrees of freedom, 1 in 10,000
			t.Errorf("%s: tenths %v", name, tenths)
		}
	}
}

// The sampler gives back mean and standard deviation of every shape.
func TestSamplerMoments(t *testing.T) {
	figs := &input.Figures{}
	dists := []units.Dist{units.NormalDist(5, 2), units.LognormalDist(3, 1), units.UniformDist(-1, 4), units.TriangularDist(0, 1, 5)}
	for i, d := range dists {
		figs.Add(input.Figure{ID: string(rune('a' + i)), Dist: d})
	}
	s := newSampler(figs, 9, func(string) bool { return true })
	v := figs.Central()
	m := make([]moments, len(dists))
	const n = 50_000
	for draw := range n {
		s.fill(v, draw)
		for i := range m {
			m[i].add(v[i])
		}
	}
	for i, d := range dists {
		if math.Abs(m[i].mean-d.Mean) > 5*d.SD/math.Sqrt(n) || math.Abs(m[i].sd()/d.SD-1) > 0.03 {
			t.Errorf("%v: mean %v of %v, standard deviation %v of %v", d.Shape, m[i].mean, d.Mean, m[i].sd(), d.SD)
		}
	}
}
