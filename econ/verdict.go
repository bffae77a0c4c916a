package econ

import (
	"fmt"
	"math"
)

// verdict says what to do with the lot. The plans must be ranked and their
// gains filled in.
func (a *Appraisal) verdict(b *Book) Verdict {
	best := a.bestWork()
	base := baseline(a.Plans)
	if best != nil && best.Gain > moneyTolerance {
		return a.workUp(best)
	}
	if best != nil {
		if v, ok := a.pool(b, best); ok {
			return v
		}
	}
	if base == nil {
		return a.noPrice(best)
	}
	v := Verdict{Action: actions[base.Ending], Plan: base.ID}
	v.Why = a.whyNotWork(best, base)
	return v
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
	against := "doing nothing"
	if a.Baseline != "" {
		against = fmt.Sprintf("the best ending of the lot as it stands (%s, %s)", a.Baseline, a.money(a.BaselineNet))
	}
	v.Why = fmt.Sprintf("%s nets %s, %s more than %s, for %.1f hands-on hours", best.ID, a.money(best.Net), a.money(best.Gain), against, best.HandsOnH)
	return v
}

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

// pooled is what a lot gains as one of so many like lots worked together.
type pooled struct {
	lots    int
	fixed   Money // charges of the plan that are the same for any size of lot
	storage Money // of keeping the jar until then
	gain    Money // a lot
}

// pool advises to wait when the charges that are the same for any size of lot
// sink this one, and the like lots that come within the time a jar is kept
// would carry them together.
//
// What counts as fixed is only what does not grow with the lot for certain:
// fees, freight and the make-up to minimums. Hands-on time also grows less
// than the lot does, but by how much is not reckoned with.
func (a *Appraisal) pool(b *Book, best *PricedPlan) (Verdict, bool) {
	p, ok := b.pooling(best, a.Report.LotsPerYear)
	if !ok || !(p.gain > moneyTolerance) {
		return Verdict{}, false
	}
	least := b.leastLots(best, p)
	v := Verdict{Action: HoldAndPool, Plan: best.ID, Gain: best.Gain, PoolLots: least}
	v.Why = fmt.Sprintf("%s alone is %s short of %s, of which %s is the same for any size of lot; %d like lots together, of the %d that come while the jar is kept, turn that into a gain",
		best.ID, a.money(-best.Gain), a.baselineName(), a.money(p.fixed), least, p.lots)
	return v, true
}

func (a *Appraisal) baselineName() string {
	if a.Baseline == "" {
		return "doing nothing"
	}
	return a.Baseline
}

// pooling works out the gain of a lot among all like lots that come while a
// jar is kept.
func (b *Book) pooling(best *PricedPlan, lotsPerYear float64) (pooled, bool) {
	if b.storage == nil || !(lotsPerYear > 0) {
		return pooled{}, false
	}
	n := math.Floor(lotsPerYear*b.storage.Months/12 + 1e-9)
	if !(n >= 2 && n <= 1e6) {
		return pooled{}, false
	}
	p := pooled{lots: int(n), fixed: fixedCharges(best), storage: b.shelfCost()}
	p.gain = pooledGain(best.Gain, p, p.lots)
	return p, true
}

// pooledGain is the gain of a lot among n worked together: the fixed charges
// are shared, the jar has to be kept.
func pooledGain(alone Money, p pooled, n int) Money {
	return alone + p.fixed - p.fixed/Money(n) - p.storage
}

// leastLots is the least number of lots that turns the gain positive.
func (b *Book) leastLots(best *PricedPlan, p pooled) int {
	room := best.Gain + p.fixed - p.storage // what is left a lot before its part of the fixed charges
	n := int(math.Floor(float64(p.fixed/room))) + 1
	for n < p.lots && !(pooledGain(best.Gain, p, n) > moneyTolerance) {
		n++
	}
	return min(max(n, 2), p.lots)
}

// fixedCharges adds up the lines that are the same for any size of lot.
func fixedCharges(p *PricedPlan) Money {
	var sum Money
	for _, l := range p.Lines {
		if l.Fixed && l.Category != Revenue {
			sum += l.Amount
		}
	}
	return sum
}

// shelfCost is what one jar costs over the time it is kept.
func (b *Book) shelfCost() Money {
	k := b.storage
	return Money(k.Price.mean(b.figures) * k.Months)
}
