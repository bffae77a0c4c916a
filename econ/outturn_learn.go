package econ

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// How outturns are learned from. DEVELOPERS.md has the model in one piece.
//
// A route's recovery, and its hands-on hours, are each taken as off from what the
// route's own figures give by a factor exp(θ) that is the practitioner's. θ has
// the prior N(0, τ²), and an outturn i that noted exp(d) times what was expected
// is an observation d of θ with variance σ²: the conjugate normal update
//
//	1/v = 1/τ² + Σ w/σ²,  m = v·Σ w·d/σ²
//
// For recovery τ² = Σ k²s², the spread that the route's loss figures give it: s is
// the standard deviation of a figure, k = −∂ln(metal)/∂figure. For hours τ is
// priorHours, because a route file gives times without a doubt.
//
// The weights w are Huber's: 1 for an outturn within tolerance·σ of m, and
// tolerance·σ/|d − m| beyond. So one wild entry draws m by no more than
// tolerance·τ²/σ, and a practitioner who is steadily different still gets there.
const (
	priorHours   = 0.35 // ln: strangers' times for the same bench work differ by some 40 %; assumption
	hoursScatter = 0.20 // ln: the same hands, from lot to lot; assumption
	yieldScatter = 0.01 // ln: the same hands, from lot to lot, beyond what the lot's own doubt explains; assumption
	tolerance    = 2.0  // standard deviations within which an outturn counts in full
)

// Learning is what a history of outturns makes of the figures of the routes. A nil
// Learning has learned nothing.
type Learning struct {
	Routes  []RouteLearning
	figures []learnedFigure
}

// RouteLearning is what was learned of one route's recovery or hours.
type RouteLearning struct {
	Route   string
	About   string // Yield or Time
	Metal   string // of the product, for Yield
	Lots    int    // outturns that count
	PriorSD float64
	Mean    float64 // of ln(actual/expected), after the outturns
	SD      float64
	Entries []WeighedOutturn
}

// What is learned of a route.
const (
	Yield = "recovery"
	Time  = "hands-on time"
)

// WeighedOutturn is one outturn with the weight that it has.
type WeighedOutturn struct {
	Outturn  *Outturn
	LogRatio float64 // ln(actual/expected)
	SD       float64 // of it as an observation
	Weight   float64 // 1: in full; 0: not learned from
	Why      string  // why it counts less, or nothing
}

// learnedFigure is one figure of a route file before and after.
type learnedFigure struct {
	id          string
	dist        units.Dist
	lots        int
	before, src string
}

// Learn returns what a history makes of the figures of figs: a pure function of
// both, in which the order of the history has no say. It changes nothing; Apply
// does.
func Learn(figs *input.Figures, history []Outturn) *Learning {
	l := &Learning{}
	all := standing(history)
	for _, route := range routesOf(all) {
		l.yield(figs, route, all)
		l.time(figs, route, all)
	}
	return l
}

// routesOf lists the routes that outturns speak of, in order of name.
func routesOf(all []*Outturn) []string {
	var list []string
	add := func(route string) {
		if !contains(list, route) {
			list = append(list, route)
		}
	}
	for _, o := range all {
		for i := range o.Products {
			add(o.Products[i].Route)
		}
		if o.HandsOn != nil {
			for _, s := range o.HandsOn.Shares {
				add(s.Route)
			}
		}
	}
	slices.Sort(list)
	return list
}

// yield learns a route's recovery and sets its loss figures.
func (l *Learning) yield(figs *input.Figures, route string, all []*Outturn) {
	r := RouteLearning{Route: route, About: Yield}
	slopes := map[string]float64{} // Σ k over the outturns that count
	for _, o := range all {
		for i := range o.Products {
			p := &o.Products[i]
			if p.Route != route {
				continue
			}
			w := weighYield(o, p)
			r.Entries = append(r.Entries, w)
			if w.Weight > 0 {
				r.Metal = p.Metal
				r.Lots++
				for _, loss := range p.Losses {
					slopes[loss.Figure] += loss.PerPoint
				}
			}
		}
	}
	if len(r.Entries) == 0 {
		return
	}
	shares := lossesOf(figs, route, slopes, r.Lots)
	for _, s := range shares {
		r.PriorSD += s.k * s.k * s.fig.Dist.SD * s.fig.Dist.SD
	}
	r.PriorSD = math.Sqrt(r.PriorSD)
	r.update()
	l.Routes = append(l.Routes, r)
	if r.Lots > 0 && r.PriorSD > 0 {
		l.setLosses(shares, &r)
	}
}

// weighYield turns a product into an observation of ln(actual/expected).
func weighYield(o *Outturn, p *OutturnProduct) WeighedOutturn {
	w := WeighedOutturn{Outturn: o}
	if !(p.MetalMass.Mean > 0) {
		w.Why = "nothing came out: a lost lot says nothing about how well the route is worked"
		return w
	}
	w.LogRatio = math.Log(p.MetalMass.Mean / p.Expected.Mean)
	w.SD = math.Sqrt(square(p.Expected.SD/p.Expected.Mean) + square(p.MetalMass.SD/p.MetalMass.Mean) + square(yieldScatter))
	if p.Beyond() && !o.Confirmed {
		w.Why = "more than the lot holds: questioned, not learned from"
		return w
	}
	w.Weight = 1
	return w
}

