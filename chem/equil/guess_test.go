package equil

import (
	"math"
	"testing"
)

func TestRoughExp(t *testing.T) {
	for x := -599.0; x < 119; x += 0.0137 {
		if d := math.Abs(roughExp(x)/math.Exp(x) - 1); !(d < 2e-4) {
			t.Fatalf("roughExp(%g) is off by %.1e", x, d)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(-1), math.Inf(1), -1e9, 1e9} {
		if v := roughExp(x); !(v > 0) || math.IsInf(v, 0) {
			t.Errorf("roughExp(%g) = %g", x, v)
		}
	}
}

// TestGuessIsClose: without solids the guess meets every total within a factor,
// so that Newton's method arrives in a few steps.
func TestGuessIsClose(t *testing.T) {
	solver, q, err := mustSet(t, DefaultSet).prepare(Problem{
		TemperatureC: 25, Total: map[string]float64{"Cu": 0.3, "Ag": 0.01, "NO3": 2.61, "Na": 1, "Cl": 1},
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := solver.pose(q); err != nil {
		t.Fatal(err)
	}
	solver.bind(-1)
	solver.guess()
	solver.sumSpecies()
	for c, name := range solver.Components() {
		if c == 0 {
			continue
		}
		if ratio := solver.Dissolved(c) / q.Totals[c]; !(ratio > 0.5 && ratio < 2) {
			t.Errorf("the guess holds %.2f of the %s put in", ratio, name)
		}
	}
	if st := solver.newton(coldSteps, false); !st.Converged || st.Iterations > 8 {
		t.Errorf("from the guess: %+v, want a few steps", st)
	}
}

func TestSortByTotal(t *testing.T) {
	solver, q, err := mustSet(t, DefaultSet).prepare(Problem{TemperatureC: 25, Total: map[string]float64{"Ag": 1e-6, "Na": 1, "Cl": 0.1, "NO3": 0.9 + 1e-6}})
	if err != nil {
		t.Fatal(err)
	}
	if err := solver.pose(q); err != nil {
		t.Fatal(err)
	}
	solver.bind(-1)
	solver.sortByTotal()
	for i := 1; i < len(solver.order); i++ {
		if a, b := solver.total[solver.order[i-1]], solver.total[solver.order[i]]; math.Abs(a) > math.Abs(b) {
			t.Errorf("%g stands before %g", a, b)
		}
	}
}
