package econ

import (
	"math"

	"afterpour/chem/route"
	"afterpour/chem/units"
)

// sumSlack is the share by which two sums of the same figures may differ.
const sumSlack = 1e-9

// alikeSums reports that two figures are the same but for rounding; size is the
// largest figure that went into them.
func alikeSums(a, b, size float64) bool {
	return math.Abs(a-b) <= sumSlack*math.Max(size, math.Max(math.Abs(a), math.Abs(b)))
}

// Sums proves that every priced plan's money is the sum of its lines, each line
// a quantity times a price of the book, and net and gain what they are said to
// be.
func Sums(a *Appraisal) Proof {
	p := proofOf("sums", "the money of every plan is the sum of its lines, and each line is a quantity times a price of the book")
	plans, lines := 0, 0
	for i := range a.Plans {
		plan := &a.Plans[i]
		if !plan.Priced() {
			continue
		}
		plans++
		lines += len(plan.Lines)
		p.lines(a, plan)
		p.categories(plan)
		p.net(a, plan)
	}
	return p.done("%s in %s multiplied out and added up", plural(lines, "line", "lines"), plural(plans, "priced plan", "priced plans"))
}

func (p *Proof) lines(a *Appraisal, plan *PricedPlan) {
	for i := range plan.Lines {
		l := &plan.Lines[i]
		if !alikeSums(l.Amount.Float(), l.Quantity*l.Price, 0) || l.Amount < 0 {
			p.wrong("%s, %s: %g × %g is not %g", plan.ID, l.Item, l.Quantity, l.Price, l.Amount.Float())
		}
		if _, known := a.Figures.ByID(l.PriceID); !known {
			p.wrong("%s, %s: there is no price %q", plan.ID, l.Item, l.PriceID)
		}
	}
}

// categories adds the lines up by category and holds them against the totals.
func (p *Proof) categories(plan *PricedPlan) {
	sum := map[Category]Money{}
	for i := range plan.Lines {
		sum[plan.Lines[i].Category] += plan.Lines[i].Amount
	}
	for category, told := range plan.totals() {
		if !alikeSums(told.Float(), sum[category].Float(), 0) {
			p.wrong("%s: the lines of %s come to %g, told are %g", plan.ID, category, sum[category].Float(), told.Float())
		}
		delete(sum, category)
	}
	for category := range sum {
		p.wrong("%s: lines of %q belong to no total", plan.ID, category)
	}
}

// totals are a plan's totals by category.
func (p *PricedPlan) totals() map[Category]Money {
	return map[Category]Money{
		Revenue: p.Revenue, Fees: p.Fees, Reagents: p.ReagentCost, Energy: p.EnergyCost,
		Labour: p.LabourCost, Consumables: p.ConsumableCost, Disposal: p.DisposalCost, Storage: p.StorageCost,
	}
}

func (p *Proof) net(a *Appraisal, plan *PricedPlan) {
	net, size := 0.0, 0.0
	for category, amount := range plan.totals() {
		if category == Revenue {
			net += amount.Float()
		} else {
			net -= amount.Float()
		}
		size = math.Max(size, amount.Float())
	}
	size = math.Max(size, math.Abs(a.BaselineNet.Float()))
	for _, c := range []struct {
		what      string
		told, got float64
	}{
		{"net", plan.Net.Float(), net},
		{"net without labour", plan.NetWithoutLabour.Float(), net + plan.LabourCost.Float()},
		{"gain", plan.Gain.Float(), net - a.BaselineNet.Float()},
	} {
		if !alikeSums(c.told, c.got, size) {
			p.wrong("%s: the %s is told as %g and comes to %g", plan.ID, c.what, c.told, c.got)
		}
	}
	if plan.HandsOnH > 0 && (plan.PerHour == nil || !alikeSums(plan.PerHour.Float()*plan.HandsOnH, net+plan.LabourCost.Float(), size)) {
		p.wrong("%s: the net for each hands-on hour is not the net without labour over %g h", plan.ID, plan.HandsOnH)
	}
}

