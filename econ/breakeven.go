package econ

import (
	"context"
	"math"
	"slices"
)

// Threshold says how far one figure must move for the decision to change.
type Threshold struct {
	Slider           // the figure, with its present value and unit; Slider.ID is that of WhatIf
	From, To float64 // range that was looked at, in the slider's unit
	Work     Crossing
	// Below and Above are the nearest places where another plan becomes the best;
	// nil where none does in the range.
	Below, Above *Overtaking
}

// Crossing is where working the lot up begins to gain over what wins nothing:
// the endings of the untouched lot, and readying it for the carrier.
type Crossing struct {
	Never, Always bool    // over the whole range
	At            float64 // else: the nearest such place, in the slider's unit
	Upwards       bool    // it gains above At; else below
	Plan          string  // that works it up best: at present or, where it does not gain at present, beyond At
}

// Overtaking is where one plan takes the first place from another.
type Overtaking struct {
	At       float64 // in the slider's unit
	From, To string  // best plan on the side of the present value, and beyond At
}

// BreakEvens finds, for the spot prices and contents of the metals that the best
// work wins, for the rate of own labour and for the size of the lot, where
// working it up begins to gain and where the best plan changes. All plans take
// part; in each point they are simulated, not interpolated, and the places are
// found by a bracketing root finder. Errors: a
// cancelled context, a lot that cannot be scaled.
func BreakEvens(ctx context.Context, a *Appraisal) ([]Threshold, error) {
	if a.study == nil {
		return nil, ErrNoPlan
	}
	w := WhatIfOf(a, a.study.req)
	var list []Threshold
	for _, id := range a.breakEvenAxes() {
		slider, err := w.Slider(id)
		if err != nil {
			continue // no such price in the book
		}
		b, err := a.breakEven(ctx, w, slider)
		if err != nil {
			return nil, err
		}
		list = append(list, b)
	}
	return list, nil
}

// ThresholdOf is BreakEvens for one slider of WhatIf. Errors: ErrNoSlider too.
func ThresholdOf(ctx context.Context, a *Appraisal, slider string) (Threshold, error) {
	if a.study == nil {
		return Threshold{}, ErrNoPlan
	}
	w := WhatIfOf(a, a.study.req)
	s, err := w.Slider(slider)
	if err != nil {
		return Threshold{}, err
	}
	return a.breakEven(ctx, w, s)
}

// breakEvenAxes lists the sliders that are looked at.
func (a *Appraisal) breakEvenAxes() []string {
	var metals []string
	for i := range a.Plans {
		if p := &a.Plans[i]; p.Priced() && !p.untouched() && p.FoldedInto == "" {
			for _, product := range p.Products {
				if !contains(metals, product.Metal) {
					metals = append(metals, product.Metal)
				}
			}
		}
	}
	var ids []string
	for _, m := range a.Metals {
		if contains(metals, m.Metal) {
			ids = append(ids, pricePrefix+"spot."+m.Metal, SliderContent(m.Metal))
		}
	}
	return append(ids, pricePrefix+"labour", SliderSize)
}

func (a *Appraisal) breakEven(ctx context.Context, w *WhatIf, slider Slider) (Threshold, error) {
	s, err := a.scan(ctx, w, slider)
	if err != nil {
		return Threshold{}, err
	}
	b := Threshold{Slider: slider, From: s.points[0].x, To: s.points[len(s.points)-1].x}
	if b.Work, err = s.work(); err != nil {
		return b, err
	}
	if b.Below, err = s.overtaking(-1); err != nil {
		return b, err
	}
	b.Above, err = s.overtaking(1)
	return b, err
}

// scan is one slider with what the plans net along it.
type scan struct {
	ctx    context.Context
	at     func(ctx context.Context, x float64, nets []float64) ([]float64, error)
	plans  []*PricedPlan // those that win nothing first: endings, and what readies for them
	ended  int           // how many those are
	points []scanned     // by x
	here   int           // the present value
}

// scanned is one place.
type scanned struct {
	x    float64
	nets []float64
}

// scan works the nets out at places spread by equal factors around the present
// value: first coarsely for all plans, then finely for those that were among the
// best somewhere.
func (a *Appraisal) scan(ctx context.Context, w *WhatIf, slider Slider) (*scan, error) {
	few, here := scanPlaces(slider, coarseSteps)
	many, there := scanPlaces(slider, scanSteps)
	s, err := a.narrowed(ctx, w, slider, few, here)
	if err != nil {
		return nil, err
	}
	return s, s.trace(a, w, slider, many, there)
}

