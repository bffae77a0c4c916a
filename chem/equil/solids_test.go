package equil

import "testing"

func solverFor(t *testing.T, p Problem) (*Solver, Question) {
	t.Helper()
	solver, q, err := mustSet(t, MinteqDavies).prepare(p)
	if err != nil {
		t.Fatal(err)
	}
	if err := solver.pose(q); err != nil {
		t.Fatal(err)
	}
	solver.bind(-1)
	solver.guess()
	return solver, q
}

func TestParallel(t *testing.T) {
	solver, _ := solverFor(t, Problem{
		TemperatureC: 25, Total: map[string]float64{"Cu": 0.1, "Ag": 0.1, "Cl": 0.1, "NO3": 0.2, "SO4": 0.1},
		Allowed: []string{"Cu(OH)2", "CuO", "AgCl", "Ag2O", "Cu4(OH)6SO4"},
	})
	at := map[string]int{}
	for k, name := range solver.Solids() {
		at[name] = k
	}
	if ratio, ok := solver.parallel(at["Cu(OH)2"], at["CuO"]); !ok || !near(ratio, 1, 1e-12) {
		t.Errorf("hydroxide and oxide of copper: %g, %v, want 1", ratio, ok)
	}
	for _, pair := range [][2]string{{"AgCl", "Ag2O"}, {"CuO", "Cu4(OH)6SO4"}, {"AgCl", "CuO"}} {
		if _, ok := solver.parallel(at[pair[0]], at[pair[1]]); ok {
			t.Errorf("%s and %s are taken for one", pair[0], pair[1])
		}
	}
}

// TestTakeUpHandsOver: of two forms of one hydroxide the amount goes over.
func TestTakeUpHandsOver(t *testing.T) {
	solver, _ := solverFor(t, Problem{
		TemperatureC: 25, Total: map[string]float64{"Cu": 0.1, "NO3": 0.1, "Na": 0.1}, Allowed: []string{"Cu(OH)2", "CuO"},
	})
	clear(solver.standing)
	solver.standing[0], solver.amount[0], solver.amount[1] = true, 0.07, 0
	solver.takeUp(1)
	if solver.standing[0] || !solver.standing[1] || !near(solver.amount[1], 0.07, 1e-12) || solver.amount[0] != 0 {
		t.Errorf("standing %v, amounts %v", solver.standing, solver.amount)
	}
}

// TestChooseOne: what is below nothing goes before what is above saturation
// comes, one at a time.
func TestChooseOne(t *testing.T) {
	solver, _ := solverFor(t, Problem{
		TemperatureC: 25, Total: map[string]float64{"Cu": 0.1, "Ag": 0.1, "Cl": 0.2, "NO3": 0.2, "Na": 0.3},
		Allowed: []string{"AgCl", "CuO", "Ag2O"},
	})
	for k := range solver.standing {
		solver.standing[k], solver.amount[k] = true, -0.01*float64(k+1)
	}
	for range 3 {
		if !solver.chooseOne() {
			t.Fatal("nothing to let go of")
		}
	}
	if len(solver.active) > 0 {
		t.Errorf("%v still stand", solver.active)
	}
	solver.ln[solver.indexOf("Ag")], solver.ln[solver.indexOf("Cl")], solver.ln[solver.indexOf("Cu")] = 0, 0, 20
	if !solver.chooseOne() || len(solver.active) != 1 {
		t.Errorf("of what is above saturation %d were taken up, want one", len(solver.active))
	}
}

func TestDropLeast(t *testing.T) {
	solver, _ := solverFor(t, Problem{
		TemperatureC: 25, Total: map[string]float64{"Cu": 0.1, "Ag": 0.1, "Cl": 0.2, "Na": 0.3}, Allowed: []string{"AgCl", "CuO"},
	})
	solver.standing[0], solver.standing[1] = true, true
	solver.amount[0], solver.amount[1] = 0.1, 0.001
	if !solver.dropLeast() || solver.standing[1] || !solver.standing[0] {
		t.Errorf("standing %v, want the second let go", solver.standing)
	}
	if !solver.dropLeast() || solver.dropLeast() {
		t.Error("dropLeast with nothing left")
	}
}

// TestTraceKeepsItsDigits: a metal of which a part in a hundred million is left
// dissolved is known to six digits of that part.
func TestTraceKeepsItsDigits(t *testing.T) {
	solver, q := solverFor(t, Problem{
		TemperatureC: 25, Total: map[string]float64{"Cu": 0.1, "NO3": 0.3, "Na": 0.30014}, Allowed: []string{"CuO"},
	})
	if st, err := solver.Solve(q); err != nil || !st.Converged {
		t.Fatal(st, err)
	}
	copper := solver.indexOf("Cu")
	if got, want := q.Totals[copper]-solver.Solid(0), solver.Dissolved(copper); !near(got, want, 1e-6) || want > 1e-6 {
		t.Errorf("total less solid %g, dissolved %g", got, want)
	}
}
