package equil

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// drawProblem makes a mixture of the bench: totals from 1e-9 mol to a given
// most, any pH, any solids.
func drawProblem(t *rapid.T, set *Set, most float64) Problem {
	p := Problem{
		TemperatureC: rapid.Float64Range(0, 100).Draw(t, "celsius"),
		Total:        map[string]float64{}, SolidAdded: map[string]float64{},
	}
	for _, c := range set.Components()[1:] {
		if rapid.Bool().Draw(t, c) {
			p.Total[c] = math.Pow(10, rapid.Float64Range(-9, math.Log10(most)).Draw(t, "log "+c))
		}
	}
	for _, s := range set.Solids() {
		if !rapid.Bool().Draw(t, s) {
			continue
		}
		p.Allowed = append(p.Allowed, s)
		if rapid.IntRange(0, 4).Draw(t, "added") == 0 {
			p.SolidAdded[s] = math.Pow(10, rapid.Float64Range(-6, 0).Draw(t, "log added"))
		}
	}
	if rapid.Bool().Draw(t, "fixed") {
		p.FixedPH = true
		p.PH = rapid.Float64Range(-1, 15).Draw(t, "pH")
	}
	return p
}

func drawSet(t *rapid.T) *Set {
	set, err := LoadSet(rapid.SampledFrom(SetNames()).Draw(t, "set"))
	if err != nil {
		t.Fatal(err)
	}
	return set
}

// checkAnswer holds an answer to its equations, from its own figures: every
// component is where it was put, the charges balance, solids that stand are at
// saturation and no others above it.
func checkAnswer(t *rapid.T, set *Set, p Problem, r Result) {
	byName := map[string]made{}
	for _, m := range set.species {
		byName[m.name] = m
	}
	held, charge, absolute := map[string]float64{}, 0.0, 0.0
	for name, mol := range r.SpeciesMol {
		m := byName[name]
		charge += m.charge * mol
		absolute += math.Abs(m.charge) * mol
		for _, part := range m.parts {
			held[set.components[part.component].name] += part.count * mol
		}
	}
	if math.Abs(charge) > 1e-7*absolute {
		t.Fatalf("charge %g of %g mol", charge, absolute)
	}
	put := map[string]float64{}
	for name, mol := range p.Total {
		put[name] += mol
	}
	if r.NaOHAddedMol > 0 {
		put["Na"] += r.NaOHAddedMol
	} else {
		put["NO3"] -= r.NaOHAddedMol
	}
	for i, m := range set.solids {
		added, stands := p.SolidAdded[m.name], r.SolidsMol[m.name]
		if !slices.Contains(p.Allowed, m.name) || set.solidIndex(m.name) != i {
			continue
		}
		for _, part := range m.parts {
			name := set.components[part.component].name
			put[name] += added * part.count
			held[name] += stands * part.count
		}
		if si, ok := r.Saturation[m.name]; ok && (si > 1e-6 || stands > 0 && si < -1e-6) {
			t.Fatalf("%s: %g mol stand at a saturation index of %g", m.name, stands, si)
		}
		if stands < 0 {
			t.Fatalf("%s: %g mol", m.name, stands)
		}
	}
	for name, want := range put {
		if name != hydrogen && math.Abs(held[name]-want) > 1e-7*(want+1e-12) {
			t.Fatalf("%s: %g mol found, %g put in", name, held[name], want)
		}
	}
}

func checkFinite(t *rapid.T, r Result) {
	for _, v := range []float64{r.PH, r.IonicStrength, r.WaterKg, r.WaterActivity, r.NaOHAddedMol, r.Residual} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Fatalf("not finite: %+v", r)
		}
	}
	for _, m := range []map[string]float64{r.SpeciesMol, r.DissolvedMol, r.SolidsMol, r.Saturation} {
		for k, v := range m {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("%s is %g", k, v)
			}
		}
	}
}

// TestAnswersHold: whatever is asked, an answer that says it converged meets
// its equations, and one that did not comes with an error.
func TestAnswersHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := drawSet(t)
		p := drawProblem(t, set, 10)
		r, err := set.Solve(p)
		checkFinite(t, r)
		switch {
		case errors.Is(err, ErrUnsupported):
		case errors.Is(err, ErrNotConverged):
			if r.Converged {
				t.Fatalf("error %v with an answer", err)
			}
		case err != nil:
			t.Fatal(err)
		default:
			if !r.Converged {
				t.Fatal("no error and no answer")
			}
			checkAnswer(t, set, p, r)
		}
	})
}

// TestLiquorsConverge: mixtures up to 3 mol/kg at a pH that such mixtures have
// converge without exception.
func TestLiquorsConverge(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := drawSet(t)
		p := drawProblem(t, set, 3)
		p.FixedPH = false
		if _, err := set.Solve(p); err != nil && !errors.Is(err, ErrUnsupported) {
			t.Fatal(err)
		}
	})
}

