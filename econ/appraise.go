package econ

import (
	"context"
	"fmt"
	"slices"
	"sort"
	"strings"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/route"
)

// Appraise judges a lot: it simulates every plan at the central values of the
// inputs, prices each, ranks them and gives the verdict. The same request gives
// the same appraisal. Odds come from Refine. Errors: a lot whose statements
// cannot be combined, a cancelled context.
func Appraise(ctx context.Context, req Request) (*Appraisal, error) {
	s, err := newStudy(ctx, req)
	if err != nil {
		return nil, err
	}
	return s.appraisal(), nil
}

// Reprice judges the lot of an appraisal with another price book, without
// simulating again what does not depend on prices; the request differs from the
// appraisal's in its book and figures alone. Odds are worked out from the draws
// that there are. Where the book changes the bench, a reagent's strength, or
// names other figures, the lot is appraised anew, without odds. Refine makes them as
// good as the others were: most of its draws are there.
func Reprice(ctx context.Context, a *Appraisal, req Request) (*Appraisal, error) {
	if a.study == nil || !a.study.fits(req) {
		return Appraise(ctx, req)
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	s := a.study.with(req)
	fresh := s.appraisal()
	if a.Draws > 0 {
		return s.refined(ctx, fresh)
	}
	return fresh, nil
}

// appraisal prices and ranks the plans of a study at its central values.
func (s *study) appraisal() *Appraisal {
	book := s.req.Book
	a := &Appraisal{
		Lot: s.req.Lot.Title, Currency: book.Currency, Seed: s.req.Seed,
		Report: s.report, Figures: s.figures, Chains: s.found, study: s,
	}
	a.Metals = book.worth(a.Report.Metals, s.central)
	a.Plans = s.priceAll(a)
	a.standings(book, s.central, s.req.Library.Treatments())
	a.dates(book, s.req.Today)
	a.Notes = append(a.Notes, s.req.Learning.Sentences()...)
	a.Notes = append(a.Notes, book.notes...)
	a.Notes = append(a.Notes, route.Remarks(s.req.Lot)...)
	return a
}

// priceAll prices every plan at the central values.
func (s *study) priceAll(a *Appraisal) []PricedPlan {
	byChain := make([][]PricedPlan, len(s.chains))
	_ = inParallel(context.Background(), len(s.chains), func() func(int) error { // pricing cannot fail
		return func(i int) error {
			c := s.chains[i]
			for e, o := range c.ends {
				p := c.bill.priced(o, &c.account, s.central)
				p.Metals = a.threeMasses(&p)
				p.chain, p.end = c.index, e
				s.prices.open[i][e] = p.Priced()
				byChain[i] = append(byChain[i], p)
			}
			return nil
		}
	})
	return slices.Concat(byChain...)
}

// study is what an appraisal is worked out from: the lot's model, and every
// chain of routes carried out at the central values. It is shared by all copies
// of an appraisal and not changed once made; only the draws grow.
type study struct {
	req      Request
	figures  *input.Figures // with the inputs that the model registered
	model    *lot.Model
	report   lot.Report
	central  input.Values
	chains   []*chain
	found    int
	physical *sampler // of all figures but prices
	priced   *sampler // of prices
	draws    *physics
	prices   *priceDraws
}

// chain is one sequence of routes with its endings.
type chain struct {
	index   int
	key     string // of its routes
	routes  []string
	ends    []*route.Outcome
	account account
	bill    *bill
}

// newStudy carries every sensible chain of routes out at the central values.
func newStudy(ctx context.Context, req Request) (*study, error) {
	s := &study{req: req, figures: req.Figures.Clone()} // the model registers inputs of its own
	var err error
	if s.model, err = ModelOf(req.Lot, s.figures); err != nil {
		return nil, fmt.Errorf("econ: %w", err)
	}
	s.central = s.figures.Central()
	s.report = s.model.Report(s.central)
	job := s.job(s.central)
	job.Trace = true
	found, err := req.Library.Explore(ctx, job)
	if err != nil {
		return nil, fmt.Errorf("econ: %w", err)
	}
	s.found = found.Chains
	s.chains = chainsOf(found.Outcomes)
	for _, c := range s.chains {
		c.account = accountOf(c.ends[0])
		c.bill = req.Book.bill(c.account.layout)
	}
	s.physical = newSampler(s.figures, req.Seed, func(id string) bool { return !isPrice(id) })
	s.draws = newPhysics(s)
	s.priceAnew()
	return s, nil
}

// job is what a simulation of the lot at v rests on.
func (s *study) job(v input.Values) route.Job {
	return route.Job{
		Inventory: s.model.Inventory(v), Values: v, Bench: s.req.Book.Bench(), Shelf: s.req.Book.Shelf(),
		Declared: s.report.Declared, Acknowledged: s.report.Acknowledged,
	}
}

// chainsOf gathers the outcomes of the same routes, in order.
func chainsOf(outcomes []route.Outcome) []*chain {
	var list []*chain
	at := map[string]*chain{}
	for i := range outcomes {
		o := &outcomes[i]
		key := strings.Join(o.Plan.Routes, "+")
		c, ok := at[key]
		if !ok {
			c = &chain{index: len(list), key: key, routes: o.Plan.Routes}
			at[key] = c
			list = append(list, c)
		}
		c.ends = append(c.ends, o)
	}
	return list
}

// fits reports that a request is one for this study with other prices.
func (s *study) fits(req Request) bool {
	if req.Lot != s.req.Lot || req.Library != s.req.Library || req.Seed != s.req.Seed || req.Figures.Len() != s.req.Figures.Len() {
		return false
	}
	for i := range req.Figures.Len() {
		was, is := s.req.Figures.Get(input.Ref(i)), req.Figures.Get(input.Ref(i))
		if was.ID != is.ID || !isPrice(is.ID) && was.Dist != is.Dist {
			return false
		}
	}
	return sameGround(s.req.Book, req.Book)
}

// isPrice reports that the figure of that id is a price.
func isPrice(id string) bool { return strings.HasPrefix(id, pricePrefix) }

const pricePrefix = "price/"

// sameGround reports that two books agree on all that a simulation looks at:
// the bench, the strengths of reagents, the elements whose shares matter.
func sameGround(a, b *Book) bool {
	if a.bench != b.bench || len(a.reagents) != len(b.reagents) {
		return false
	}
	for id, r := range a.reagents {
		if other, ok := b.reagents[id]; !ok || other.Strength != r.Strength {
			return false
		}
	}
	have := a.watched()
	for _, element := range b.watched() {
		if !contains(have, element) {
			return false
		}
	}
	return true
}

// with is the same study with another book.
func (s *study) with(req Request) *study {
	n := *s
	n.req = req
	n.figures = s.figures.Clone()
	for i := range req.Figures.Len() {
		n.figures.Add(req.Figures.Get(input.Ref(i)))
	}
	n.central = n.figures.Central()
	n.chains = make([]*chain, len(s.chains))
	for i, c := range s.chains {
		again := *c
		again.bill = req.Book.bill(c.account.layout)
		n.chains[i] = &again
	}
	n.priceAnew()
	return &n
}

// priceAnew makes ready for draws of the prices.
func (s *study) priceAnew() {
	s.priced = newSampler(s.figures, s.req.Seed, isPrice)
	s.prices = newPriceDraws(s)
}

// worth sets each metal's contained mass against its spot price.
func (b *Book) worth(metals []lot.MetalReport, v input.Values) []MetalWorth {
	list := make([]MetalWorth, 0, len(metals))
	for _, m := range metals {
		w := MetalWorth{Metal: m.Metal, Contained: m.Contained, SD: m.SD, Dissolved: m.Dissolved, Solid: m.Solid}
		if spot, ok := b.spots[m.Metal]; ok {
			value := Money(m.Contained.Kilograms() * v.At(spot.Ref))
			w.SpotValue, w.PriceID = &value, spot.ID
		}
		list = append(list, w)
	}
	return list
}

// threeMasses keeps contained, recovered and payable metal of a plan apart.
func (a *Appraisal) threeMasses(p *PricedPlan) []PlanMetal {
	list := make([]PlanMetal, 0, len(a.Metals))
	for _, m := range a.Metals {
		pm := PlanMetal{Metal: m.Metal, Contained: m.Contained}
		for _, product := range p.Products {
			if product.Metal == m.Metal {
				pm.Recovered += product.MetalMass
				if product.ByMetal {
					pm.Payable += product.PayableMass
				}
			}
		}
		list = append(list, pm)
	}
	return list
}

// dates notes the oldest date among the prices used, and those that are stale
// on the day of today.
func (a *Appraisal) dates(b *Book, today time.Time) {
	used := map[string]Price{}
	for _, m := range a.Metals {
		if spot, ok := b.spots[m.Metal]; ok {
			used[spot.ID] = spot
		}
	}
	for i := range a.Plans {
		if a.Plans[i].Priced() {
			for _, p := range a.Plans[i].used {
				used[p.ID] = p
			}
		}
	}
	for _, id := range sortedKeys(used) {
		p := used[id]
		if p.Date.IsZero() {
			continue
		}
		if a.PricesAsOf.IsZero() || p.Date.Before(a.PricesAsOf) {
			a.PricesAsOf = p.Date
		}
		days, stale := b.age(p.Date, today)
		if stale {
			a.Stale = append(a.Stale, p.ID)
		}
		if days < -1 { // a day ahead may be another time zone
			a.Notes = append(a.Notes, fmt.Sprintf("%s is dated %s, a day that is still to come", p.Path, p.Date.Format(time.DateOnly)))
		}
	}
	sort.Strings(a.Stale)
}
