package econ

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"afterpour/chem/route"
)

// ErrCurve means a curve that cannot be drawn: a range that is none, or a lot
// that lacks what the curve is about.
var ErrCurve = errors.New("econ: no such curve")

// AsItStands is the name of the series of the best ending of the untouched lot.
const AsItStands = "as it stands"

// The number of points of a curve and of the plans that are drawn where none
// are named.
const (
	fewestPoints = 2
	mostPoints   = 500
	drawnPlans   = 3
)

// NetAgainst is the net of some plans, and of the lot as it stands, against one
// slider, with the places where a plan begins to gain and where another becomes
// the best. Without plans it takes the best three that work the lot up. From
// and to are in the slider's unit; where to is not above from, they are the ends
// of the slider.
//
// Errors: ErrNoSlider, ErrOutOfRange, ErrCurve, a cancelled context.
func NetAgainst(ctx context.Context, w *WhatIf, slider string, plans []string, from, to float64, points int) (Curve, error) {
	s, err := w.Slider(slider)
	if err != nil {
		return Curve{}, err
	}
	if !(to > from) {
		from, to = s.From, s.To
	}
	if points < fewestPoints || points > mostPoints {
		return Curve{}, fmt.Errorf("%w: a curve has %d to %d points, not %d", ErrCurve, fewestPoints, mostPoints, points)
	}
	n := netCurve{ctx: ctx, w: w, slider: s}
	if n.plans, err = w.drawn(plans); err != nil {
		return Curve{}, err
	}
	factor := s.Unit == "times" && from > 0
	xs := places(from, to, points, factor, s.Value)
	if err := n.trace(xs); err != nil {
		return Curve{}, err
	}
	c := Curve{
		Title: "Net against " + s.Label, Here: s.Value,
		X: Axis{Name: s.Label, Unit: s.Unit, Log: factor}, Y: Axis{Name: "net", Unit: w.base.Currency},
	}
	for i, name := range n.names() {
		line := Series{Name: name}
		for j := range xs {
			line.Points = append(line.Points, n.rows[j][i])
		}
		c.Series = append(c.Series, line)
	}
	c.Notes, c.Sources = []string{}, []string{}
	c.Marks, err = n.marks()
	return c, err
}

// drawn are the plans of a curve: those named, or the best that work the lot up.
func (w *WhatIf) drawn(ids []string) ([]*PricedPlan, error) {
	var list []*PricedPlan
	for _, id := range ids {
		p := w.base.Plan(id)
		if p == nil {
			return nil, fmt.Errorf("%w: the lot has no plan %q", ErrCurve, id)
		}
		if !p.untouched() && !slices.Contains(list, p) {
			list = append(list, p)
		}
	}
	for i := range w.base.Plans {
		p := &w.base.Plans[i]
		if len(ids) == 0 && len(list) < drawnPlans && p.Priced() && !p.untouched() && p.FoldedInto == "" {
			list = append(list, p)
		}
	}
	return list, nil
}

// netCurve works a curve of nets out.
type netCurve struct {
	ctx    context.Context
	w      *WhatIf
	slider Slider
	plans  []*PricedPlan
	rows   [][]Point // by place, then by series: the plans, and the lot as it stands
}

func (n *netCurve) names() []string {
	names := make([]string, 0, len(n.plans)+1)
	for _, p := range n.plans {
		names = append(names, p.ID)
	}
	return append(names, AsItStands)
}

func (n *netCurve) trace(xs []float64) error {
	for _, x := range xs {
		row, err := n.at(x)
		if err != nil {
			return err
		}
		n.rows = append(n.rows, row)
	}
	return nil
}

// at is the net of every series at one place.
func (n *netCurve) at(x float64) ([]Point, error) {
	if err := n.ctx.Err(); err != nil {
		return nil, fmt.Errorf("econ: %w", err)
	}
	priced, err := n.w.carried(n.ctx, n.plans, Move{n.slider.ID, x})
	if err != nil {
		return nil, err
	}
	row := make([]Point, len(n.plans)+1)
	base := &row[len(n.plans)]
	*base = Point{X: x, Blocked: "no ending of the lot as it stands can be priced"}
	for i := range priced {
		p := &priced[i]
		point := Point{X: x, Y: p.Net.Float()}
		if !p.Priced() {
			point = Point{X: x, Blocked: p.Blocked.Reason}
		}
		switch {
		case i < len(n.plans):
			row[i] = point
		case point.There() && (!base.There() || point.Y > base.Y):
			*base = point
		}
	}
	return row, nil
}