// Ledger proves that what is paid for is what the steps took and gave: the
// hours, energy, reagents, products and waste of every priced plan, added up
// again from the ledger of its steps.
func Ledger(a *Appraisal) Proof {
	p := proofOf("ledger", "what is paid for is what the steps of the plan took and gave")
	plans, entries := 0, 0
	for i := range a.Plans {
		plan := &a.Plans[i]
		if !plan.Priced() || plan.Outcome == nil {
			continue
		}
		plans++
		for j := range plan.Outcome.Steps {
			entries += len(plan.Outcome.Steps[j].Entries)
		}
		p.hours(plan)
		p.reagents(plan)
		p.products(plan)
		p.waste(plan)
	}
	return p.done("%s of %s added up again", plural(entries, "entry in the ledger", "entries in the ledgers"), plural(plans, "priced plan", "priced plans"))
}

// ledgerSum adds up the entries of one kind of the item, of all items for "".
func ledgerSum(o *route.Outcome, kind route.EntryKind, item string) (amount float64, volume units.Volume) {
	for i := range o.Steps {
		for j := range o.Steps[i].Entries {
			if e := &o.Steps[i].Entries[j]; e.Kind == kind && (item == "" || e.Item == item) {
				amount += e.Amount
				volume += e.Volume
			}
		}
	}
	return amount, volume
}

// quantity adds up the quantities of the lines of one category.
func (p *PricedPlan) quantity(category Category) (sum float64) {
	for i := range p.Lines {
		if p.Lines[i].Category == category {
			sum += p.Lines[i].Quantity
		}
	}
	return sum
}

func (p *Proof) hours(plan *PricedPlan) {
	handsOn, _ := ledgerSum(plan.Outcome, route.HandsOn, "")
	elapsed, _ := ledgerSum(plan.Outcome, route.Elapsed, "")
	wall, _ := ledgerSum(plan.Outcome, route.Electricity, "")
	burnt, _ := ledgerSum(plan.Outcome, route.Fuel, "")
	air, _ := ledgerSum(plan.Outcome, route.FreshAir, "")
	for _, c := range []struct {
		what         string
		told, ledger float64
	}{
		{"hands-on hours", plan.HandsOnH, handsOn},
		{"hours in all", plan.ElapsedH, elapsed},
		{"kWh", plan.EnergyKWh, wall + burnt},
		{"m3 of fresh air", plan.FreshAirM3, air},
		{"hours paid for", plan.quantity(Labour), handsOn},
		{"kWh paid for", plan.quantity(Energy), wall + burnt},
	} {
		if !alikeSums(c.told, c.ledger, 0) {
			p.wrong("%s: %g %s are told, the ledger has %g", plan.ID, c.told, c.what, c.ledger)
		}
	}
}

func (p *Proof) reagents(plan *PricedPlan) {
	var cost, all float64
	for _, r := range plan.Reagents {
		grams, volume := ledgerSum(plan.Outcome, route.Reagent, r.Reagent)
		if !alikeSums(r.Mass.Grams(), grams, 0) || !alikeSums(r.Volume.Litres(), volume.Litres(), 0) {
			p.wrong("%s: %g g of %s are told, the ledger has %g g", plan.ID, r.Mass.Grams(), r.Reagent, grams)
		}
		cost, all = cost+r.Cost.Float(), all+grams
	}
	if grams, _ := ledgerSum(plan.Outcome, route.Reagent, ""); !alikeSums(all, grams, 0) {
		p.wrong("%s: the reagents come to %g g, the ledger has %g g", plan.ID, all, grams)
	}
	if !alikeSums(cost, plan.ReagentCost.Float(), 0) {
		p.wrong("%s: the reagents one by one cost %g, together %g", plan.ID, cost, plan.ReagentCost.Float())
	}
}

// products holds what is sold against what the steps made; what is sold as it
// stands comes from the waste and is held against that.
func (p *Proof) products(plan *PricedPlan) {
	var sold, made, receipts float64
	for i := range plan.Products {
		sold += plan.Products[i].Mass.Kilograms()
		receipts += plan.Products[i].Receipts.Float()
	}
	for i := range plan.Outcome.Products {
		made += plan.Outcome.Products[i].Mass.Kilograms()
	}
	if plan.Ending == endSell {
		made += leftKilograms(plan.Outcome) - toldKilograms(plan)
	}
	if !alikeSums(sold, made, leftKilograms(plan.Outcome)) {
		p.wrong("%s: %g kg are sold, %g kg were made", plan.ID, sold, made)
	}
	if !alikeSums(receipts, plan.Revenue.Float(), 0) {
		p.wrong("%s: the products one by one bring %g, together %g", plan.ID, receipts, plan.Revenue.Float())
	}
}

