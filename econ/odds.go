package econ

import (
	"context"
	"fmt"
	"slices"
)

// Odds are a plan's odds from the draws.
type Odds struct {
	Draws         int   // that they rest on: fewer for a plan that was set aside
	P10, P50, P90 Money // of the net
	Mean, SD      Money // of the net
	PPositive     float64
	PBest         float64
	Regret        Money   // expected: what the best plan of each draw nets more than this one
	Fails         float64 // share of draws in which it cannot be carried out or sold as planned
	Ahead         float64 // share of draws in which it nets more than the plan ranked first
	Equal         bool    // cannot be told apart from the plan ranked first: ahead of it in equalShare of the draws or more
}

// equalShare is how often, in the same draws, a plan must do better than the
// one ranked first for the two to be shown as equal: the middle 80 % of their
// difference then lies on both sides of nothing.
const equalShare = 0.1

// Effort says how far the odds are taken. The zero value is the usual: until
// what is shown is stable, at most DefaultDraws.
type Effort struct {
	Most  int  // most draws; 0: DefaultDraws
	Fixed bool // exactly so many, whether the figures are stable or not
}

// Progress is how far a refinement has come. Its appraisal is complete as far
// as it goes and is not changed afterwards.
type Progress struct {
	Appraisal   *Appraisal
	Draws, Most int
	Settled     bool // stable to the digits shown: no more draws are made
}

