package econ

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"afterpour/chem/input"
)

// Driver is one input's part in the doubt of a plan's gain.
type Driver struct {
	Ref   input.Ref
	ID    string // "lot/measured[0].value", "route/…", "price/spot.Ag"
	Kind  DriverKind
	First float64 // Sobol index of the first order: the share of the variance that knowing this input alone would take away
	Total float64 // total Sobol index: the share that stays when all others are known
	// FirstSE and TotalSE are the standard errors of the two.
	FirstSE, TotalSE float64
	// Low and High are the gain with this input at its 10 and 90 % mark and all
	// others at their central values.
	Low, High Money
	// Turns says that the gain changes its sign between the 1 and the 99 % mark of
	// this input alone.
	Turns bool
}

// DriverKind says where an input comes from, as far as it can be mended.
type DriverKind string

// The kinds of driver.
const (
	OfLot   DriverKind = "lot"   // better known by measuring the lot
	OfRoute DriverKind = "route" // a figure of the way of working, better known from outturns
	OfPrice DriverKind = "price" // better known by asking
)

// Sensitivity says what the doubt of a plan's gain comes from.
type Sensitivity struct {
	Plan    string
	SD      Money    // of the gain
	Drivers []Driver // the largest total index first
	// Others is the share of the variance that the inputs which were looked at
	// singly and found too small for an index leave unexplained, with the
	// interactions: 1 less the sum of the first-order indices.
	Others float64
	Runs   int // draws of each kind that the indices rest on
}

// Effort of the indices.
const (
	driverRuns  = 400  // pairs of draws
	mostDrivers = 24   // physical inputs with an index: those with the widest swing
	leastSwing  = 0.01 // of the widest: inputs below it get no index
)

// ErrNoPlan means that no priced plan goes by that id.
var ErrNoPlan = errors.New("econ: no such plan, or it is blocked")

// Drivers works out which inputs the doubt of a plan's gain comes from, as Sobol
// indices. The first order is the share of the variance that a regression of the
// gain on the input explains, over all draws. The total is found from pairs of
// draws A and B, in which one input at a time is taken over from B,
//
//	T_i = ½·mean (f(A) − f(A with i of B))² / V
//
// (Jansen, Computer Physics Communications 117 (1999) 35; it is the best of those
// compared by Saltelli et al., Computer Physics Communications 181 (2010) 259,
// table 2). Errors: ErrNoPlan, a cancelled context.
func Drivers(ctx context.Context, a *Appraisal, plan string) (*Sensitivity, error) {
	p := a.plan(plan)
	if p == nil || a.study == nil {
		return nil, ErrNoPlan
	}
	zero := a.baselinePlan()
	if zero == nil {
		zero = p
	}
	g, err := a.study.gauge(ctx, zero, p)
	if err != nil {
		return nil, err
	}
	d := &drivers{study: a.study, gauge: g, alone: zero == p}
	list, err := d.swings(ctx, a.study.touches(zero, p))
	if err != nil {
		return nil, err
	}
	s := &Sensitivity{Plan: plan, Drivers: list, Runs: driverRuns}
	return s, d.indices(ctx, s)
}

// plan returns the priced plan of that id, nil if there is none.
func (a *Appraisal) plan(id string) *PricedPlan {
	for i := range a.Plans {
		if p := &a.Plans[i]; p.ID == id && p.Priced() {
			return p
		}
	}
	return nil
}

// baselinePlan returns the ending that gains are counted from, nil without one.
func (a *Appraisal) baselinePlan() *PricedPlan {
	for i := range a.Plans {
		if p := &a.Plans[i]; p.untouched() && p.Priced() && p.Ending == a.Baseline {
			return p
		}
	}
	return nil
}

// drivers is one call of Drivers.
type drivers struct {
	study *study
	gauge *gauge
	alone bool // the plan is the baseline: its net counts, not its gain
}

// gain is the gain at v of what the gauge carried out last.
func (d *drivers) gain(g *gauge, v input.Values, nets []float64) (float64, []float64) {
	nets = g.price(v, nets)
	if d.alone {
		return nets[1], nets
	}
	return nets[1] - nets[0], nets
}

