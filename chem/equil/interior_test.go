package equil

import (
	"math"
	"testing"
)

// TestBracketMeetsCases: the sure way alone, without Newton's method from a
// guess, gives the published answers.
func TestBracketMeetsCases(t *testing.T) {
	for _, c := range publishedCases(t) {
		for _, name := range publishedSets() {
			want := c.Result[name]
			if want.Unsupported != "" {
				continue
			}
			solver, q, err := mustSet(t, name).prepare(c.problem())
			if err != nil {
				t.Fatal(err)
			}
			if err := solver.pose(q); err != nil {
				t.Fatal(err)
			}
			var st Status
			if solver.fixed {
				st = solver.titrateSafely(solver.indexOf("Na"), solver.indexOf("NO3"), 0)
			} else {
				solver.bind(-1)
				st = solver.bracket(Status{})
			}
			got := solver.result(st)
			if !st.Converged || math.Abs(got.PH-want.PH) > casePH {
				t.Errorf("%s with %s: pH %g (converged %v), want %g", c.ID, name, got.PH, st.Converged, want.PH)
			}
			for k, v := range want.Dissolved {
				if !near(got.DissolvedMol[k], v, caseShare) {
					t.Errorf("%s with %s: dissolved %s %g, want %g", c.ID, name, k, got.DissolvedMol[k], v)
				}
			}
		}
	}
}

// TestInteriorBalances: at any held ionic strength the convex search meets the
// balances and finds what stands.
func TestInteriorBalances(t *testing.T) {
	solver, q, err := mustSet(t, MinteqDavies).prepare(Problem{
		TemperatureC: 25, Total: map[string]float64{"Zn": 0.01, "Ni": 0.01, "Fe": 0.01, "Pb": 0.01, "Cu": 0.02, "NO3": 0.23, "Na": 0.22},
		Allowed: []string{"Fe(OH)3", "CuO", "Cu(OH)2", "Zn(OH)2", "Ni(OH)2", "PbO"},
	})
	if err != nil {
		t.Fatal(err)
	}
	if err := solver.pose(q); err != nil {
		t.Fatal(err)
	}
	solver.bind(-1)
	for _, ionic := range []float64{1e-6, 0.01, 0.3, 3, 30} {
		has, steps := solver.atIonicStrength(ionic)
		if !(has > 0 && has < 1) || steps < 1 {
			t.Errorf("at %g the answer has an ionic strength of %g after %d steps", ionic, has, steps)
		}
		for c, name := range solver.Components() {
			if c == 0 {
				continue
			}
			sum := solver.Dissolved(c)
			for k := range solver.amount {
				sum += solver.sys.solidRow(k)[c] * solver.amount[k]
			}
			if !near(sum, q.Totals[c], 1e-5) {
				t.Errorf("at %g: %g mol %s found, %g put in", ionic, sum, name, q.Totals[c])
			}
		}
	}
}