// lossShare is one loss figure with what hangs on it.
type lossShare struct {
	ref input.Ref
	fig input.Figure
	k   float64 // mean over the outturns: per cent of metal a percentage point
}

// lossesOf finds the figures of the register that the outturns lean on, in order
// of name. One that the route no longer has, or that has no doubt, is left out.
func lossesOf(figs *input.Figures, route string, slopes map[string]float64, lots int) []lossShare {
	var list []lossShare
	for _, key := range sortedKeys(slopes) {
		ref, ok := figs.ByID("route/" + route + "/" + key)
		k := slopes[key] / float64(max(1, lots))
		if !ok || k == 0 {
			continue
		}
		if fig := figs.Get(ref); fig.Dist.SD > 0 && fig.Kind == units.Fraction {
			list = append(list, lossShare{ref, fig, k})
		}
	}
	return list
}

// time learns a route's hands-on hours and sets its times.
func (l *Learning) time(figs *input.Figures, route string, all []*Outturn) {
	r := RouteLearning{Route: route, About: Time, PriorSD: priorHours}
	for _, o := range all {
		if w, ok := weighTime(o, route); ok {
			r.Entries = append(r.Entries, w)
			if w.Weight > 0 {
				r.Lots++
			}
		}
	}
	if r.Lots == 0 {
		return
	}
	r.update()
	l.Routes = append(l.Routes, r)
	l.setTimes(figs, route, &r)
}

// weighTime turns the hours of a plan into an observation of one of its routes.
// With ln(noted/expected) = Σ f·θ over the routes, where f is a route's share of
// the hours expected, the others stand at their prior and add to the scatter.
func weighTime(o *Outturn, route string) (WeighedOutturn, bool) {
	if o.HandsOn == nil {
		return WeighedOutturn{}, false
	}
	share, others := 0.0, 0.0
	for _, s := range o.HandsOn.Shares {
		if s.Route == route {
			share = s.Share
		} else {
			others += square(s.Share * priorHours)
		}
	}
	if share < 0.05 { // hours of minutes say nothing about it
		return WeighedOutturn{}, false
	}
	return WeighedOutturn{
		Outturn: o, Weight: 1, LogRatio: math.Log(o.HandsOn.Noted/o.HandsOn.Expected) / share,
		SD: math.Sqrt(square(hoursScatter)+others) / share,
	}, true
}