// narrowed looks at all plans at a few places and returns a scan of those that
// were among the best somewhere.
func (a *Appraisal) narrowed(ctx context.Context, w *WhatIf, slider Slider, xs []float64, here int) (*scan, error) {
	all, ended := a.ordered()
	coarse := &scan{ctx: ctx, plans: all, ended: ended}
	if err := coarse.trace(a, w, slider, xs, here); err != nil {
		return nil, err
	}
	s := &scan{ctx: ctx}
	for _, i := range coarse.leading() {
		s.plans = append(s.plans, all[i])
		if i < ended {
			s.ended++
		}
	}
	return s, nil
}

// ordered gathers the plans that win nothing, and then those that work the lot
// up, each as they are ranked.
func (a *Appraisal) ordered() (plans []*PricedPlan, ended int) {
	var work []*PricedPlan
	for i := range a.Plans {
		p := &a.Plans[i]
		switch {
		case !p.Priced():
		case p.untouched() || p.winsNothing():
			plans = append(plans, p)
		default:
			work = append(work, p)
		}
	}
	return append(plans, work...), len(plans)
}

// trace works the nets out at places along a slider, of which one is the present
// value.
func (s *scan) trace(a *Appraisal, w *WhatIf, slider Slider, xs []float64, here int) error {
	g, err := a.study.gauge(s.ctx, s.plans...)
	if err != nil {
		return err
	}
	s.here = here
	s.points = make([]scanned, len(xs))
	s.at = a.along(w, slider, g.again())
	return inParallel(s.ctx, len(xs), func() func(int) error {
		at := a.along(w, slider, g.again())
		return func(i int) error {
			nets, err := at(s.ctx, xs[i], nil)
			s.points[i] = scanned{xs[i], nets}
			return err
		}
	})
}

// mostLeading is how many plans of each sort are followed from every place.
const mostLeading = 3

// leading lists the plans that are among the best of their sort at some point,
// and those that are so at present.
func (s *scan) leading() []int {
	found := map[int]bool{}
	for _, p := range s.points {
		nets := slices.Clone(p.nets)
		for range mostLeading {
			for _, i := range []int{bestOf(nets, 0, s.ended), bestOf(nets, s.ended, len(nets))} {
				if i >= 0 {
					found[i], nets[i] = true, math.Inf(-1)
				}
			}
		}
	}
	list := make([]int, 0, len(found))
	for i := range found {
		list = append(list, i)
	}
	slices.Sort(list)
	return list
}

// along returns the function from a slider's value to the nets of a gauge's
// plans.
func (a *Appraisal) along(w *WhatIf, slider Slider, g *gauge) func(context.Context, float64, []float64) ([]float64, error) {
	from := a.study
	carried := false
	return func(ctx context.Context, x float64, nets []float64) ([]float64, error) {
		s := *from
		s.figures = from.figures.Clone()
		w.move(s.figures, slider, x)
		if !isPrice(slider.ID) {
			var err error
			if s.model, err = ModelOf(s.req.Lot, s.figures); err != nil {
				return nil, err
			}
		}
		s.central = s.figures.Central()
		g.study = &s
		if !carried || !isPrice(slider.ID) { // a price changes nothing but money
			if err := g.carryOut(ctx, s.central); err != nil {
				return nil, err
			}
			carried = true
		}
		nets = g.price(s.central, nets)
		for i, failed := range g.failed {
			if failed {
				nets[i] = math.Inf(-1) // no plan to choose
			}
		}
		return nets, nil
	}
}

// How finely and how far a slider is looked at.
const (
	coarseSteps = 7
	scanSteps   = 32    // to each side
	scanFactor  = 100.0 // the ends are so many times the present value, and so many parts of it
	scanNone    = 100.0 // where the present value is nothing, how many of its units
)

// scanPlaces spreads places over a slider's range, and says which is its present
// value.
func scanPlaces(slider Slider, steps int) (xs []float64, here int) {
	now := slider.Value
	add := func(x float64) {
		x = slider.Clip(x)
		if len(xs) == 0 || x > xs[len(xs)-1] {
			xs = append(xs, x)
		}
	}
	if !(now > 0) {
		for i := range 2*steps + 1 {
			add(scanNone * float64(i) / float64(2*steps))
		}
		return xs, 0
	}
	if isPrice(slider.ID) {
		add(0)
	}
	for i := -steps; i <= steps; i++ {
		if i == 0 {
			add(now)
			here = len(xs) - 1
			continue
		}
		add(now * math.Pow(scanFactor, float64(i)/float64(steps)))
	}
	return xs, here
}

