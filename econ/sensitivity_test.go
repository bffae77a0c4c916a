package econ

import (
	"context"
	"math"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// indicesOf works out the indices of a function of independent inputs with the
// machinery of Drivers: its sampler, its pairs of draws, its estimators.
func indicesOf(runs int, dists []units.Dist, f func(x []float64) float64) (first, firstSE, total, totalSE []float64) {
	figs := &input.Figures{}
	for i, d := range dists {
		figs.Add(input.Figure{ID: string(rune('a' + i)), Dist: d})
	}
	s := &study{physical: newSampler(figs, 7, func(string) bool { return true }), priced: &sampler{}, central: figs.Central()}
	p := newPairs(runs, len(dists))
	v := figs.Central()
	for n := range runs {
		s.sample(v, runs+n)
		p.b[n] = f(v)
		s.sample(v, n)
		p.a[n] = f(v)
		for i := range dists {
			was := v[i]
			s.redraw(v, input.Ref(i), runs+n)
			p.ab[i][n] = f(v)
			v[i] = was
		}
	}
	p.close()
	for i := range dists {
		a, aSE := p.first(s.drawn(input.Ref(i), 2*runs))
		b, bSE := p.total(i)
		first, firstSE, total, totalSE = append(first, a), append(firstSE, aSE), append(total, b), append(totalSE, bSE)
	}
	return first, firstSE, total, totalSE
}

// checkIndices compares within four standard errors and what the degree of the
// regression leaves out.
func checkIndices(t *testing.T, what string, got, se, want []float64, slack float64) {
	t.Helper()
	for i := range want {
		if math.Abs(got[i]-want[i]) > 4*se[i]+slack {
			t.Errorf("%s index of input %d = %.4f ± %.4f, want %.4f", what, i+1, got[i], se[i], want[i])
		}
	}
}

// The Ishigami function with a = 7, b = 0.1 (Ishigami and Homma 1990; Saltelli
// et al., Sensitivity Analysis, Wiley 2000, section 2.9): S₁ = 0.3139,
// S₂ = 0.4424, S₃ = 0, and totals 0.5576, 0.4424, 0.2437.
func TestIndicesIshigami(t *testing.T) {
	u := units.UniformDist(-math.Pi, math.Pi)
	first, firstSE, total, totalSE := indicesOf(4000, []units.Dist{u, u, u}, func(x []float64) float64 {
		return math.Sin(x[0]) + 7*square(math.Sin(x[1])) + 0.1*math.Pow(x[2], 4)*math.Sin(x[0])
	})
	checkIndices(t, "first-order", first, firstSE, []float64{0.3139, 0.4424, 0}, 0.005)
	checkIndices(t, "total", total, totalSE, []float64{0.5576, 0.4424, 0.2437}, 0)
}

// The g function of Sobol with a = 0, 1, 4.5, 9, 99 (Saltelli and Sobol 1995):
// V_i = 1/(3(1+a_i)²), V = Π(1+V_i) − 1, S_i = V_i/V, T_i = V_i·Π_{j≠i}(1+V_j)/V.
func TestIndicesSobolG(t *testing.T) {
	a := []float64{0, 1, 4.5, 9, 99}
	part := make([]float64, len(a))
	all := 1.0
	for i := range a {
		part[i] = 1 / (3 * square(1+a[i]))
		all *= 1 + part[i]
	}
	var dists []units.Dist
	var wantFirst, wantTotal []float64
	for i := range a {
		dists = append(dists, units.UniformDist(0, 1))
		wantFirst = append(wantFirst, part[i]/(all-1))
		wantTotal = append(wantTotal, part[i]*all/(1+part[i])/(all-1))
	}
	first, firstSE, total, totalSE := indicesOf(4000, dists, func(x []float64) float64 {
		g := 1.0
		for i := range a {
			g *= (math.Abs(4*x[i]-2) + a[i]) / (1 + a[i])
		}
		return g
	})
	checkIndices(t, "first-order", first, firstSE, wantFirst, 0.01) // a kink takes more than degree 8
	checkIndices(t, "total", total, totalSE, wantTotal, 0)
}

// Of a sum of normal inputs each has its share of the variance, both ways.
func TestIndicesOfASum(t *testing.T) {
	dists := []units.Dist{units.NormalDist(3, 2), units.NormalDist(0, 1), units.LognormalDist(5, 0.5), units.Exactly(8)}
	first, firstSE, total, totalSE := indicesOf(2000, dists, func(x []float64) float64 { return x[0] + x[1] - x[2] + x[3] })
	want := []float64{4 / 5.25, 1 / 5.25, 0.25 / 5.25, 0}
	checkIndices(t, "first-order", first, firstSE, want, 0.002)
	checkIndices(t, "total", total, totalSE, want, 0)
}

func TestDrivers(t *testing.T) {
	if testing.Short() {
		t.Skip("some thousand simulations")
	}
	const lot = "sterling-parting.toml"
	a := appraised(t, request(t, lot, sampleLots(t)[lot], DefaultBook()))
	s, err := Drivers(context.Background(), a, a.Verdict.Plan)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("sd %.2f, others %.3f", s.SD, s.Others)
	for _, x := range s.Drivers {
		t.Logf("%-45s %.3f ± %.3f  %.3f ± %.3f  %.2f %.2f %t", x.ID, x.First, x.FirstSE, x.Total, x.TotalSE, x.Low, x.High, x.Turns)
	}
	if len(s.Drivers) == 0 || s.Drivers[0].ID != "price/spot.Ag" || !(s.Drivers[0].Total > 0.3) {
		t.Errorf("the price of silver does not lead: %+v", s.Drivers)
	}
	sum := s.Others
	for _, x := range s.Drivers {
		sum += x.First
		if !(x.First >= 0 && x.Total >= 0 && x.First <= x.Total+x.TotalSE+1e-9) {
			t.Errorf("%s: first order %v, total %v", x.ID, x.First, x.Total)
		}
	}
	if math.Abs(sum-1) > 0.1 {
		t.Errorf("first orders and others add up to %v", sum)
	}
	if _, err := Drivers(context.Background(), a, "no such plan"); err == nil {
		t.Error("drivers of no plan")
	}
}