// carried prices some plans and the endings of the untouched lot, in that order,
// after a move. A move of prices alone needs no plan carried out anew.
func (w *WhatIf) carried(ctx context.Context, plans []*PricedPlan, m Move) ([]PricedPlan, error) {
	req, quick, err := w.moved([]Move{m})
	if err != nil {
		return nil, err
	}
	var wanted []route.Plan
	for _, p := range plans {
		wanted = append(wanted, route.NewPlan(p.Routes, p.Ending))
	}
	for _, ending := range route.Endings {
		wanted = append(wanted, route.NewPlan(nil, ending))
	}
	if quick {
		return w.repriced(req, wanted), nil
	}
	figs := req.Figures
	model, err := ModelOf(req.Lot, figs)
	if err != nil {
		return nil, fmt.Errorf("econ: %w", err)
	}
	v := figs.Central()
	job := route.Job{
		Inventory: model.Inventory(v), Values: v, Bench: req.Book.Bench(), Shelf: req.Book.Shelf(),
		Declared: req.Lot.Declared, Acknowledged: req.Lot.Acknowledged,
	}
	outcomes, err := req.Library.SimulateAll(ctx, job, wanted)
	if err != nil {
		return nil, fmt.Errorf("econ: %w", err)
	}
	list := make([]PricedPlan, len(outcomes))
	for i := range outcomes {
		list[i] = req.Book.PricePlan(&outcomes[i], v)
	}
	return list, nil
}

// repriced prices plans as they were carried out for the base.
func (w *WhatIf) repriced(req Request, wanted []route.Plan) []PricedPlan {
	v := w.pricesOf(req).Central()
	list := make([]PricedPlan, len(wanted))
	for i, plan := range wanted {
		if p := w.base.Plan(plan.ID); p != nil && p.Outcome != nil {
			list[i] = req.Book.PricePlan(p.Outcome, v)
			continue
		}
		list[i] = PricedPlan{ID: plan.ID, Blocked: &route.Block{Reason: "the lot has no such plan"}}
	}
	return list
}

// marks finds where a plan's net crosses that of the lot as it stands, and where
// another series becomes the best.
func (n *netCurve) marks() ([]Mark, error) {
	list := []Mark{}
	last := len(n.plans)
	names := n.names()
	for j := 1; j < len(n.rows); j++ {
		for i := range n.plans {
			m, found, err := n.crossing(j, i, last)
			if err != nil {
				return nil, err
			}
			if found {
				verb := "begins"
				if m.falling {
					verb = "ceases"
				}
				list = append(list, Mark{X: m.x, Y: m.y, Kind: BreakEven, Text: fmt.Sprintf("%s %s to gain", names[i], verb)})
			}
		}
		was, is := best(n.rows[j-1]), best(n.rows[j])
		if was < 0 || is < 0 || was == is || was == last || is == last {
			continue // a change to or from the lot as it stands is a break-even
		}
		m, found, err := n.crossing(j, is, was)
		if err != nil {
			return nil, err
		}
		if found {
			list = append(list, Mark{X: m.x, Y: m.y, Kind: TakesOver, Text: fmt.Sprintf("%s overtakes %s", names[is], names[was])})
		}
	}
	slices.SortStableFunc(list, func(a, b Mark) int {
		if a.X != b.X {
			return int(math.Copysign(1, a.X-b.X))
		}
		return strings.Compare(a.Text, b.Text)
	})
	return list, nil
}

// best is the series with the most net at a place; -1 if none has any.
func best(row []Point) int {
	at := -1
	for i, p := range row {
		if p.There() && (at < 0 || p.Y > row[at].Y) {
			at = i
		}
	}
	return at
}

// cross is where two lines meet.
type cross struct {
	x, y    float64
	falling bool // the first goes below the second
}

// How finely a crossing is looked for: to a hundredth of the money, in so many
// rounds at most.
const (
	crossMoney  = 0.005
	crossRounds = 12
)

// crossing looks for the place between two neighbouring points at which series
// i meets series k: by the chord, with the end that stays halved in weight so
// that it cannot hold the search up (Illinois method).
func (n *netCurve) crossing(j, i, k int) (cross, bool, error) {
	a, b := n.rows[j-1], n.rows[j]
	if !a[i].There() || !a[k].There() || !b[i].There() || !b[k].There() {
		return cross{}, false, nil
	}
	low, high := a[i].X, b[i].X
	fLow, fHigh := a[i].Y-a[k].Y, b[i].Y-b[k].Y
	if fLow > 0 == (fHigh > 0) {
		return cross{}, false, nil
	}
	found := cross{falling: fLow > 0}
	for range crossRounds {
		x := high - fHigh*(high-low)/(fHigh-fLow)
		row, err := n.at(x)
		if err != nil {
			return cross{}, false, err
		}
		if !row[i].There() || !row[k].There() {
			return cross{}, false, nil
		}
		found.x, found.y = x, row[k].Y
		f := row[i].Y - row[k].Y
		switch {
		case math.Abs(f) < crossMoney:
			return found, true, nil
		case f > 0 == (fHigh > 0):
			high, fHigh = x, f
			fLow /= 2
		default:
			low, fLow = x, f
			fHigh /= 2
		}
	}
	return found, true, nil
}
