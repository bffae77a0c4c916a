package econ

import (
	"fmt"
	"math"
	"slices"
)

// withOdds returns a copy of an appraisal with the odds of the plans of some
// chains, from all their draws that are priced.
func (s *study) withOdds(a *Appraisal, chains []int) *Appraisal {
	s.prices.mu.Lock()
	defer s.prices.mu.Unlock()
	b := *a
	b.Plans = slices.Clone(a.Plans)
	b.Draws, b.SetAside = 0, 0
	c := s.contest(&b, chains)
	for k, i := range c.plans {
		b.Plans[i].Odds = c.odds(k)
		b.Draws = max(b.Draws, len(c.nets[k]))
	}
	for k := range c.plans {
		if len(c.nets[k]) < b.Draws {
			b.SetAside++
		}
	}
	b.Notes = slices.Clone(a.Notes)
	if b.SetAside > 0 {
		b.Notes = append(b.Notes, fmt.Sprintf("%d plans were drawn fewer than %d times: none of them was the best in any draw, and each fell short of the best by more than %g standard deviations of the difference in the same draws", b.SetAside, b.Draws, behind))
	}
	for i := range b.Plans {
		if p := &b.Plans[i]; p.ID == b.Verdict.Plan && p.Odds != nil {
			positive := p.Odds.PPositive
			b.Verdict.PPositive = &positive
		}
	}
	return &b
}

// contest sets plans against one another in the same draws.
type contest struct {
	plans []int       // by place in the appraisal
	nets  [][]float64 // draw by draw
	fails [][]bool
	zero  []float64 // net of the baseline; nil without one
	best  []float64 // of each draw
	wins  []int     // by plan: draws in which it is the best
}

// contest gathers the plans of some chains that have draws. The prices must be
// locked.
func (s *study) contest(a *Appraisal, chains []int) *contest {
	c := &contest{}
	if zero := a.base(); !zero.none {
		c.zero = s.prices.nets[zero.chain][zero.end]
	}
	for i := range a.Plans {
		p := &a.Plans[i]
		if _, in := slices.BinarySearch(chains, p.chain); !in || !p.Priced() || len(s.prices.nets[p.chain][p.end]) == 0 {
			continue
		}
		c.plans = append(c.plans, i)
		c.nets = append(c.nets, s.prices.nets[p.chain][p.end])
		c.fails = append(c.fails, s.prices.fails[p.chain][p.end])
	}
	c.judge()
	return c
}

// judge finds the best plan of each draw; of equal ones the one ranked first.
func (c *contest) judge() {
	n := 0
	for _, list := range c.nets {
		n = max(n, len(list))
	}
	c.best, c.wins = make([]float64, n), make([]int, len(c.nets))
	winner := make([]int, n)
	for k, list := range c.nets {
		for d, net := range list {
			if k == 0 || net > c.best[d]+moneyTolerance.Float() {
				c.best[d], winner[d] = net, k
			}
		}
	}
	for _, k := range winner {
		c.wins[k]++
	}
}

// odds works out the odds of the kth plan.
func (c *contest) odds(k int) *Odds {
	list := c.nets[k]
	n := float64(len(list))
	o := &Odds{Draws: len(list), PBest: float64(c.wins[k]) / n}
	var regret, ahead, positive, fails float64
	for d, net := range list {
		regret += c.best[d] - net
		ahead += lead(net - c.nets[0][d])
		if c.zero == nil || d >= len(c.zero) {
			positive += lead(net)
		} else if net-c.zero[d] > moneyTolerance.Float() {
			positive++
		}
		if c.fails[k][d] {
			fails++
		}
	}
	m := momentsOf(list)
	o.Mean, o.SD = Money(m.mean), Money(m.sd())
	o.Regret, o.PPositive, o.Fails = Money(regret/n), positive/n, fails/n
	if o.Ahead = ahead / n; k > 0 {
		o.Equal = o.Ahead >= equalShare
	}
	q := quantiles(list, 0.1, 0.5, 0.9)
	o.P10, o.P50, o.P90 = Money(q[0]), Money(q[1]), Money(q[2])
	return o
}

// lead is 1 for a lead, half of it for none either way.
func lead(difference float64) float64 {
	switch {
	case difference > moneyTolerance.Float():
		return 1
	case difference < -moneyTolerance.Float():
		return 0
	}
	return 0.5
}

// moments are the mean and the squares of a list, added up in its order.
type moments struct{ n, mean, squares float64 }

// add takes one more value in (Welford's recurrence: Knuth, The Art of Computer
// Programming, volume 2, section 4.2.2).
func (m *moments) add(x float64) {
	m.n++
	d := x - m.mean
	m.mean += d / m.n
	m.squares += d * (x - m.mean)
}

// variance is that of the sample, with n−1 (JCGM 101:2008, 7.6, formula 17).
func (m *moments) variance() float64 {
	if m.n < 2 {
		return 0
	}
	return m.squares / (m.n - 1)
}

func (m *moments) sd() float64 { return math.Sqrt(m.variance()) }

func momentsOf(list []float64) moments {
	var m moments
	for _, x := range list {
		m.add(x)
	}
	return m
}

// quantiles returns the values below which the shares p of a list lie, p
// ascending: of M values the one in place pM, counted from 1, or the next higher
// where that is no whole number (the discrete representation of the
// distribution function, JCGM 101:2008, 7.5.1 and 7.7.1).
func quantiles(list []float64, p ...float64) []float64 {
	sorted := slices.Clone(list)
	slices.Sort(sorted)
	found := make([]float64, len(p))
	for i, share := range p {
		place := int(math.Ceil(share*float64(len(sorted))-1e-9)) - 1
		found[i] = sorted[min(max(place, 0), len(sorted)-1)]
	}
	return found
}