// Refine works the odds of an appraisal out by Monte Carlo (JCGM 101:2008): in
// each draw every figure with doubt is given a value of its distribution, the
// same in all plans, and the lot is simulated and priced at these values. It
// returns a copy of the appraisal with the odds; report, which may be nil, is
// given better and better ones on the way, the first after one block of the
// plans that the verdict lies between.
//
// Draws are made in blocks. A plan that was never the best and fell short of
// another by several standard deviations of their difference is not drawn
// further; the appraisal's notes say so. Blocks stop when the odds of the plans
// in question are stable to the digits shown (JCGM 101, 7.9.4), at the latest
// after effort.Most draws. The result depends on seed and effort, not on the
// number of threads. Errors: a cancelled context; what was reported so far stays
// good.
func Refine(ctx context.Context, a *Appraisal, effort Effort, report func(Progress)) (*Appraisal, error) {
	if a.study == nil {
		return nil, fmt.Errorf("econ: this appraisal has no plans to draw")
	}
	if effort.Most <= 0 {
		effort.Most = DefaultDraws
	}
	r := newRefinement(ctx, a, effort, report)
	select {
	case a.study.draws.turn <- struct{}{}:
		defer func() { <-a.study.draws.turn }()
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	return r.run()
}

// refinement is one call of Refine.
type refinement struct {
	ctx    context.Context
	study  *study
	from   *Appraisal
	latest *Appraisal
	effort Effort
	report func(Progress)
	zero   base
	blocks map[[2]int][]figures // by chain and ending: the odds of each block
}

func newRefinement(ctx context.Context, a *Appraisal, effort Effort, report func(Progress)) *refinement {
	if report == nil {
		report = func(Progress) {}
	}
	return &refinement{
		ctx: ctx, study: a.study, from: a, latest: a, effort: effort, report: report, zero: a.base(),
		blocks: map[[2]int][]figures{},
	}
}

// base finds the plan that gains are counted from.
func (a *Appraisal) base() base {
	for i := range a.Plans {
		if p := &a.Plans[i]; p.untouched() && p.Priced() && p.Ending == a.Baseline {
			return base{chain: p.chain, end: p.end}
		}
	}
	return base{none: true}
}

// run makes the first block for the plans that the verdict lies between, then
// for those that a list shows, then for all, then blocks of those in question.
func (r *refinement) run() (*Appraisal, error) {
	front, all := r.front(), r.openChains()
	for _, some := range [][]int{r.lead(), front} {
		if err := r.advance(some, min(block, r.effort.Most)); err != nil {
			return nil, err
		}
		r.tell(some, false)
	}
	if err := r.advance(all, min(firstLook, r.effort.Most)); err != nil {
		return nil, err
	}
	if err := r.advance(r.inQuestion(all, farBehind), min(block, r.effort.Most)); err != nil {
		return nil, err
	}
	for {
		chains := r.inQuestion(all, behind)
		settled := !r.effort.Fixed && r.settled(chains)
		done := r.drawn(chains)
		if r.tell(all, settled); settled || done >= r.effort.Most {
			return r.latest, nil
		}
		if err := r.advance(chains, min(done-done%block+block, r.effort.Most)); err != nil {
			return nil, err
		}
	}
}

// firstLook is how many draws every plan gets at least, of the first block.
const firstLook = 100

// How many standard deviations of the difference a plan that was never the best
// must lie behind one that was, to be set aside: after the first look, and after
// whole blocks. Never the best in a block means the best in fewer than 0.6 of a
// hundred draws, with a confidence of 95 % (the rule of three); so far behind
// means ahead in fewer than one draw of a hundred, if the difference is normal.
const (
	farBehind = 5.0
	behind    = 2.5
)

// lead lists the chains of the plan ranked first, of the one the verdict is about,
// of the best that works the lot up, and of the endings.
func (r *refinement) lead() []int {
	best := r.from.bestWork()
	var list []int
	for i := range r.from.Plans {
		p := &r.from.Plans[i]
		if p.Priced() && (len(list) == 0 || p.untouched() || p.ID == r.from.Verdict.Plan || p == best) {
			list = append(list, p.chain)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// front lists the chains that a list shows by itself: those of the best plans,
// of the best plan of each single route, and of the endings.
func (r *refinement) front() []int {
	var list []int
	shown := 0
	for i := range r.from.Plans {
		p := &r.from.Plans[i]
		if !p.Priced() || p.FoldedInto != "" {
			continue
		}
		if len(p.Routes) <= 1 || shown < shownPlans {
			list = append(list, p.chain)
			shown++
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// shownPlans is how many plans a list shows by itself.
const shownPlans = 10

// openChains lists the chains of which some ending can be carried out and priced.
func (r *refinement) openChains() []int {
	var list []int
	for i := range r.from.Plans {
		if p := &r.from.Plans[i]; p.Priced() {
			list = append(list, p.chain)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// advance makes and prices draws up to number n for some chains.
func (r *refinement) advance(chains []int, n int) error {
	for nth, at := 0, 0; at < n; nth++ {
		sp := r.study.draws.batch(nth, at, n)
		if err := r.study.simulate(r.ctx, nth, sp, chains); err != nil {
			return err
		}
		at = sp.end()
	}
	return r.study.reckon(r.ctx, chains, r.zero, n)
}

// drawn is how many draws the chains have.
func (r *refinement) drawn(chains []int) int {
	n := 0
	for _, c := range chains {
		n = max(n, r.study.prices.count(c))
	}
	return n
}

// tell hands out what is known so far of the plans of some chains.
func (r *refinement) tell(chains []int, settled bool) {
	r.latest = r.study.withOdds(r.from, chains)
	r.latest.Settled = settled
	r.report(Progress{Appraisal: r.latest, Draws: r.latest.Draws, Most: r.effort.Most, Settled: settled})
}

// refined gives an appraisal the odds of the draws that there are of the first
// block: those of the plans that a list shows, and of those that were drawn most.
func (s *study) refined(ctx context.Context, a *Appraisal) (*Appraisal, error) {
	r := newRefinement(ctx, a, Effort{Most: block}, nil)
	front, most := r.front(), s.draws.most()
	chains := slices.DeleteFunc(r.openChains(), func(c int) bool {
		_, shown := slices.BinarySearch(front, c)
		_, draws := s.draws.has(c)
		return !shown && draws < most
	})
	if err := s.reckon(ctx, chains, r.zero, block); err != nil {
		return nil, err
	}
	return s.withOdds(a, chains), nil
}
