package econ

import (
	"math"
	"slices"
)

// inQuestion lists those of the chains that have a plan which may still be the
// best one: it was so in some draw, or no winner of a draw lies k standard
// deviations of the difference ahead of it.
// The plan ranked first, the one the verdict is about and the baseline stay in
// any case.
func (r *refinement) inQuestion(chains []int, k float64) []int {
	s := r.study
	s.prices.mu.Lock()
	defer s.prices.mu.Unlock()
	c := s.contest(r.from, chains)
	rivals := c.winners()
	var list []int
	for n, i := range c.plans {
		p := &r.from.Plans[i]
		keep := n == 0 || p.ID == r.from.Verdict.Plan || p.untouched() && p.Ending == r.from.Baseline
		if keep || c.wins[n] > 0 || !c.outdone(n, rivals, k) {
			list = append(list, p.chain)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// winners lists the plans that are the best in some draw.
func (c *contest) winners() []int {
	var list []int
	for k, wins := range c.wins {
		if wins > 0 {
			list = append(list, k)
		}
	}
	return list
}

// outdone reports that a plan lies more than k standard deviations of the
// difference behind one of its rivals.
func (c *contest) outdone(n int, rivals []int, k float64) bool {
	for _, rival := range rivals {
		if rival != n && c.farBehind(n, rival, k) {
			return true
		}
	}
	return false
}

// farBehind reports that a plan lies more than k standard deviations of the
// difference behind another, in the draws that both have.
func (c *contest) farBehind(n, rival int, k float64) bool {
	var m moments
	for d := range min(len(c.nets[n]), len(c.nets[rival])) {
		m.add(c.nets[rival][d] - c.nets[n][d])
	}
	return m.mean > k*m.sd() && m.mean > rankStep
}

// figures are the odds of one block, as far as they decide when to stop.
type figures [4]float64 // P10, P50, P90, P(gain > 0)

// settled reports that the odds of the plans of some chains no longer change in
// the digits shown: for each, twice the standard deviation of the mean over the
// blocks is below half a step of the last digit (JCGM 101:2008, 7.9.4). Money is
// shown in steps of its spread (see ShownStep), odds in per cent.
func (r *refinement) settled(chains []int) bool {
	s := r.study
	s.prices.mu.Lock()
	defer s.prices.mu.Unlock()
	c := s.contest(r.from, chains)
	if len(c.best) < leastBlocks*block {
		return false
	}
	for k, i := range c.plans {
		if !r.stable(&r.from.Plans[i], c, k) {
			return false
		}
	}
	return true
}

// leastBlocks is how many blocks it takes to tell how far they scatter.
const leastBlocks = 2

// oddsStep is the step in which odds are shown.
const oddsStep = 0.01

func (r *refinement) stable(p *PricedPlan, c *contest, k int) bool {
	at := [2]int{p.chain, p.end}
	list := r.blocks[at]
	for n := len(list); (n+1)*block <= len(c.nets[k]); n++ {
		list = append(list, c.blockOf(k, n*block))
	}
	r.blocks[at] = list
	step := ShownStep(c.spread(list))
	for f := range len(figures{}) {
		var m moments
		for i := range list {
			m.add(list[i][f])
		}
		tolerance := step / 2
		if f == 3 {
			tolerance = oddsStep / 2
		}
		if 2*m.sd() > tolerance*math.Sqrt(m.n) {
			return false
		}
	}
	return true
}

// blockOf works out the odds of the block that begins with a draw.
func (c *contest) blockOf(k, from int) figures {
	list := c.nets[k][from : from+block]
	q := quantiles(list, 0.1, 0.5, 0.9)
	f := figures{q[0], q[1], q[2]}
	for i, net := range list {
		if c.zero != nil {
			net -= c.zero[from+i]
		}
		if net > moneyTolerance.Float() {
			f[3] += 1.0 / block
		}
	}
	return f
}

// spread is the mean range from P10 to P90 over the blocks.
func (c *contest) spread(list []figures) float64 {
	sum := 0.0
	for i := range list {
		sum += list[i][2] - list[i][0]
	}
	return sum / float64(len(list))
}

// ShownStep is the step in which figures with a spread from P10 to P90 are
// shown: the spread to two digits. 0 without a spread.
func ShownStep(spread float64) float64 {
	if !(spread > 0) || math.IsInf(spread, 0) {
		return 0
	}
	return math.Pow(10, math.Floor(math.Log10(spread))-1)
}