// gain is what the best work nets more than the best plan that wins nothing, and
// which work that is. Without such a plan, the work's net.
func (s *scan) gain(nets []float64) (float64, int) {
	work, end := bestOf(nets, s.ended, len(nets)), bestOf(nets, 0, s.ended)
	switch {
	case work < 0:
		return math.Inf(-1), -1
	case end < 0:
		return nets[work], work
	}
	return nets[work] - nets[end], work
}

// bestOf is the place of the highest of the nets from one place to before
// another; of equal ones the first, −1 where no plan can be carried out.
func bestOf(nets []float64, from, to int) int {
	at := -1
	for i := from; i < to; i++ {
		if !math.IsInf(nets[i], -1) && (at < 0 || nets[i] > nets[at]+moneyTolerance.Float()) {
			at = i
		}
	}
	return at
}

// work finds where working the lot up begins to gain.
func (s *scan) work() (Crossing, error) {
	now, plan := s.gain(s.points[s.here].nets)
	c := Crossing{Always: now > 0, Never: !(now > 0)}
	if plan < 0 {
		return c, nil
	}
	c.Plan = s.plans[plan].ID
	n := s.nearest(func(nets []float64) bool { g, _ := s.gain(nets); return (g > 0) != (now > 0) })
	if n < 0 {
		return c, nil
	}
	inner := n - 1
	if n < s.here {
		inner = n + 1
	}
	at, err := s.root(inner, n, func(nets []float64) float64 { g, _ := s.gain(nets); return g })
	if err != nil {
		return c, err
	}
	c = Crossing{At: at, Upwards: (n > s.here) != (now > 0), Plan: s.plans[plan].ID}
	if now > 0 {
		return c, nil // the work that gains at present, as far as it does
	}
	if _, plan = s.gain(s.points[n].nets); plan >= 0 {
		c.Plan = s.plans[plan].ID
	}
	return c, nil
}

// nearest is the point nearest to the present value, by steps, where something
// holds; −1 for none.
func (s *scan) nearest(holds func(nets []float64) bool) int {
	for step := 1; step < len(s.points); step++ {
		for _, n := range []int{s.here - step, s.here + step} {
			if n >= 0 && n < len(s.points) && holds(s.points[n].nets) {
				return n
			}
		}
	}
	return -1
}

// overtaking finds the nearest place to one side where another plan is the best.
func (s *scan) overtaking(side int) (*Overtaking, error) {
	first := bestOf(s.points[s.here].nets, 0, len(s.plans))
	if first < 0 {
		return nil, nil
	}
	for n := s.here + side; n >= 0 && n < len(s.points); n += side {
		if bestOf(s.points[n].nets, 0, len(s.plans)) == first {
			continue
		}
		at, err := s.root(n-side, n, func(nets []float64) float64 {
			other := math.Inf(-1)
			for i, net := range nets {
				if i != first {
					other = math.Max(other, net)
				}
			}
			return nets[first] - other
		})
		if err != nil {
			return nil, err
		}
		to, err := s.beyond(at, float64(side), first)
		if err != nil || to < 0 {
			to = bestOf(s.points[n].nets, 0, len(s.plans))
		}
		return &Overtaking{At: at, From: s.plans[first].ID, To: s.plans[to].ID}, err
	}
	return nil, nil
}

// beyond is the best plan but one just past a place.
func (s *scan) beyond(at, side float64, but int) (int, error) {
	const past = 1e-4
	nets, err := s.at(s.ctx, at+side*past*math.Abs(at), nil)
	if err != nil {
		return -1, err
	}
	nets[but] = math.Inf(-1)
	return bestOf(nets, 0, len(nets)), nil
}

// root finds between two neighbouring points where a function of the nets
// changes its sign.
func (s *scan) root(i, j int, of func(nets []float64) float64) (float64, error) {
	var failed error
	x := root(s.points[i].x, s.points[j].x, of(s.points[i].nets), of(s.points[j].nets), func(x float64) float64 {
		nets, err := s.at(s.ctx, x, nil)
		if err != nil {
			failed = err
			return 0
		}
		return of(nets)
	})
	return x, failed
}