// swings moves one input at a time and keeps those that the gain hangs on, the
// widest swing first.
func (d *drivers) swings(ctx context.Context, refs []input.Ref) ([]Driver, error) {
	list := make([]Driver, len(refs))
	err := inParallel(ctx, len(refs), func() func(int) error {
		g := d.gauge.again()
		return func(i int) error { return d.swing(ctx, g, refs[i], &list[i]) }
	})
	if err != nil {
		return nil, err
	}
	slices.SortStableFunc(list, func(a, b Driver) int { return cmp.Compare(b.swing(), a.swing()) })
	physical, least := 0, 0.0
	if len(list) > 0 {
		least = leastSwing * list[0].swing()
	}
	return slices.DeleteFunc(list, func(x Driver) bool {
		if !(x.swing() > least) || x.Kind != OfPrice && physical == mostDrivers {
			return true
		}
		if x.Kind != OfPrice {
			physical++
		}
		return false
	}), nil
}

func (x *Driver) swing() float64 { return math.Abs((x.High - x.Low).Float()) }

// swing works out the gain along one input.
func (d *drivers) swing(ctx context.Context, g *gauge, ref input.Ref, into *Driver) error {
	fig := d.study.figures.Get(ref)
	*into = Driver{Ref: ref, ID: fig.ID, Kind: driverKind(fig.ID)}
	var gains [4]float64
	v := slices.Clone(d.study.central)
	var nets []float64
	for k, p := range [...]float64{0.1, 0.9, 0.01, 0.99} {
		v[ref] = fig.Dist.Quantile(p)
		if into.Kind != OfPrice || k == 0 {
			if err := g.carryOut(ctx, v); err != nil {
				return err
			}
		}
		gains[k], nets = d.gain(g, v, nets)
	}
	into.Low, into.High = Money(gains[0]), Money(gains[1])
	into.Turns = (gains[2] > 0) != (gains[3] > 0)
	return nil
}

func driverKind(id string) DriverKind {
	switch {
	case isPrice(id):
		return OfPrice
	case len(id) > 6 && id[:6] == "route/":
		return OfRoute
	}
	return OfLot
}

// indices fills in the indices of the drivers.
func (d *drivers) indices(ctx context.Context, s *Sensitivity) error {
	f := newPairs(driverRuns, len(s.Drivers))
	err := inParallel(ctx, driverRuns, func() func(int) error {
		g, v, nets := d.gauge.again(), slices.Clone(d.study.central), []float64(nil)
		return func(n int) (err error) {
			nets, err = d.pair(ctx, g, v, nets, n, s.Drivers, f)
			return err
		}
	})
	if err != nil {
		return err
	}
	f.close()
	var first float64
	for i := range s.Drivers {
		x := &s.Drivers[i]
		x.Total, x.TotalSE = f.total(i)
		x.First, x.FirstSE = f.first(d.study.drawn(x.Ref, 2*driverRuns))
		x.First = math.Min(x.First, x.Total+x.TotalSE)
		first += x.First
	}
	s.SD = Money(f.moments.sd())
	s.Others = math.Max(0, 1-first)
	slices.SortStableFunc(s.Drivers, func(a, b Driver) int { return cmp.Compare(b.Total, a.Total) })
	return nil
}

// pair works out the nth pair of draws: A, B, and A with each input of B. Of a
// price, what A gave is only priced again.
func (d *drivers) pair(ctx context.Context, g *gauge, v input.Values, nets []float64, n int, list []Driver, f *pairs) ([]float64, error) {
	s := d.study
	s.sample(v, driverRuns+n)
	if err := g.carryOut(ctx, v); err != nil {
		return nets, err
	}
	f.b[n], nets = d.gain(g, v, nets)
	s.sample(v, n)
	if err := g.carryOut(ctx, v); err != nil {
		return nets, err
	}
	f.a[n], nets = d.gain(g, v, nets)
	for _, price := range []bool{true, false} { // prices first, while the gauge holds what A gave
		for i := range list {
			if (list[i].Kind == OfPrice) != price {
				continue
			}
			was := v[list[i].Ref]
			s.redraw(v, list[i].Ref, driverRuns+n)
			if !price {
				if err := g.carryOut(ctx, v); err != nil {
					return nets, err
				}
			}
			f.ab[i][n], nets = d.gain(g, v, nets)
			v[list[i].Ref] = was
		}
	}
	return nets, nil
}
