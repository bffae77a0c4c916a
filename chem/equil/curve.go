package equil

import (
	"fmt"
	"maps"
	"math"
	"slices"
)

// Curve is how dissolved amounts go with one quantity, for a screen to draw.
type Curve struct {
	Set    string
	Axis   string   // what X is, with its unit
	Names  []string // components whose dissolved amounts are given
	Points []CurvePoint
}

// CurvePoint is one place on a curve. Dissolved amounts are mol per kg of water
// put in, in the order of the curve's names.
type CurvePoint struct {
	X             float64
	Dissolved     []float64
	PH            float64
	IonicStrength float64
	Beyond        bool // outside what the constants hold for
}

// Least is the point at which the least of a component is dissolved; false
// where the curve does not have it.
func (c Curve) Least(name string) (CurvePoint, bool) {
	i := slices.Index(c.Names, name)
	if i < 0 || len(c.Points) == 0 {
		return CurvePoint{}, false
	}
	return slices.MinFunc(c.Points, func(a, b CurvePoint) int {
		switch {
		case a.Dissolved[i] < b.Dissolved[i]:
			return -1
		case a.Dissolved[i] > b.Dissolved[i]:
			return 1
		}
		return 0
	}), true
}

// mostPoints bounds a curve; a screen has fewer columns.
const mostPoints = 2000

// SilverAgainstChloride is dissolved silver against the chloride put in, from
// one total to another (mol/kg) on a logarithmic scale. The chloride comes as
// the salt of the cation ("Na") or, with none, as hydrochloric acid. Of silver
// there is as much as problem.Total says; silver chloride may stand.
//
// Errors are those of Solve, and a range that is not one.
func (s *Set) SilverAgainstChloride(problem Problem, cation string, from, to float64, points int) (Curve, error) {
	if !(from > 0 && from < to && to <= mostTotal) {
		return Curve{}, fmt.Errorf("equil: chloride from %g to %g mol/kg is not a range", from, to)
	}
	problem = problem.copy()
	if !slices.Contains(problem.Allowed, "AgCl") {
		problem.Allowed = append(problem.Allowed, "AgCl")
	}
	base, counter := problem.Total["Cl"], problem.Total[cation]
	at := func(share float64) float64 { return from * math.Pow(to/from, share) }
	return s.trace("chloride put in, mol/kg", []string{"Ag"}, problem, points, at, func(p *Problem, x float64) {
		p.Total["Cl"] = base + x
		if cation != "" {
			p.Total[cation] = counter + x
		}
	})
}

// MetalsAgainstPH is the dissolved metals of a problem against pH, reached with
// sodium hydroxide or nitric acid, on an even scale.
func (s *Set) MetalsAgainstPH(problem Problem, from, to float64, points int) (Curve, error) {
	if !(from >= -2 && from < to && to <= 16) {
		return Curve{}, fmt.Errorf("equil: pH from %g to %g is not a range", from, to)
	}
	b, err := loadBench()
	if err != nil {
		return Curve{}, err
	}
	var metals []string
	for _, ion := range b.Ions {
		if ion.Metal && problem.Total[ion.Component] > 0 {
			metals = append(metals, ion.Component)
		}
	}
	problem = problem.copy()
	problem.FixedPH = true
	at := func(share float64) float64 { return from + (to-from)*share }
	return s.trace("pH", metals, problem, points, at, func(p *Problem, x float64) { p.PH = x })
}

func (p Problem) copy() Problem {
	p.Total = maps.Clone(p.Total)
	if p.Total == nil {
		p.Total = map[string]float64{}
	}
	p.SolidAdded = maps.Clone(p.SolidAdded)
	p.Allowed = slices.Clone(p.Allowed)
	return p
}

// trace solves at even shares of an axis, each point from the one before.
func (s *Set) trace(axis string, names []string, p Problem, points int,
	at func(float64) float64, put func(*Problem, float64),
) (Curve, error) {
	if points < 2 || points > mostPoints {
		return Curve{}, fmt.Errorf("equil: a curve has 2 to %d points, not %d", mostPoints, points)
	}
	put(&p, at(0))
	solver, question, err := s.prepare(p)
	if err != nil {
		return Curve{}, err
	}
	curve := Curve{Set: s.Name(), Axis: axis, Names: names}
	components := solver.Components()
	for i := range points {
		x := at(float64(i) / float64(points-1))
		put(&p, x)
		question.PH = p.PH
		for c, name := range components {
			question.Totals[c] = p.Total[name]
		}
		st, err := solver.Solve(question)
		if err == nil && !st.Converged {
			err = fmt.Errorf("equil: %s at %s %.4g: %w after %d steps", s.Name(), axis, x, ErrNotConverged, st.Iterations)
		}
		if err != nil {
			return curve, err
		}
		curve.Points = append(curve.Points, s.pointOf(solver, components, names, x))
	}
	return curve, nil
}

func (s *Set) pointOf(solver *Solver, components, names []string, x float64) CurvePoint {
	point := CurvePoint{
		X: x, PH: solver.PH(), IonicStrength: solver.IonicStrength(),
		Beyond: len(s.rangeWarnings(solver.place())) > 0,
	}
	for _, name := range names {
		mol := 0.0
		if c := slices.Index(components, name); c >= 0 {
			mol = solver.Dissolved(c)
		}
		point.Dissolved = append(point.Dissolved, mol)
	}
	return point
}