// waste holds what a carrier is paid for against what is left.
func (p *Proof) waste(plan *PricedPlan) {
	cost := 0.0
	for _, w := range plan.Waste {
		var mass, volume float64
		for i := range plan.Outcome.Waste {
			if left := &plan.Outcome.Waste[i]; left.Class == w.Class {
				mass, volume = mass+left.Mass.Kilograms(), volume+left.Volume.Litres()
			}
		}
		if !alikeSums(w.Mass.Kilograms(), mass, 0) || !alikeSums(w.Volume.Litres(), volume, 0) {
			p.wrong("%s: %g kg and %g L of %s are told, %g kg and %g L are left", plan.ID, w.Mass.Kilograms(), w.Volume.Litres(), w.Class, mass, volume)
		}
		cost += w.Cost.Float()
	}
	if !alikeSums(cost, plan.DisposalCost.Float(), 0) {
		p.wrong("%s: the waste class by class costs %g, together %g", plan.ID, cost, plan.DisposalCost.Float())
	}
	if told, left := toldKilograms(plan), leftKilograms(plan.Outcome); plan.Ending != endSell && !alikeSums(told, left, 0) {
		p.wrong("%s: %g kg go to the carrier, %g kg are left", plan.ID, told, left)
	}
}

func leftKilograms(o *route.Outcome) (sum float64) {
	for i := range o.Waste {
		sum += o.Waste[i].Mass.Kilograms()
	}
	return sum
}

func toldKilograms(plan *PricedPlan) (sum float64) {
	for _, w := range plan.Waste {
		sum += w.Mass.Kilograms()
	}
	return sum
}

// Standings proves the order of the plans, the baseline and the verdict.
func Standings(a *Appraisal) Proof {
	p := proofOf("standings", "the plans stand in the order of their net, and the verdict is about the one it names")
	last, blocked := math.Inf(1), false
	var best *PricedPlan
	byID := map[string]*PricedPlan{}
	for i := range a.Plans {
		plan := &a.Plans[i]
		if byID[plan.ID] != nil {
			p.wrong("%s is listed twice", plan.ID)
		}
		byID[plan.ID] = plan
		if !plan.Priced() {
			blocked = true
			if plan.Blocked.Reason == "" {
				p.wrong("%s is blocked without a reason", plan.ID)
			}
			continue
		}
		if blocked || plan.Net.Float() > last+rankStep {
			p.wrong("%s with a net of %g stands below %g", plan.ID, plan.Net.Float(), last)
		}
		last = plan.Net.Float()
		if plan.untouched() && best == nil {
			best = plan
		}
	}
	p.verdict(a, best, byID)
	return p.done("%s in order; the baseline is %s, the verdict %s", plural(len(a.Plans), "plan", "plans"), orNone(a.Baseline), a.Verdict.Action)
}

func (p *Proof) verdict(a *Appraisal, best *PricedPlan, byID map[string]*PricedPlan) {
	if best != nil && (best.Ending != a.Baseline || !alikeSums(best.Net.Float(), a.BaselineNet.Float(), 0)) {
		p.wrong("the best ending of the lot as it stands is %s at %g, the baseline is told as %s at %g", best.ID, best.Net.Float(), a.Baseline, a.BaselineNet.Float())
	}
	plan := byID[a.Verdict.Plan]
	switch {
	case a.Verdict.Plan == "":
	case plan == nil || !plan.Priced():
		p.wrong("the verdict is about %q, which is no priced plan", a.Verdict.Plan)
	case !alikeSums(plan.Gain.Float(), a.Verdict.Gain.Float(), math.Abs(plan.Net.Float())):
		p.wrong("the verdict tells of a gain of %g, its plan of %g", a.Verdict.Gain.Float(), plan.Gain.Float())
	case a.Verdict.Action == WorkUp && !(plan.Gain > 0):
		p.wrong("the verdict is to work the lot up at a gain of %g", plan.Gain.Float())
	}
}

func orNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}
