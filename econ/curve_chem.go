package econ

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"afterpour/chem/equil"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// liquor is what stands in a lot's vessel, posed as a problem for the solver.
type liquor struct {
	set     *equil.Set
	problem equil.Problem // for 1 kg of its water
	stream  substance.Stream
	ph      float64
	perKg   float64 // litres of liquor that hold 1 kg of water
	sources []string
	notes   []string
}

// liquorOf takes the lot of a request at its central figures and temperature.
// Errors: ErrCurve for a lot without liquor, those of the solver.
func liquorOf(req Request) (*liquor, error) {
	figs := req.Figures.Clone()
	model, err := ModelOf(req.Lot, figs)
	if err != nil {
		return nil, fmt.Errorf("econ: %w", err)
	}
	inv := model.Inventory(figs.Central())
	kg := waterKg(inv.Vessel)
	if !(kg > 0) || !(inv.Vessel.LiquidVolume() > 0) {
		return nil, fmt.Errorf("%w: nothing stands there that salt or base could be poured into", ErrCurve)
	}
	sp, err := speciation()
	if err != nil {
		return nil, fmt.Errorf("econ: %w", err)
	}
	settled := inv.Vessel.Clone()
	outcome, err := sp.Equilibrate(&settled)
	if err != nil {
		return nil, fmt.Errorf("econ: %w", err)
	}
	l := &liquor{set: sp.Set(), stream: inv.Vessel, ph: outcome.PH, sources: outcome.Sources}
	l.perKg = inv.Vessel.LiquidVolume().Litres() / kg
	if l.problem, err = sp.ProblemOf(inv.Vessel); err != nil {
		return nil, fmt.Errorf("econ: %w", err)
	}
	l.notes = append(l.notes, fmt.Sprintf("equilibrium at %s with the constants %s; bench time may be too short for it",
		units.Format(units.TemperatureKind, float64(inv.Vessel.Temperature)), l.set.Title()))
	return l, nil
}

// waterKg is the mass of water in a stream.
func waterKg(s substance.Stream) float64 {
	water := substance.MustFind("H2O(l)")
	return s.Mol[water] * float64(water.Species().MolarMass) / 1000
}

// The ends of the two axes: chloride from a thousandth of a mole a kilogram of
// water, or a hundredth of the silver, to a brine; pH from strong acid to strong
// base.
const (
	leastChloride = 1e-4
	mostChloride  = 4.0
	lowestPH      = 0.0
	highestPH     = 13.0
)

// SilverAgainstChloride is how much silver stays dissolved in the lot's liquor
// against the common salt put into it, at its temperature: first it falls as
// silver chloride comes down, then it rises again as chloride takes silver back.
// Marks name as much chloride as silver, and the lowest point.
//
// Errors: ErrCurve for a lot without liquor or silver, those of the solver.
func SilverAgainstChloride(req Request, points int) (Curve, error) {
	l, err := liquorOf(req)
	if err != nil {
		return Curve{}, err
	}
	silver := l.stream.Element("Ag") / waterKg(l.stream)
	if !(silver > 0) {
		return Curve{}, fmt.Errorf("%w: the lot holds no silver", ErrCurve)
	}
	from := math.Max(leastChloride, math.Min(silver/100, mostChloride/100))
	curve, err := l.set.SilverAgainstChloride(l.problem, "Na", from, mostChloride, points)
	if err = l.partly(curve, err); err != nil {
		return Curve{}, err
	}
	salt := molarMass("NaCl") / l.perKg // g/L of salt for a mol/kg
	mg := 1000 * molarMass("Ag") / l.perKg
	c := Curve{
		Title: "Silver that stays dissolved against common salt put in",
		X:     Axis{Name: "sodium chloride put in", Unit: "g/L", Log: true},
		Y:     Axis{Name: "silver dissolved", Unit: "mg/L", Log: true},
		Notes: l.beyond(curve, func(x float64) string { return toDigits(x*salt, 2) + " g/L of salt" }), Sources: l.sources,
	}
	c.Series = []Series{l.line(curve, "Ag", salt, mg)}
	if equal := silver - l.stream.Element("Cl")/waterKg(l.stream); equal > from && equal < mostChloride {
		c.Marks = append(c.Marks, Mark{X: equal * salt, Y: yAt(c.Series[0].Points, equal*salt), Kind: Equal, Text: "as much chloride as silver"})
	}
	if least, ok := l.lowest(curve); ok {
		y := least.Dissolved[0] * mg
		c.Marks = append(c.Marks, Mark{X: least.X * salt, Y: y, Kind: Lowest, Text: fmt.Sprintf("the least that stays dissolved, %s mg/L", toDigits(y, 2))})
	}
	slices.SortFunc(c.Marks, func(a, b Mark) int { return int(math.Copysign(1, a.X-b.X)) })
	return c, nil
}

