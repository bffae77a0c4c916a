package econ

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// Expectation is what a plan should give of a lot, to set an outturn against: at
// the routes' own figures, without anything learned.
type Expectation struct {
	Plan     string
	Products []ExpectedProduct
	HandsOnH float64
	ElapsedH float64
	Shares   []OutturnShare // of the hands-on hours, by route
	Reagents []PlanReagent  // as used up, without money
}

// ExpectedProduct is one product with what its metal hangs on.
type ExpectedProduct struct {
	Route, Sale, Form, Metal, Compound string
	Mass                               units.Mass
	Fineness                           float64
	MetalMass                          units.Dist // kg of Metal, with the doubt of all but Losses
	Contained                          units.Dist
	Losses                             []OutturnLoss
}

// Expect works out what a plan of an appraisal should give. The appraisal must
// have been made without outturns. Errors: ErrNoSuchPlan, ErrPlanBlocked, a
// cancelled context.
func Expect(ctx context.Context, a *Appraisal, id string) (*Expectation, error) {
	plan, err := a.sheetPlan(id)
	if err != nil {
		return nil, err
	}
	if a.study == nil {
		return nil, fmt.Errorf("%w: the appraisal was not made by Appraise", ErrNoSuchPlan)
	}
	r := &replay{study: a.study, plan: route.NewPlan(plan.Routes, plan.Ending)}
	o, err := r.record(ctx)
	if err != nil {
		return nil, err
	}
	if o.Blocked != nil {
		return nil, fmt.Errorf("%w: %s", ErrPlanBlocked, o.Blocked.Reason)
	}
	e := &Expectation{Plan: plan.ID, HandsOnH: o.Sum(route.HandsOn), ElapsedH: o.Sum(route.Elapsed), Shares: handsOnShares(&o)}
	for _, n := range needs(&o, route.Reagent) {
		if n.item != "water" {
			e.Reagents = append(e.Reagents, PlanReagent{Reagent: n.item, Name: words(n.item), Mass: n.mass(), Volume: n.volume})
		}
	}
	e.Products, err = r.expected(ctx, &o)
	return e, err
}

// handsOnShares says which route takes which share of the hands-on hours.
func handsOnShares(o *route.Outcome) []OutturnShare {
	total := o.Sum(route.HandsOn)
	var list []OutturnShare
	for i := range o.Steps {
		share := ratio(o.Steps[i].Sum(route.HandsOn), total)
		if share <= 0 {
			continue
		}
		at := slices.IndexFunc(list, func(s OutturnShare) bool { return s.Route == o.Steps[i].Route })
		if at < 0 {
			list = append(list, OutturnShare{o.Steps[i].Route, share})
			continue
		}
		list[at].Share += share
	}
	for i := range list {
		list[i].Share = math.Min(1, list[i].Share)
	}
	return list
}

// expected turns the products of an outcome into expectations.
func (r *replay) expected(ctx context.Context, o *route.Outcome) ([]ExpectedProduct, error) {
	list := make([]ExpectedProduct, len(o.Products))
	for i, p := range o.Products {
		list[i] = ExpectedProduct{
			Route: p.Route, Sale: p.Sale, Form: p.Form, Metal: p.Metal, Compound: p.Compound,
			Mass: p.Mass, Fineness: p.Fineness, MetalMass: units.NormalDist(float64(p.MetalMass), 0),
		}
		for _, m := range r.report.Metals {
			if m.Metal == p.Metal {
				list[i].Contained = units.NormalDist(float64(m.Contained), float64(m.SD))
			}
		}
	}
	if len(list) == 0 {
		return nil, nil
	}
	return list, r.slopes(ctx, list)
}

// slopes moves every doubtful figure that is no price to both sides of its central
// value and notes what that does to each product: as a loss to be learned where it
// is one of the product's own route, as doubt where it is not. The derivatives are
// those of JCGM 100:2008, 5.1.3, note 2: over one standard deviation to each side,
// half of one for the losses.
func (r *replay) slopes(ctx context.Context, list []ExpectedProduct) error {
	variance := make([]float64, len(list))
	v := slices.Clone(r.central)
	for i := range r.figures.Len() {
		ref := input.Ref(i)
		fig := r.figures.Get(ref)
		if fig.Dist.Shape == units.Exact || !(fig.Dist.SD > 0) || isPrice(fig.ID) {
			continue
		}
		step := fig.Dist.SD
		owner, key, loss := lossFigure(fig)
		if loss {
			step /= 2
		}
		low, high, err := r.around(ctx, v, ref, fig.Dist, step)
		if err != nil {
			return err
		}
		for k := range list {
			slope := (high.log(k) - low.log(k)) / (high.at - low.at)
			if math.IsNaN(slope) || math.IsInf(slope, 0) {
				continue
			}
			switch {
			case math.Abs(slope*fig.Dist.SD) < 1e-7:
			case loss && owner == list[k].Route:
				list[k].Losses = append(list[k].Losses, OutturnLoss{key, -slope})
			default:
				variance[k] += square(slope * fig.Dist.SD)
			}
		}
	}
	for k := range list {
		list[k].MetalMass = units.NormalDist(list[k].MetalMass.Mean, list[k].MetalMass.Mean*math.Sqrt(variance[k]))
	}
	return nil
}

// beside is a plan carried out with one figure moved.
type beside struct {
	at     float64
	metals []float64 // kg of each product's metal
}

// log is the logarithm of a product's metal; not a number where it was not made.
func (b beside) log(k int) float64 {
	if k >= len(b.metals) {
		return math.NaN()
	}
	return math.Log(b.metals[k])
}

// around carries the plan out with a figure below and above its central value.
func (r *replay) around(ctx context.Context, v input.Values, ref input.Ref, d units.Dist, step float64) (low, high beside, err error) {
	central := v[ref]
	defer func() { v[ref] = central }()
	low.at, high.at = math.Max(d.Low, central-step), math.Min(d.High, central+step)
	for _, side := range []*beside{&low, &high} {
		v[ref] = side.at
		o, err := r.at(ctx, v, false, false)
		if err != nil {
			return low, high, err
		}
		if o.Blocked != nil {
			continue // no derivative from here: log says so
		}
		for _, p := range o.Products {
			side.metals = append(side.metals, float64(p.MetalMass))
		}
	}
	return low, high, nil
}

// lossKeys are the figures of a route file that outturns teach: what hands lose,
// and how far a solid is reached.
var lossKeys = []string{"loss", "filter_loss", "reach"}

// lossFigure tells whether a figure is a loss that can be learned, of which route,
// and its name within that route, "settle/loss".
func lossFigure(fig input.Figure) (owner, key string, ok bool) {
	rest, found := strings.CutPrefix(fig.ID, "route/")
	if !found || fig.Kind != units.Fraction {
		return "", "", false
	}
	owner, key, found = strings.Cut(rest, "/")
	if !found || !contains(lossKeys, key[strings.LastIndex(key, "/")+1:]) {
		return "", "", false
	}
	return owner, key, true
}