// update works out mean and standard deviation after the outturns, and the
// weights. The estimating equation m/τ² = Σ ψ((d−m)/σ)/σ falls in m, so its root
// is found by halving, to the last digit.
func (r *RouteLearning) update() {
	slices.SortStableFunc(r.Entries, func(a, b WeighedOutturn) int { // the order of entries has no say, not even in rounding
		return cmp.Or(cmp.Compare(a.LogRatio, b.LogRatio), cmp.Compare(a.SD, b.SD), cmp.Compare(a.Outturn.Where(), b.Outturn.Where()))
	})
	r.SD = r.PriorSD
	if !(r.PriorSD > 0) || r.Lots == 0 {
		return
	}
	low, high := 0.0, 0.0
	for _, e := range r.Entries {
		if e.Weight > 0 {
			low, high = math.Min(low, e.LogRatio), math.Max(high, e.LogRatio)
		}
	}
	for range 200 {
		mid := low + (high-low)/2
		if mid == low || mid == high {
			break
		}
		if r.pull(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	r.Mean = low + (high-low)/2
	precision := 1 / square(r.PriorSD)
	for i := range r.Entries {
		e := &r.Entries[i]
		if e.Weight > 0 {
			e.Weight = huber((e.LogRatio - r.Mean) / e.SD)
			precision += e.Weight / square(e.SD)
		}
		if e.Weight > 0 && e.Weight < 1 {
			e.Why = fmt.Sprintf("further off than its doubt explains: counts %.0f %%", 100*e.Weight)
		}
	}
	r.SD = math.Sqrt(1 / precision)
}

// pull is how far the outturns and the prior together draw from m.
func (r *RouteLearning) pull(m float64) float64 {
	sum := -m / square(r.PriorSD)
	for _, e := range r.Entries {
		if e.Weight > 0 {
			z := (e.LogRatio - m) / e.SD
			sum += z * huber(z) / e.SD
		}
	}
	return sum
}

// huber is the weight of a residual in standard deviations (Huber, Annals of
// Mathematical Statistics 35 (1964) 73).
func huber(z float64) float64 {
	if a := math.Abs(z); a > tolerance {
		return tolerance / a
	}
	return 1
}

// setLosses shares a change of the recovery out among the losses: each takes the
// part of it that its variance has in the prior, and all are narrowed alike, so
// that mean and variance of the recovery are those of the posterior. What a figure
// cannot take without leaving 0 to 1 goes to the others.
func (l *Learning) setLosses(shares []lossShare, r *RouteLearning) {
	left := r.Mean
	open := make([]bool, len(shares))
	mean := make([]float64, len(shares))
	for i, s := range shares {
		open[i], mean[i] = true, s.fig.Dist.Mean
	}
	for range shares {
		total := 0.0
		for i, s := range shares {
			if open[i] {
				total += square(s.k * s.fig.Dist.SD)
			}
		}
		if !(total > 0) || math.Abs(left) < 1e-15 {
			break
		}
		rest := left
		for i, s := range shares {
			if !open[i] {
				continue
			}
			want := mean[i] - s.k*square(s.fig.Dist.SD)/total*left
			got := math.Max(0, math.Min(1, want))
			rest -= -s.k * (got - mean[i])
			mean[i] = got
			open[i] = want >= 0 && want <= 1
		}
		left = rest
	}
	for i, s := range shares {
		sd := s.fig.Dist.SD * r.SD / r.PriorSD
		l.set(s.fig, units.NormalDist(mean[i], sd).Bounded(0, 1), r.Lots)
	}
}

// setTimes multiplies a route's hands-on times by the factor that was learned. The
// terms of a route are drawn one by one, so each is given the doubt at which their
// sum has that of the posterior, were they of one size.
func (l *Learning) setTimes(figs *input.Figures, route string, r *RouteLearning) {
	var terms []input.Figure
	for i := range figs.Len() {
		fig := figs.Get(input.Ref(i))
		if isHandsOn(fig.ID, route) && fig.Dist.Mean > 0 {
			terms = append(terms, fig)
		}
	}
	factor := math.Exp(r.Mean)
	spread := r.SD * math.Sqrt(float64(len(terms)))
	for _, fig := range terms {
		mean := fig.Dist.Mean * factor
		l.set(fig, units.LognormalDist(mean, mean*math.Hypot(spread, fig.Dist.SD/fig.Dist.Mean)), r.Lots)
	}
}

// isHandsOn tells whether a figure is a hands-on time of a route.
func isHandsOn(id, route string) bool {
	rest, ok := strings.CutPrefix(id, "route/"+route+"/")
	if !ok {
		return false
	}
	key := rest[strings.LastIndex(rest, "/")+1:]
	return key == "hands_on" || strings.HasPrefix(key, "hands_on per ")
}

func (l *Learning) set(fig input.Figure, dist units.Dist, lots int) {
	if dist.Check() != nil {
		return
	}
	before := fig.Text
	if before == "" {
		before = units.FormatDist(fig.Kind, fig.Dist)
	}
	l.figures = append(l.figures, learnedFigure{id: fig.ID, dist: dist, lots: lots, before: before, src: fig.Source})
}

// Apply gives the figures of figs what was learned. Each says so as its source.
func (l *Learning) Apply(figs *input.Figures) {
	if l == nil {
		return
	}
	for _, f := range l.figures {
		ref, ok := figs.ByID(f.id)
		if !ok {
			continue
		}
		fig := figs.Get(ref)
		fig.Dist, fig.Text = f.dist, units.FormatDist(fig.Kind, f.dist)
		fig.Source = fmt.Sprintf("%s; before that %s (%s)", lastLots(f.lots), f.before, f.src)
		figs.Add(fig)
	}
}

// lastLots is how what was learned is called.
func lastLots(n int) string {
	if n == 1 {
		return "your last lot"
	}
	return fmt.Sprintf("your last %d lots", n)
}

// Sentences says what was learned, and what was not, a sentence each. With routes
// it says only what concerns those.
func (l *Learning) Sentences(routes ...string) []string {
	if l == nil {
		return nil
	}
	var list []string
	for i := range l.Routes {
		r := &l.Routes[i]
		if len(routes) > 0 && !contains(routes, r.Route) {
			continue
		}
		if r.Lots > 0 && r.PriorSD > 0 {
			list = append(list, r.sentence())
		}
		for _, e := range r.Entries {
			if e.Why != "" {
				list = append(list, capital(fmt.Sprintf("%s of %s in %s: %s.", r.About, r.Route, e.Outturn.Where(), e.Why)))
			}
		}
	}
	return list
}

// sentence says how a route comes out in these hands.
func (r *RouteLearning) sentence() string {
	change := math.Expm1(r.Mean) * 100
	more := "more"
	if change < 0 {
		more = "less"
	}
	what := "metal"
	if r.About == Time {
		what = "time"
	}
	return fmt.Sprintf("%s by %s: %.1f %% %s %s than the route's own figures give (± %.1f %%; before any lot ± %.1f %%).",
		capital(lastLots(r.Lots)), r.Route, math.Abs(change), more, what, 100*r.SD, 100*r.PriorSD)
}
