package econ

import (
	"context"
	"slices"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/route"
)

// gauge reckons the net of a few plans at any values of the inputs, one after
// the other. One gauge serves one goroutine; copies share what is costly to
// make.
type gauge struct {
	study  *study
	forest *route.Forest
	plans  []gauged
	chains []int // of the forest, without repeats
	seats  []seat
	cost   pricing
	failed []bool // by plan, at the last price: it could not be carried out or sold as planned
}

// gauged is a plan by its place.
type gauged struct{ seat, end int }

// seat holds the quantities of one chain.
type seat struct {
	account account
	bill    *bill
}

// gauge makes ready for plans of the appraisal.
func (s *study) gauge(ctx context.Context, plans ...*PricedPlan) (*gauge, error) {
	g := &gauge{study: s}
	for _, p := range plans {
		k := slices.Index(g.chains, p.chain)
		if k < 0 {
			k = len(g.chains)
			g.chains = append(g.chains, p.chain)
		}
		g.plans = append(g.plans, gauged{seat: k, end: p.end})
	}
	var err error
	if g.forest, err = s.forest(ctx, g.chains); err != nil {
		return nil, err
	}
	return g.again(), nil
}

// again returns another gauge of the same plans.
func (g *gauge) again() *gauge {
	n := &gauge{study: g.study, forest: g.forest, plans: g.plans, chains: g.chains}
	for _, c := range g.chains {
		l := g.study.chains[c].account.layout.copied()
		n.seats = append(n.seats, seat{account: account{layout: l}, bill: g.study.req.Book.bill(l)})
	}
	return n
}

// carryOut simulates the chains at v and keeps what they gave.
func (g *gauge) carryOut(ctx context.Context, v input.Values) error {
	return g.forest.Simulate(ctx, g.study.job(v), func(k int, o *route.Outcome) { g.take(k, o) })
}

func (g *gauge) take(k int, o *route.Outcome) {
	s := &g.seats[k]
	size := s.account.layout.size
	s.account.enter(o, g.study.draws.watched)
	if s.account.layout.size != size {
		s.bill = g.study.req.Book.bill(s.account.layout)
	}
}

// price prices what the chains gave last, at v, and returns the nets in the
// order of the plans. As in the draws, a plan that cannot be carried to its end
// loses what it took and goes the way of the first plan, which must be an ending
// of the untouched lot.
func (g *gauge) price(v input.Values, nets []float64) []float64 {
	nets, g.failed = nets[:0], g.failed[:0]
	g.cost.v = v
	for _, p := range g.plans {
		s := &g.seats[p.seat]
		g.cost.bill, g.cost.row, g.cost.sums, g.cost.short = s.bill, s.account.row, sums{}, false
		g.cost.chain()
		stuck := s.account.row[atStuck] > 0
		if !stuck {
			g.cost.ending(g.study.chains[g.chains[p.seat]].ends[p.end].Plan.Ending)
		}
		net, _ := g.cost.sums.net()
		if stuck && len(nets) > 0 {
			net += Money(nets[0])
		}
		nets, g.failed = append(nets, net.Float()), append(g.failed, stuck || g.cost.short)
	}
	return nets
}

// touches lists the inputs with doubt that a plan or the baseline can hang on:
// those of the lot, of the plan's routes, and the prices that its money and the
// baseline's rest on.
func (s *study) touches(plans ...*PricedPlan) []input.Ref {
	used := map[string]bool{}
	var own []string
	for _, p := range plans {
		for _, price := range p.used {
			used[price.ID] = true
		}
		for _, id := range p.Routes {
			own = append(own, "route/"+id+"/")
		}
	}
	within := func(id string) bool {
		if isPrice(id) {
			return used[id]
		}
		if !strings.HasPrefix(id, "route/") {
			return true
		}
		return slices.ContainsFunc(own, func(prefix string) bool { return strings.HasPrefix(id, prefix) })
	}
	var list []input.Ref
	for _, sampler := range []*sampler{s.physical, s.priced} {
		for _, d := range sampler.doubted {
			if within(s.figures.Get(d.ref).ID) {
				list = append(list, d.ref)
			}
		}
	}
	return list
}

// sample sets v to a draw of all figures.
func (s *study) sample(v input.Values, draw int) {
	s.physical.fill(v, draw)
	for i := range s.priced.doubted {
		d := &s.priced.doubted[i]
		v[d.ref] = d.dist.Quantile(uniform(d.key, draw))
	}
}

// redraw sets one figure of v to what it is in another draw.
func (s *study) redraw(v input.Values, ref input.Ref, draw int) {
	if d := s.doubtOf(ref); d != nil {
		v[ref] = d.dist.Quantile(uniform(d.key, draw))
	}
}

// drawn lists the values of a figure in the first n draws.
func (s *study) drawn(ref input.Ref, n int) []float64 {
	list := filled(n, s.central[ref])
	if d := s.doubtOf(ref); d != nil {
		for i := range list {
			list[i] = d.dist.Quantile(uniform(d.key, i))
		}
	}
	return list
}

// doubtOf finds a figure among those with doubt; nil if it has none.
func (s *study) doubtOf(ref input.Ref) *doubted {
	for _, sampler := range []*sampler{s.physical, s.priced} {
		for i := range sampler.doubted {
			if d := &sampler.doubted[i]; d.ref == ref {
				return d
			}
		}
	}
	return nil
}
