package econ

import (
	"context"
	"fmt"
	"math"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// mostPooled bounds how many lots are thought of together: more is a works, not
// a bench.
const mostPooled = 100

// pool advises to wait when the charges that are the same for any size of lot
// sink this one, and the like lots that come while a jar is kept would carry
// them together. Two things must hold for so many lots, a lot: working them up
// together gains over ending them together, and it leaves more, after the
// shelf, than ending this one alone. base is nil when no ending can be priced.
//
// Working n lots is simulated as one lot n times as large; where the appraisal
// has no model to do so, it is priced as the same work n times, sold, carried away
// and bought for in one go.
func (a *Appraisal) pool(b *Book, v input.Values, best, base *PricedPlan) (Verdict, bool) {
	fixed := fixedCharges(best)
	most := b.lotsWhileKept(a.Report.LotsPerYear)
	if base == nil || !(fixed > moneyTolerance) || most < 2 {
		return Verdict{}, false
	}
	shelf := b.shelfCost(v)
	each := a.together(b, v, base, best)
	for n := 2; n <= most; n++ {
		end, work, ok := each(n)
		if !ok || !(work-end > moneyTolerance) || !(work-shelf-base.Net > moneyTolerance) {
			continue
		}
		why := fmt.Sprintf("%s alone is %s short of %s, and %s of its costs are the same for any size of lot; %d like lots worked together net %s each, %s more than ending them together, and %d come while a jar is kept",
			best.ID, a.money(-best.Gain), a.Baseline, a.money(fixed), n, a.money(work), a.money(work-end), most)
		return Verdict{Action: HoldAndPool, Plan: best.ID, Gain: best.Gain, PoolLots: n, Why: why}, true
	}
	return Verdict{}, false
}

// together returns the function that gives what each of n lots nets that go
// through the one or the other plan together.
func (a *Appraisal) together(b *Book, v input.Values, base, best *PricedPlan) func(n int) (end, work Money, ok bool) {
	if a.study == nil {
		return func(n int) (end, work Money, ok bool) {
			end, ended := b.eachOf(base.Outcome, n, v)
			work, worked := b.eachOf(best.Outcome, n, v)
			return end, work, ended && worked
		}
	}
	ctx := context.Background() // some milliseconds
	g, err := a.study.gauge(ctx, base, best)
	if err != nil {
		return func(int) (end, work Money, ok bool) { return 0, 0, false }
	}
	at := a.along(&WhatIf{req: a.study.req, base: a}, factorSlider(SliderSize, "", GroupLot, math.Inf(1)), g)
	return func(n int) (end, work Money, ok bool) {
		nets, err := at(ctx, float64(n), nil)
		if err != nil || math.IsInf(nets[0], -1) || math.IsInf(nets[1], -1) {
			return 0, 0, false
		}
		return Money(nets[0] / float64(n)), Money(nets[1] / float64(n)), true
	}
}

// lotsWhileKept is how many like lots, this one included, come within the time
// that a jar is kept; 0 when that is not known.
func (b *Book) lotsWhileKept(perYear float64) int {
	if b.storage == nil || !(perYear > 0) {
		return 0
	}
	const slack = 1e-9 // twelve months of a lot a month are twelve, however they were rounded
	return int(math.Min(math.Floor(perYear*b.storage.Months/12+slack), mostPooled))
}

// shelfCost is what one jar costs over the time it is kept.
func (b *Book) shelfCost(v input.Values) Money {
	hours := b.storage.Months * float64(units.Month)
	return Money(b.storage.Price.Quantity(hours) * b.storage.Price.At(v))
}

// eachOf is the net of one lot of n that go through the same plan together.
func (b *Book) eachOf(o *route.Outcome, n int, v input.Values) (Money, bool) {
	together := scaled(o, float64(n))
	p := b.PricePlan(&together, v)
	return p.Net / Money(n), p.Priced()
}

// scaled is a ledger times k: all that it takes and gives grows alike. What is
// a strength, a share or a vessel's filling stays.
func scaled(o *route.Outcome, k float64) route.Outcome {
	s := *o
	s.Steps = make([]route.StepRecord, len(o.Steps))
	for i, step := range o.Steps {
		s.Steps[i] = step
		s.Steps[i].Entries = append([]route.Entry(nil), step.Entries...)
		for j := range s.Steps[i].Entries {
			e := &s.Steps[i].Entries[j]
			e.Volume *= units.Volume(k)
			if e.Kind != route.Vessel {
				e.Amount *= k
			}
		}
	}
	s.Products = append([]route.Product(nil), o.Products...)
	for i := range s.Products {
		s.Products[i].Mass *= units.Mass(k)
		s.Products[i].MetalMass *= units.Mass(k)
	}
	s.Waste = append([]route.Waste(nil), o.Waste...)
	for i := range s.Waste {
		s.Waste[i].Mass *= units.Mass(k)
		s.Waste[i].Volume *= units.Volume(k)
	}
	return s
}

// fixedCharges adds up the costs that are the same for any size of lot.
func fixedCharges(p *PricedPlan) Money {
	var sum Money
	for _, l := range p.Lines {
		if l.Fixed && l.Category != Revenue {
			sum += l.Amount
		}
	}
	return sum
}
