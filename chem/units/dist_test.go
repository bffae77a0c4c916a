package units

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// moments integrates a distribution's quantile function by the midpoint rule.
func moments(d Dist) (mean, sd float64) {
	const n = 200_000
	var sum, squares float64
	for i := range n {
		v := d.Quantile((float64(i) + 0.5) / n)
		sum += v
		squares += (v - d.Mean) * (v - d.Mean)
	}
	mean = sum / n
	return mean, math.Sqrt(squares/n - (mean-d.Mean)*(mean-d.Mean))
}

func TestQuantileMoments(t *testing.T) {
	for name, d := range map[string]Dist{
		"normal":            NormalDist(3.2, 0.16),
		"uniform":           UniformDist(20, 30),
		"triangular":        TriangularDist(1, 2, 6),
		"triangular, left":  TriangularDist(1, 1, 6),
		"triangular, right": TriangularDist(1, 6, 6),
		"lognormal":         LognormalDist(5, 2),
		"exact":             Exactly(7),
	} {
		mean, sd := moments(d)
		if !near(mean, d.Mean, 1e-5) || math.Abs(sd-d.SD) > 1e-3*d.SD+1e-12 {
			t.Errorf("%s: the quantiles have mean %g and standard deviation %g, the distribution %g and %g", name, mean, sd, d.Mean, d.SD)
		}
		if err := d.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestQuantileTables compares with tabulated quantiles: of the standard normal
// distribution (NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.1: 0.975
// at 1.960, 0.99 at 2.326) and with closed forms of the others.
func TestQuantileTables(t *testing.T) {
	tests := map[string]struct {
		d       Dist
		p, want float64
		within  float64
	}{
		"normal 0.975":         {NormalDist(0, 1), 0.975, 1.960, 5e-4},
		"normal 0.01":          {NormalDist(0, 1), 0.01, -2.326, 5e-4},
		"uniform 0.25":         {UniformDist(20, 30), 0.25, 22.5, 1e-12},
		"triangular at peak":   {TriangularDist(1, 2, 6), 0.2, 2, 1e-12},                      // F(m) = (m-a)/(b-a)
		"triangular below":     {TriangularDist(1, 2, 6), 0.05, 1 + math.Sqrt(0.05*5), 1e-12}, // a+√(p(b-a)(m-a))
		"triangular above":     {TriangularDist(1, 2, 6), 0.8, 6 - math.Sqrt(0.2*5*4), 1e-12},
		"lognormal median":     {LognormalDist(5, 2), 0.5, 5 / math.Sqrt(1+0.16), 1e-12},
		"clipped at low bound": {NormalDist(1, 5).Bounded(0, math.Inf(1)), 0.1, 0, 0},
		"clipped at high":      {UniformDist(20, 30).Bounded(0, 25), 0.9, 25, 0},
		"far tail is finite":   {NormalDist(0, 1), 0, -8.2, 0.1},
	}
	for name, test := range tests {
		if got := test.d.Quantile(test.p); math.Abs(got-test.want) > test.within {
			t.Errorf("%s: Quantile(%g) = %.15g, want %.15g", name, test.p, got, test.want)
		}
	}
}

func TestQuantileRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(0.1, 100).Draw(t, "a")
		b := a + rapid.Float64Range(0.1, 100).Draw(t, "width")
		m := a + (b-a)*rapid.Float64Range(0, 1).Draw(t, "mode")
		d := []Dist{NormalDist(a, b-a), UniformDist(a, b), TriangularDist(a, m, b), LognormalDist(a, b-a)}[rapid.IntRange(0, 3).Draw(t, "shape")]
		p, q := rapid.Float64Range(0, 1).Draw(t, "p"), rapid.Float64Range(0, 1).Draw(t, "q")
		low, high := d.Quantile(math.Min(p, q)), d.Quantile(math.Max(p, q))
		if !finite(low, high) || low > high+1e-9*math.Abs(high) || low < d.Low || high > d.High {
			t.Fatalf("%+v: quantiles %g at %g and %g at %g", d, low, math.Min(p, q), high, math.Max(p, q))
		}
	})
}

func TestDistCheck(t *testing.T) {
	for name, d := range map[string]Dist{
		"NaN":                    Exactly(math.NaN()),
		"infinite":               Exactly(math.Inf(1)),
		"negative doubt":         NormalDist(1, -1),
		"bounds crossed":         Exactly(1).Bounded(2, 0),
		"NaN bound":              Exactly(1).Bounded(math.NaN(), 2),
		"mean outside bounds":    NormalDist(1, 1).Bounded(2, 3),
		"lognormal around zero":  LognormalDist(0, 1),
		"unknown shape":          {Shape: 9, High: 1},
		"infinite deviation":     NormalDist(1, math.Inf(1)),
		"nothing below infinity": Exactly(1).Bounded(math.Inf(1), math.Inf(1)),
	} {
		if err := d.Check(); !errors.Is(err, ErrDist) {
			t.Errorf("%s: Check() = %v, want %v", name, err, ErrDist)
		}
	}
}