// TestStartDoesNotMatter: the answer is the same cold, from another mixture's
// answer, and by the sure way alone.
func TestStartDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := drawSet(t)
		p := drawProblem(t, set, 3)
		solver, q, err := set.prepare(p)
		if err != nil {
			t.Skip(err)
		}
		cold, err := solver.Solve(q)
		if err != nil || !cold.Converged {
			t.Skip("not converged")
		}
		want := solver.result(cold)

		other := Question{Totals: slices.Clone(q.Totals), Solids: q.Solids, FixedPH: q.FixedPH, PH: q.PH}
		for i := range other.Totals {
			other.Totals[i] *= rapid.Float64Range(0.2, 5).Draw(t, "scale")
		}
		if _, err := solver.Solve(other); err != nil {
			t.Fatal(err)
		}
		warm, err := solver.Solve(q)
		if err != nil {
			t.Fatal(err)
		}
		sameAnswer(t, "from another answer", solver.result(warm), want)

		sure, q, err := set.prepare(p)
		if err != nil {
			t.Fatal(err)
		}
		sameAnswer(t, "by the sure way", sure.result(solveSurely(t, sure, q)), want)
	})
}

// solveSurely goes round Newton's method from a guess.
func solveSurely(t *rapid.T, s *Solver, q Question) Status {
	if err := s.pose(q); err != nil {
		t.Fatal(err)
	}
	if s.fixed {
		return s.titrateSafely(s.indexOf("Na"), s.indexOf("NO3"), 0)
	}
	s.bind(-1)
	return s.bracket(Status{})
}

func sameAnswer(t *rapid.T, how string, got, want Result) {
	if !got.Converged || math.Abs(got.PH-want.PH) > 1e-5 {
		t.Fatalf("%s: pH %g (converged %v), want %g", how, got.PH, got.Converged, want.PH)
	}
	for name, mol := range want.DissolvedMol {
		if math.Abs(got.DissolvedMol[name]-mol) > 1e-5*mol+1e-13 {
			t.Fatalf("%s: dissolved %s %g, want %g", how, name, got.DissolvedMol[name], mol)
		}
	}
}

// TestOrderDoesNotMatter: components, species and solids in another order give
// the same answer.
func TestOrderDoesNotMatter(t *testing.T) {
	d := mustSet(t, MinteqDavies).Definition()
	mixed := d
	r := rand.New(rand.NewPCG(1, 2))
	mixed.Components = slices.Clone(d.Components)
	r.Shuffle(len(mixed.Components)-1, func(i, j int) {
		mixed.Components[i+1], mixed.Components[j+1] = mixed.Components[j+1], mixed.Components[i+1]
	})
	mixed.Species = slices.Clone(d.Species)
	ammonium := slices.IndexFunc(mixed.Species, func(row ConstantRow) bool { return row.Name == "NH4+" })
	mixed.Species[0], mixed.Species[ammonium] = mixed.Species[ammonium], mixed.Species[0]
	r.Shuffle(len(mixed.Species)-1, func(i, j int) {
		mixed.Species[i+1], mixed.Species[j+1] = mixed.Species[j+1], mixed.Species[i+1]
	})
	mixed.Solids = slices.Clone(d.Solids)
	slices.Reverse(mixed.Solids)
	shuffled, err := mixed.Set()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range publishedCases(t) {
		p := c.problem()
		want, err := mustSet(t, MinteqDavies).Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		slices.Reverse(p.Allowed)
		got, err := shuffled.Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		if !near(got.PH, want.PH, 1e-8) {
			t.Errorf("%s: pH %g in another order, want %g", c.ID, got.PH, want.PH)
		}
		for name, mol := range want.DissolvedMol {
			if !near(got.DissolvedMol[name], mol, 1e-6) {
				t.Errorf("%s: dissolved %s %g in another order, want %g", c.ID, name, got.DissolvedMol[name], mol)
			}
		}
	}
}

// TestCommonIon: more chloride, as salt or as acid, never raises the activity
// of free silver over silver chloride.
func TestCommonIon(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := drawSet(t)
		chloride := math.Pow(10, rapid.Float64Range(-6, 0.5).Draw(t, "log chloride"))
		more := chloride * rapid.Float64Range(1.01, 3).Draw(t, "factor")
		p := Problem{
			TemperatureC: rapid.Float64Range(5, 95).Draw(t, "celsius"),
			Total:        map[string]float64{}, SolidAdded: map[string]float64{"AgCl": 0.5}, Allowed: []string{"AgCl"},
		}
		salt := rapid.Bool().Draw(t, "salt")
		activity := func(mol float64) float64 {
			p.Total["Cl"] = mol
			if salt {
				p.Total["Na"] = mol
			}
			solver, q, err := set.prepare(p)
			if err != nil {
				t.Fatal(err)
			}
			if st, err := solver.Solve(q); err != nil || !st.Converged {
				t.Fatal(st, err)
			}
			return solver.Activity(solver.indexOf("Ag"))
		}
		if a, b := activity(chloride), activity(more); b > a*(1+1e-9) {
			t.Fatalf("free silver %g at %g mol/kg chloride, %g at %g", a, chloride, b, more)
		}
	})
}

