package econ

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"afterpour/chem/input"
)

// Test is something that could be done to know the lot better before deciding.
type Test struct {
	ID    string
	Name  string
	Of    Quantity
	Metal string // of Content
	// Relative is the standard uncertainty of the result as a share of it,
	// Absolute that in the quantity's unit; where both are given, the squares add.
	Relative, Absolute float64
	Price              Money   // what the laboratory asks
	HandsOn            float64 // h of own time
	Basis              string  // where error and price are from
}

// Quantity is what a test finds.
type Quantity string

// The quantities that a test can find.
const (
	Content  Quantity = "content"   // kg of a metal in the lot
	FreeAcid Quantity = "free acid" // mol
	Solids   Quantity = "solids"    // kg, dry
	Recovery Quantity = "recovery"  // share of the metal that the best plan brings out, by a small trial batch
)

// TestWorth is what a test is worth before it is done.
type TestWorth struct {
	Test
	Cost  Money // price and own time
	Worth Money // the most that it should cost: expected gain from deciding after it
	// Exact is what knowing the quantity without error would be worth.
	Exact Money
	// Changes is the share of draws in which its result would change the plan.
	Changes float64
	Pays    bool // worth more than its cost
}

// InputWorth is what knowing one input exactly would be worth.
type InputWorth struct {
	Ref     input.Ref
	ID      string
	Kind    DriverKind
	Worth   Money
	SE      Money   // standard error over the blocks of draws
	Changes float64 // share of draws in which knowing it would change the plan
}

// Knowledge is what knowing more would be worth before deciding about a lot.
type Knowledge struct {
	Draws int
	// Plan is the plan with the best mean net, the one to take as things are known.
	Plan string
	// Perfect is what knowing everything would be worth: the expected regret of
	// that plan.
	Perfect Money
	Inputs  []InputWorth // worth something, the most first
	Tests   []TestWorth  // in the order given
}

// Knowing works out what it would be worth to know more before deciding.
//
// With net values N_d of the plans d, knowing x is worth
//
//	E max_d E(N_d | x) − max_d E(N_d)
//
// The inner expectation is the regression of the net on x over the draws (Strong,
// Oakley and Brennan, Medical Decision Making 34 (2014) 311), in polynomials of
// which those are kept that tell more than noise. A test with an error is the
// same with its simulated result in the place of x (Strong et al., Medical
// Decision Making 35 (2015) 570). The appraisal must have odds. Errors: ErrNoOdds,
// a cancelled context.
func Knowing(ctx context.Context, a *Appraisal, tests []Test) (*Knowledge, error) {
	if a.study == nil || a.Draws < block {
		return nil, ErrNoOdds
	}
	s := a.study
	d := s.decision(a)
	k := &Knowledge{Draws: d.n, Plan: a.Plans[d.plans[d.best]].ID, Perfect: Money(d.perfect())}
	refs := s.touches(d.priced(a)...)
	list := make([]InputWorth, len(refs))
	err := inParallel(ctx, len(refs), func() func(int) error {
		return func(i int) error {
			list[i] = s.inputWorth(d, refs[i])
			return nil
		}
	})
	if err != nil {
		return nil, err
	}
	k.Inputs = slices.DeleteFunc(list, func(w InputWorth) bool { return !(w.Worth > moneyTolerance) })
	slices.SortStableFunc(k.Inputs, func(a, b InputWorth) int { return cmp.Compare(b.Worth, a.Worth) })
	for _, t := range tests {
		if w, ok := s.testWorth(a, d, t); ok {
			k.Tests = append(k.Tests, w)
		}
	}
	return k, ctx.Err()
}

// ErrNoOdds means that an appraisal has too few draws for what was asked of it.
var ErrNoOdds = fmt.Errorf("econ: this takes odds from %d draws or more", block)

// decision is the choice between the plans of a lot, draw by draw.
type decision struct {
	n     int         // draws
	plans []int       // by place in the appraisal
	nets  [][]float64 // of each plan, draw by draw
	best  int         // the plan with the best mean
}

// decision gathers the plans that are the best in some draw and have all draws,
// and the plan ranked first.
func (s *study) decision(a *Appraisal) *decision {
	s.prices.mu.Lock()
	defer s.prices.mu.Unlock()
	var chains []int
	for i := range a.Plans {
		chains = append(chains, a.Plans[i].chain)
	}
	slices.Sort(chains)
	c := s.contest(a, slices.Compact(chains))
	d := &decision{n: a.Draws}
	for k, i := range c.plans {
		if (c.wins[k] > 0 || k == 0) && len(c.nets[k]) >= a.Draws {
			d.plans = append(d.plans, i)
			d.nets = append(d.nets, slices.Clone(c.nets[k][:a.Draws]))
		}
	}
	d.choose()
	return d
}

// choose finds the plan with the best mean.
func (d *decision) choose() {
	most := math.Inf(-1)
	for k, list := range d.nets {
		if m := momentsOf(list).mean; m > most {
			d.best, most = k, m
		}
	}
}

// priced lists the plans of the decision.
func (d *decision) priced(a *Appraisal) []*PricedPlan {
	var list []*PricedPlan
	for _, i := range d.plans {
		list = append(list, &a.Plans[i])
	}
	return list
}

// perfect is what knowing everything would be worth.
func (d *decision) perfect() float64 {
	var m moments
	for i := range d.n {
		most := 0.0
		for _, list := range d.nets {
			most = math.Max(most, list[i]-d.nets[d.best][i])
		}
		m.add(most)
	}
	return m.mean
}

// worthDegree is the highest degree in which a net may hang on what is known.
const worthDegree = 5

// knowing works out what knowing x is worth, its standard error and how often it
// changes the plan. Nets are regressed as differences from the plan that is best
// as things are known, so that what all plans share takes no part.
func (d *decision) knowing(x []float64) (worth, se, changes float64) {
	b := newBasis(x, worthDegree)
	gains := make([]float64, d.n) // of the best plan given x, over the best as known
	difference := make([]float64, d.n)
	changed := make([]bool, d.n)
	for k, list := range d.nets {
		if k == d.best {
			continue
		}
		for i := range difference {
			difference[i] = list[i] - d.nets[d.best][i]
		}
		f := b.regress(difference)
		if f.terms == 0 {
			continue // it tells nothing about this plan, which stays behind on average
		}
		for i, g := range f.fitted {
			if g > gains[i] {
				gains[i], changed[i] = g, true
			}
		}
	}
	var m, blocks moments
	count := 0.0
	for i, g := range gains {
		m.add(g)
		if changed[i] {
			count++
		}
		if (i+1)%block == 0 {
			blocks.add(momentsOf(gains[i+1-block : i+1]).mean)
		}
	}
	return m.mean, blocks.sd() / math.Sqrt(math.Max(blocks.n, 1)), count / float64(d.n)
}

func (s *study) inputWorth(d *decision, ref input.Ref) InputWorth {
	id := s.figures.Get(ref).ID
	w := InputWorth{Ref: ref, ID: id, Kind: driverKind(id)}
	worth, se, changes := d.knowing(s.drawn(ref, d.n))
	w.Worth, w.SE, w.Changes = Money(worth), Money(se), changes
	return w
}