// lowest looks closer at the neighbourhood of a silver curve's lowest point.
func (l *liquor) lowest(c equil.Curve) (equil.CurvePoint, bool) {
	least, ok := c.Least("Ag")
	at := slices.IndexFunc(c.Points, func(p equil.CurvePoint) bool { return p.X >= least.X })
	if !ok || at <= 0 || at == len(c.Points)-1 {
		return least, ok
	}
	const closer = 21
	fine, err := l.set.SilverAgainstChloride(l.problem, "Na", c.Points[at-1].X, c.Points[at+1].X, closer)
	if err != nil {
		return least, ok
	}
	return fine.Least("Ag")
}

// MetalsAgainstPH is how much of each metal stays dissolved in the lot's liquor
// against pH, reached with caustic or with nitric acid, at its temperature.
//
// Errors: ErrCurve for a lot without liquor or dissolved metals, those of the
// solver.
func MetalsAgainstPH(req Request, points int) (Curve, error) {
	l, err := liquorOf(req)
	if err != nil {
		return Curve{}, err
	}
	curve, err := l.set.MetalsAgainstPH(l.problem, lowestPH, highestPH, points)
	if err = l.partly(curve, err); err != nil {
		return Curve{}, err
	}
	c := Curve{
		Title: "Metals that stay dissolved against pH",
		X:     Axis{Name: "pH"}, Marks: []Mark{}, Y: Axis{Name: "metal dissolved", Unit: "g/L", Log: true}, Here: l.ph,
		Notes: l.beyond(curve, func(x float64) string { return "pH " + toDigits(x, 2) }), Sources: l.sources,
	}
	for _, metal := range curve.Names {
		c.Series = append(c.Series, l.line(curve, metal, 1, molarMass(metal)/l.perKg))
	}
	if len(c.Series) == 0 {
		return Curve{}, fmt.Errorf("%w: the lot holds no dissolved metal that the constants know", ErrCurve)
	}
	return c, nil
}

// partly lets a curve pass that the solver could not finish, with a note.
func (l *liquor) partly(c equil.Curve, err error) error {
	if errors.Is(err, equil.ErrNotConverged) && len(c.Points) >= fewestPoints {
		l.notes = append(l.notes, "no equilibrium was found beyond the last point")
		return nil
	}
	if err != nil {
		return fmt.Errorf("econ: %w", err)
	}
	return nil
}

// line is one component's dissolved amounts.
func (l *liquor) line(c equil.Curve, name string, perX, perY float64) Series {
	at := slices.Index(c.Names, name)
	s := Series{Name: name}
	for _, p := range c.Points {
		point := Point{X: p.X * perX, Blocked: "not in the set of constants"}
		if at >= 0 {
			point = Point{X: p.X * perX, Y: p.Dissolved[at] * perY}
		}
		s.Points = append(s.Points, point)
	}
	return s
}

// beyond notes where the constants are used outside the range they hold for.
func (l *liquor) beyond(c equil.Curve, name func(float64) string) []string {
	var from, to string
	count := 0
	for _, p := range c.Points {
		if p.Beyond {
			if count == 0 {
				from = name(p.X)
			}
			to = name(p.X)
			count++
		}
	}
	switch {
	case count == len(c.Points) && count > 0:
		return append(l.notes, "the liquor is beyond what the constants hold for; read the shape, not the figures")
	case count > 0:
		return append(l.notes, fmt.Sprintf("between %s and %s the constants are used beyond what they hold for", from, to))
	}
	return l.notes
}

// yAt is the height of a line at x, on the chord between its points.
func yAt(points []Point, x float64) float64 {
	i, _ := slices.BinarySearchFunc(points, x, func(p Point, x float64) int { return int(math.Copysign(1, p.X-x)) })
	switch {
	case len(points) == 0:
		return 0
	case i == 0:
		return points[0].Y
	case i >= len(points):
		return points[len(points)-1].Y
	}
	a, b := points[i-1], points[i]
	return a.Y + (b.Y-a.Y)*(x-a.X)/(b.X-a.X)
}

// molarMass is the molar mass of a formula in g/mol; 0 for one that is none.
func molarMass(formula string) float64 {
	f, err := substance.ParseFormula(formula)
	if err != nil {
		return 0
	}
	return float64(f.MolarMass())
}

// toDigits writes a number to so many significant digits, as people write it.
func toDigits(v float64, digits int) string {
	text := fmt.Sprintf("%.*g", digits, v)
	if strings.Contains(text, "e") {
		text = fmt.Sprintf("%.*f", max(0, digits-1-int(math.Floor(math.Log10(math.Abs(v))))), v)
	}
	return text
}
