package econ

import (
	"fmt"
	"sort"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// PricePlan puts a plan's ledger into money at the values v of the book's
// figures. It is a pure function of its arguments, safe for concurrent use.
//
// A plan that chemistry blocks stays blocked. A price that the plan needs and
// the book lacks, or a product that no buyer in it accepts, blocks the plan
// too, with the reason. Gain and GainPerHour are left to the standings, which
// know the baseline.
func (b *Book) PricePlan(o *route.Outcome, v input.Values) PricedPlan {
	p := PricedPlan{ID: o.Plan.ID, Routes: o.Plan.Routes, Ending: o.Plan.Ending, Outcome: o, Blocked: o.Blocked}
	for _, c := range o.Cautions() {
		p.Cautions = append(p.Cautions, c.Text)
	}
	if p.Blocked != nil {
		return p
	}
	p.physical(o)
	c := pricing{book: b, v: v, plan: &p}
	c.products(o.Products)
	c.reagents(o)
	c.energy(o)
	c.labour(o)
	c.consumables(o)
	c.ending(o)
	c.total()
	return p
}

// physical takes over the figures of the ledger that are no money.
func (p *PricedPlan) physical(o *route.Outcome) {
	p.HandsOnH = o.Sum(route.HandsOn)
	p.ElapsedH = o.Sum(route.Elapsed)
	p.EnergyKWh = o.Sum(route.Electricity) + o.Sum(route.Fuel)
	p.FreshAirM3 = o.Sum(route.FreshAir)
	for _, n := range needs(o, route.Gas) {
		p.Gases = append(p.Gases, PlanGas{Gas: n.item, Mass: n.mass()})
	}
	for i := range o.Steps {
		for _, e := range o.Steps[i].Entries {
			if e.Kind == route.Vessel && units.Volume(e.Amount) > p.LargestVolume {
				p.LargestVolume = units.Volume(e.Amount)
			}
		}
	}
}

// pricing is one plan being priced.
type pricing struct {
	book *Book
	v    input.Values
	plan *PricedPlan
}

// need is what a plan takes of one item, over all steps.
type need struct {
	item   string
	amount float64 // in the ledger's unit of its kind
	volume units.Volume
	why    route.Why
}

// mass is the amount of an item that the ledger counts in grams.
func (n need) mass() units.Mass { return units.Mass(n.amount) * units.Gram }

// needs adds up the entries of one kind by item, in the order of first use.
func needs(o *route.Outcome, kind route.EntryKind) []need {
	var list []need
	at := map[string]int{}
	for i := range o.Steps {
		for _, e := range o.Steps[i].Entries {
			if e.Kind != kind {
				continue
			}
			k, ok := at[e.Item]
			if !ok {
				k = len(list)
				at[e.Item] = k
				list = append(list, need{item: e.Item})
			}
			list[k].amount += e.Amount
			list[k].volume += e.Volume
			list[k].why = joined(list[k].why, e.Why)
		}
	}
	return list
}

// total is needs without regard to the item.
func total(o *route.Outcome, kind route.EntryKind) need {
	var sum need
	for _, n := range needs(o, kind) {
		sum.amount += n.amount
		sum.why = joined(sum.why, n.why)
	}
	return sum
}

// joined is what the sum of two figures rests on.
func joined(a, b route.Why) route.Why {
	sum := route.Why{Formula: a.Formula, Reason: a.Reason, Inputs: a.Inputs.Union(b.Inputs)}
	if sum.Formula == "" {
		sum.Formula = b.Formula
	}
	sum.Sources = append(sum.Sources, a.Sources...)
	for _, s := range b.Sources {
		if !contains(sum.Sources, s) {
			sum.Sources = append(sum.Sources, s)
		}
	}
	return sum
}

func contains(list []string, word string) bool {
	for _, w := range list {
		if w == word {
			return true
		}
	}
	return false
}

// add books a line at the price p: amount = quantity × price.
func (c *pricing) add(category Category, item string, quantity float64, unit string, p Price, each float64, why route.Why) *Line {
	why.Inputs = why.Inputs.With(p.Ref)
	c.use(p)
	l := Line{
		Category: category, Item: item, Quantity: quantity, Unit: unit,
		Price: each, PriceUnit: c.book.Currency + " / " + unit,
		Amount: Money(quantity * each), PriceID: p.ID, Why: why,
	}
	if unit == "" {
		l.PriceUnit = c.book.Currency
	}
	c.plan.Lines = append(c.plan.Lines, l)
	return &c.plan.Lines[len(c.plan.Lines)-1]
}

// perUnit books an amount given in the price's base unit (kg, L, h, kWh).
func (c *pricing) perUnit(category Category, item string, base float64, p Price, why route.Why) *Line {
	return c.add(category, item, p.Quantity(base), p.Per, p, p.At(c.v), why)
}

// lump books a charge that is the same for any size of lot. One of zero is
// left out.
func (c *pricing) lump(category Category, item string, p *Price, why route.Why) Money {
	if p == nil {
		return 0
	}
	c.use(*p)
	if !(p.At(c.v) > 0) {
		return 0
	}
	l := c.add(category, item, 1, "lot", *p, p.At(c.v), why)
	l.Fixed = true
	return l.Amount
}

// makeUp books what is lacking of a least charge.
func (c *pricing) makeUp(category Category, item string, charged Money, p *Price, why route.Why) Money {
	if p == nil {
		return 0
	}
	c.use(*p)
	lacking := p.At(c.v) - charged.Float()
	if !(lacking > 0) {
		return 0
	}
	l := c.add(category, item, 1, "lot", *p, lacking, why)
	l.Fixed = true
	return l.Amount
}

// use notes that the plan's money rests on that price.
func (c *pricing) use(p Price) {
	for _, known := range c.plan.used {
		if known.ID == p.ID {
			return
		}
	}
	c.plan.used = append(c.plan.used, p)
}

// note adds a remark to the plan, once.
func (c *pricing) note(text string) {
	if !contains(c.plan.Notes, text) {
		c.plan.Notes = append(c.plan.Notes, text)
	}
}

// missing blocks the plan for want of a price: the first reason is kept and
// further ones are added to it.
func (c *pricing) missing(step, reason string) {
	if c.plan.Blocked == nil {
		c.plan.Blocked = &route.Block{Step: step, Reason: reason}
		return
	}
	if !strings.Contains(c.plan.Blocked.Reason, reason) {
		c.plan.Blocked.Reason += "; " + reason
	}
}

// noPrice blocks the plan because the book lacks a table.
func (c *pricing) noPrice(id, example string) {
	c.missing("prices", fmt.Sprintf("the price book has no price %s: enter it as [%s] %s", id, id, example))
}

// total adds the lines up. A sum that has run out of the range of numbers
// blocks the plan rather than leave the package.
func (c *pricing) total() {
	p := c.plan
	if p.Blocked != nil {
		p.Lines = nil
		return
	}
	sums := map[Category]Money{}
	for _, l := range p.Lines {
		sums[l.Category] += l.Amount
	}
	p.Revenue, p.Fees = sums[Revenue], sums[Fees]
	p.ReagentCost, p.EnergyCost, p.LabourCost = sums[Reagents], sums[Energy], sums[Labour]
	p.ConsumableCost, p.DisposalCost, p.StorageCost = sums[Consumables], sums[Disposal], sums[Storage]
	p.NetWithoutLabour = p.Revenue - p.Fees - p.ReagentCost - p.EnergyCost - p.ConsumableCost - p.DisposalCost - p.StorageCost
	p.Net = p.NetWithoutLabour - p.LabourCost
	if !p.Net.IsFinite() || !p.NetWithoutLabour.IsFinite() {
		c.missing("prices", "the figures of this plan are too large to reckon with")
		p.voidMoney()
		return
	}
	if p.HandsOnH > 0 {
		perHour := p.NetWithoutLabour / Money(p.HandsOnH)
		p.PerHour = &perHour
	}
}

// voidMoney clears the money of a plan that turned out to have none.
func (p *PricedPlan) voidMoney() {
	p.Net, p.NetWithoutLabour, p.Revenue, p.Fees = 0, 0, 0, 0
	p.ReagentCost, p.EnergyCost, p.LabourCost = 0, 0, 0
	p.ConsumableCost, p.DisposalCost, p.StorageCost = 0, 0, 0
	p.Lines = nil
}

// sortedKeys returns a map's keys in order, so that nothing depends on the
// order in which a map is walked.
func sortedKeys[T any](m map[string]T) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}
