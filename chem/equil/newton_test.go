package equil

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestSlopes: the slopes that Newton's method steps along are those of the
// equations, by finite differences, anywhere and in both controls of the pH.
func TestSlopes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		solver := drawState(t)
		n, k := len(solver.unknown), len(solver.active)
		dim := n + solidsAt + k
		width := dim + 1
		solver.assemble()
		base := slices.Clone(solver.matrix[:dim*width])
		scale := slices.Clone(solver.scale[:dim])
		titrant := solver.titrant
		for col := range dim {
			up, down := sides(solver, col, titrant)
			for row := range dim {
				slope := -(up[row] - down[row]) / 2e-5 / scale[row]
				got := base[row*width+col]
				// Differences lose the digits that the sides of the row have over them.
				noise := 1e-10 * (math.Abs(up[row]) + math.Abs(down[row])) / scale[row]
				for _, v := range base[row*width : row*width+width] {
					noise = math.Max(noise, 1e-7*math.Abs(v))
				}
				if math.Abs(got-slope) > 1e-3*(math.Abs(got)+math.Abs(slope))+noise {
					t.Fatalf("row %d, unknown %d of %d+%d+%d: slope %g, by differences %g", row, col, n, solidsAt, k, got, slope)
				}
			}
		}
	})
}

// drawState puts a solver anywhere at all, with solids standing.
func drawState(t *rapid.T) *Solver {
	set := drawSet(t)
	p := Problem{
		TemperatureC: 25, Total: map[string]float64{"Ag": 0.01, "Cu": 0.1, "Cl": 0.4, "NO3": 0.3, "Na": 0.2, "SO4": 0.05},
		Allowed: []string{"AgCl", "CuO"}, FixedPH: rapid.Bool().Draw(t, "fixed"), PH: 4,
	}
	solver, q, err := set.prepare(p)
	if err != nil {
		t.Fatal(err)
	}
	if err := solver.pose(q); err != nil {
		t.Fatal(err)
	}
	closing := -1
	if p.FixedPH {
		closing = solver.indexOf(rapid.SampledFrom([]string{"Na", "NO3"}).Draw(t, "closing"))
	}
	solver.bind(closing)
	solver.start()
	for _, c := range solver.unknown {
		solver.ln[c] = rapid.Float64Range(-12, 0.5).Draw(t, "ln")
	}
	solver.ionic = rapid.Float64Range(0.01, 4).Draw(t, "ionic")
	solver.lnWater = -rapid.Float64Range(0.001, 0.2).Draw(t, "water activity")
	solver.water = rapid.Float64Range(0.5, 1.5).Draw(t, "water")
	for i := range solver.standing {
		solver.standing[i] = rapid.Bool().Draw(t, "stands")
		solver.amount[i] = rapid.Float64Range(0, 0.1).Draw(t, "amount")
	}
	solver.listActive()
	return solver
}

// sides are the right-hand sides, not divided by their scales, a little to
// either side of the present place along one unknown.
func sides(s *Solver, col int, titrant float64) (up, down []float64) {
	n := len(s.unknown)
	move := func(by float64) {
		switch {
		case col < n:
			s.ln[s.unknown[col]] += by
		case col == n+ionicAt:
			s.ionic += by
		case col == n+waterActivityAt:
			s.lnWater += by
		case col == n+waterMassAt:
			s.water *= math.Exp(by)
		default:
			s.amount[s.active[col-n-solidsAt]] += by
		}
	}
	read := func() []float64 {
		s.assemble()
		dim := n + solidsAt + len(s.active)
		rhs := make([]float64, dim)
		for row := range dim {
			rhs[row] = s.matrix[row*(dim+1)+dim] * s.scale[row]
		}
		return rhs
	}
	const h = 1e-5
	move(h)
	up = read()
	move(-2 * h)
	down = read()
	move(h)
	s.titrant = titrant
	return up, down
}

// TestStepsAreBounded: no step, however wrong, takes the ionic strength or the
// water out of their ranges.
func TestStepsAreBounded(t *testing.T) {
	s := &Solver{ionic: 1, water: 1}
	s.stepIonic(-100)
	if !near(s.ionic, 0.25, 1e-12) {
		t.Errorf("ionic strength falls from 1 to %g", s.ionic)
	}
	s.stepIonic(1e9)
	if !(s.ionic <= 4*0.25+1e-3) {
		t.Errorf("ionic strength rises to %g", s.ionic)
	}
	s.stepWater(-50, 40)
	if !near(math.Exp(s.lnWater), lowestWaterActivity, 1e-9) || s.water > 2.1 {
		t.Errorf("water activity %g, %g kg", math.Exp(s.lnWater), s.water)
	}
}