func TestSolverRefuses(t *testing.T) {
	solver, err := NewSolver(mustSet(t, DefaultSet), []string{"Ag", "Cl"}, []string{"AgCl"})
	if err != nil {
		t.Fatal(err)
	}
	for name, q := range map[string]Question{
		"too few totals":   {Totals: []float64{0}},
		"below nothing":    {Totals: []float64{0, -1, 1}},
		"not a number":     {Totals: []float64{0, math.NaN(), 1}},
		"endless":          {Totals: []float64{0, math.Inf(1), 1}},
		"solid below 0":    {Totals: []float64{0, 1, 1}, Solids: []float64{-1}},
		"no pH":            {Totals: []float64{0, 1, 1}, FixedPH: true, PH: math.NaN()},
		"no titrant":       {Totals: []float64{0, 1, 1}, FixedPH: true, PH: 7},
		"inert not finite": {Totals: []float64{0, 1, 1}, Inert: Inert{Charge: math.NaN()}},
	} {
		if st, err := solver.Solve(q); err == nil {
			t.Errorf("%s: %+v without an error", name, st)
		}
	}
	if _, err := NewSolver(mustSet(t, DefaultSet), []string{"Xx"}, nil); !errors.Is(err, ErrUnsupported) {
		t.Errorf("NewSolver with Xx: %v, want ErrUnsupported", err)
	}
}

// TestPureWater: water alone is neutral.
func TestPureWater(t *testing.T) {
	for _, name := range SetNames() {
		r, err := mustSet(t, name).Solve(Problem{TemperatureC: 25})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(r.PH-7) > 0.01 || !near(r.WaterKg, 1, 1e-6) || r.IonicStrength > 2e-7 {
			t.Errorf("%s: pure water has pH %g, ionic strength %g, %g kg", name, r.PH, r.IonicStrength, r.WaterKg)
		}
	}
}

// TestInert: a stranger's charge is made up by hydrogen ion and its ionic
// strength counted: perchlorate as a stranger is a strong acid.
func TestInert(t *testing.T) {
	solver, err := NewSolver(mustSet(t, DefaultSet), nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	q := Question{Totals: []float64{0}, Inert: Inert{Mol: 0.1, Charge: -0.1, Squares: 0.1}}
	if st, err := solver.Solve(q); err != nil || !st.Converged {
		t.Fatal(st, err)
	}
	if !near(solver.IonicStrength(), 0.1, 1e-6) || math.Abs(solver.PH()-1.08) > 0.01 {
		t.Errorf("0.1 mol/kg of a strong acid: ionic strength %g, pH %g", solver.IonicStrength(), solver.PH())
	}
}

func FuzzSolve(f *testing.F) {
	f.Add(uint8(0), 25.0, 0.01, 0.01, 1.0, 1.0, 7.0, true, uint16(0xffff))
	f.Add(uint8(1), 90.0, 1e-9, 10.0, 10.0, 0.0, -1.0, true, uint16(1))
	f.Add(uint8(2), 25.0, 0.0, 0.0, 0.0, 0.0, 15.0, true, uint16(0))
	f.Add(uint8(3), 60.0, 0.3, 2.6, 1.0, 0.02, 0.0, false, uint16(0x00ff))
	f.Fuzz(func(t *testing.T, which uint8, celsius, silver, nitrate, chloride, copper, ph float64, fixed bool, solids uint16) {
		set, err := LoadSet(SetNames()[int(which)%4])
		if err != nil {
			t.Fatal(err)
		}
		p := Problem{TemperatureC: celsius, FixedPH: fixed, PH: ph, Total: map[string]float64{
			"Ag": silver, "NO3": nitrate, "Cl": chloride, "Cu": copper,
		}}
		for i, name := range set.Solids() {
			if solids&(1<<(i%16)) != 0 {
				p.Allowed = append(p.Allowed, name)
			}
		}
		r, err := set.Solve(p)
		if err != nil {
			_ = err.Error()
		}
		if r.Converged != (err == nil) {
			t.Fatalf("converged %v with error %v", r.Converged, err)
		}
		for _, m := range []map[string]float64{r.SpeciesMol, r.DissolvedMol, r.SolidsMol, {"": r.PH, "I": r.IonicStrength}} {
			for k, v := range m {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%s is %g", k, v)
				}
			}
		}
	})
}
