package lot

import (
	"math"
	"testing"
)

// By hand: 10 ± 1 and 13 ± 2 weigh 0.8 and 0.2, mean 10.6,
// χ² = 0.6²/1 + 2.4²/4 = 1.8.
func TestCombine(t *testing.T) {
	c := combine([]float64{10, 13}, []float64{1, 2})
	near(t, "first weight", c.weights[0], 0.8, 1e-12)
	near(t, "χ²", c.chiSquared, 1.8, 1e-12)
	near(t, "p", c.p, math.Erfc(math.Sqrt(1.8/2)), 1e-9)
	if c.disagrees() || c.extra(1) != 0 {
		t.Error("a deviation of 1.3 standard uncertainties counts as a conflict")
	}
	near(t, "combined doubt", combinedSD(c.weights, []float64{1, 2}), math.Sqrt(0.8), 1e-12)
}

// The widened doubt is the combined one times √(χ²/ν).
func TestCombineWidens(t *testing.T) {
	c := combine([]float64{10, 14}, []float64{1, 1}) // χ² = 8 with one degree of freedom
	near(t, "χ²", c.chiSquared, 8, 1e-12)
	u := math.Sqrt(0.5)
	near(t, "widened", math.Hypot(u, c.extra(u)), u*math.Sqrt(8), 1e-12)
	three := combine([]float64{10, 14, 18}, []float64{1, 1, 1}) // χ² = 32 with two
	u = math.Sqrt(1.0 / 3)
	near(t, "widened", math.Hypot(u, three.extra(u)), u*math.Sqrt(16), 1e-12)
}

// Upper 5 % points of the chi-squared distribution: 3.841, 5.991, 7.815 for
// one to three degrees of freedom (any table).
func TestSurvival(t *testing.T) {
	for freedom, x := range map[int]float64{1: 3.841, 2: 5.991, 3: 7.815} {
		near(t, "p", survival(x, freedom), 0.05, 0.001)
	}
	if survival(1, 0) != 1 || survival(0, 1) != 1 {
		t.Error("no freedom, or no deviation, is no conflict")
	}
}

// Estimates that claim no doubt, or are all zero, give finite weights.
func TestCombineWithoutDoubt(t *testing.T) {
	for _, values := range [][]float64{{0, 0}, {1, 1}, {1, 2}, {0, 3}, {1e-30, 1e5}} {
		c := combine(values, []float64{0, 0})
		near(t, "weights", c.weights[0]+c.weights[1], 1, 1e-12)
		if math.IsNaN(c.chiSquared) || math.IsInf(c.chiSquared, 0) || math.IsNaN(c.p) {
			t.Errorf("combine(%v) = %+v", values, c)
		}
	}
	one := combine([]float64{5}, []float64{0})
	if one.weights[0] != 1 || one.p != 1 {
		t.Errorf("a single estimate: %+v", one)
	}
}
