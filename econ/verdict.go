package econ

import (
	"fmt"

	"afterpour/chem/input"
)

// verdict says what to do with the lot. The plans must be ranked and their
// gains filled in.
func (a *Appraisal) verdict(b *Book, v input.Values) Verdict {
	best := a.bestWork()
	base := baseline(a.Plans)
	if best != nil && best.Gain > moneyTolerance {
		return a.workUp(best)
	}
	if best != nil {
		if pooled, ok := a.pool(b, v, best, base); ok {
			return pooled
		}
	}
	if base == nil {
		return a.noPrice(best)
	}
	return Verdict{Action: actions[base.Ending], Plan: base.ID, Why: a.whyNotWork(best, base)}
}

// actions name what an ending of the untouched lot amounts to.
var actions = map[string]string{endDispose: Dispose, endSell: SellAsIs, endHold: HoldAndPool}

// bestWork returns the best priced plan that works the lot up, nil if none.
func (a *Appraisal) bestWork() *PricedPlan {
	for i := range a.Plans {
		if p := &a.Plans[i]; p.Priced() && !p.untouched() {
			return p
		}
	}
	return nil
}

// money writes an amount for a sentence.
func (a *Appraisal) money(m Money) string { return m.Text() + " " + a.Currency }

func (a *Appraisal) workUp(best *PricedPlan) Verdict {
	v := Verdict{Action: WorkUp, Plan: best.ID, Gain: best.Gain}
	if best.winsNothing() {
		v.Action = actions[best.Ending] // made ready for the carrier, not worked up
	}
	against := "doing nothing"
	if a.Baseline != "" {
		against = fmt.Sprintf("the best ending of the lot as it stands (%s, %s)", a.Baseline, a.money(a.BaselineNet))
	}
	v.Why = fmt.Sprintf("%s nets %s, %s more than %s, for %.1f hands-on hours", best.ID, a.money(best.Net), a.money(best.Gain), against, best.HandsOnH)
	return v
}

// winsNothing reports that the plan sells nothing that a route has made.
func (p *PricedPlan) winsNothing() bool { return p.Outcome != nil && len(p.Outcome.Products) == 0 }

// whyNotWork is the reason for an ending of the untouched lot.
func (a *Appraisal) whyNotWork(best, base *PricedPlan) string {
	if best == nil {
		return fmt.Sprintf("no route can be carried out and priced on this bench, and %s at %s is the best ending of the lot as it stands", base.Ending, a.money(base.Net))
	}
	return fmt.Sprintf("the best way to work it up, %s, nets %s, which is %s less than %s at %s", best.ID, a.money(best.Net), a.money(-best.Gain), base.Ending, a.money(base.Net))
}

// noPrice is the verdict when not even an ending can be priced: the jar can
// only stand until a price is entered.
func (a *Appraisal) noPrice(best *PricedPlan) Verdict {
	v := Verdict{Action: HoldAndPool}
	if best != nil {
		v.Plan, v.Gain = best.ID, best.Gain
		v.Why = fmt.Sprintf("the best way to work it up, %s, nets %s, and no ending of the lot as it stands can be priced to set it against: %s", best.ID, a.money(best.Net), a.whyNoEnding())
		return v
	}
	v.Why = "nothing can be priced yet, so keep it until that is mended: " + a.whyNoEnding()
	return v
}
