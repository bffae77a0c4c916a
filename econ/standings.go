package econ

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"afterpour/chem/input"
)

// rankStep is what two nets must differ by to be ranked by it: far below any
// coin, so that rounding in a sum never decides the order.
const rankStep = 1e-6

// Rank sorts plans by net, best first, and by id where nets are equal; blocked
// plans come last, by id. The order is total and depends on nothing but the
// plans.
func Rank(plans []PricedPlan) {
	order := make([]*PricedPlan, len(plans)) // plans are large: they are moved once
	for i := range plans {
		order[i] = &plans[i]
	}
	slices.SortStableFunc(order, comparePlans)
	ranked := make([]PricedPlan, len(plans))
	for i, p := range order {
		ranked[i] = *p
	}
	copy(plans, ranked)
}

func comparePlans(a, b *PricedPlan) int {
	if a.Priced() != b.Priced() {
		if a.Priced() {
			return -1
		}
		return 1
	}
	if na, nb := rankNet(a), rankNet(b); na != nb && a.Priced() {
		return cmp.Compare(nb, na)
	}
	return strings.Compare(a.ID, b.ID)
}

func rankNet(p *PricedPlan) float64 { return math.Round(p.Net.Float() / rankStep) }

// untouched reports that the plan is an ending of the lot as it stands.
func (p *PricedPlan) untouched() bool { return len(p.Routes) == 0 }

// baseline returns the untouched lot's ending with the best net. The plans must
// be ranked.
func baseline(plans []PricedPlan) *PricedPlan {
	for i := range plans {
		if plans[i].untouched() && plans[i].Priced() {
			return &plans[i]
		}
	}
	return nil
}

// setGains fills in what each priced plan brings beyond the baseline.
func setGains(plans []PricedPlan, baselineNet Money) {
	for i := range plans {
		p := &plans[i]
		if !p.Priced() {
			continue
		}
		p.Gain = p.Net - baselineNet
		if p.HandsOnH > 0 {
			perHour := (p.Gain + p.LabourCost) / Money(p.HandsOnH)
			p.GainPerHour = &perHour
		}
	}
}

// standings ranks the plans of an appraisal, finds the baseline and the verdict.
func (a *Appraisal) standings(b *Book, v input.Values, treatments []string) {
	Rank(a.Plans)
	fold(a.Plans, treatments)
	if base := baseline(a.Plans); base != nil {
		a.Baseline, a.BaselineNet = base.Ending, base.Net
	} else {
		a.Notes = append(a.Notes, "no ending of the lot as it stands can be priced ("+a.whyNoEnding()+"); gains are counted from doing nothing at no cost, which is less than they are")
	}
	setGains(a.Plans, a.BaselineNet)
	a.Verdict = a.verdict(b, v)
}

// whyNoEnding gives the reason of the first blocked ending.
func (a *Appraisal) whyNoEnding() string {
	for i := range a.Plans {
		if p := &a.Plans[i]; p.untouched() && !p.Priced() {
			return fmt.Sprintf("%s: %s", p.ID, p.Blocked.Reason)
		}
	}
	return "none is known"
}
