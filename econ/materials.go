package econ

import (
	"fmt"
	"math"

	"afterpour/chem/route"
	"afterpour/chem/units"
)

// wholePackSlack lets a need that is a whole number of packs but for rounding
// count as that number.
const wholePackSlack = 1e-9

// reagents books what has to be bought of every reagent: the need less what
// stands on the shelf, by the pack or pro rata.
func (c *pricing) reagents(o *route.Outcome) {
	for _, n := range needs(o, route.Reagent) {
		pr := PlanReagent{Reagent: n.item, Name: words(n.item), Mass: n.mass(), Volume: n.volume}
		r, ok := c.book.reagents[n.item]
		if !ok {
			c.noPrice("reagent."+n.item, `pack = "1 kg", price = "9.00"`)
		} else {
			c.reagent(n, r, &pr)
		}
		c.plan.Reagents = append(c.plan.Reagents, pr)
	}
}

func (c *pricing) reagent(n need, r Reagent, pr *PlanReagent) {
	amount := n.mass().Kilograms()
	if r.Pack.Kind == units.VolumeKind {
		amount = n.volume.Litres()
		if !(amount > 0) && n.amount > 0 {
			c.missing("prices", fmt.Sprintf("the price book sells %s by volume but the plan weighs it: give pack in [reagent.%s] by mass", words(n.item), n.item))
			return
		}
	}
	buy := math.Max(0, amount-r.OnHand.Amount)
	if amount > 0 {
		pr.OnHand = (amount - buy) / amount
	}
	why := n.why
	if r.OnHand.Amount > 0 {
		why.Reason = fmt.Sprintf("%s needed, %s on hand", units.Format(r.Pack.Kind, amount), r.OnHand.Text)
	}
	pr.Cost = c.packs(Reagents, words(n.item), buy, r.Pack, r.Price, why).Amount
}

// consumables books what is used up by the piece.
func (c *pricing) consumables(o *route.Outcome) {
	for _, n := range needs(o, route.Consumable) {
		k, ok := c.book.consumables[n.item]
		if !ok {
			c.noPrice("consumable."+n.item, `pack = "100", price = "15.00"`)
			continue
		}
		pack := Pack{Kind: units.CountKind, Amount: k.Pieces, Text: fmt.Sprintf("%g", k.Pieces)}
		c.packs(Consumables, words(n.item), n.amount, pack, k.Price, n.why)
	}
}

// packs books the buying of an amount, in the base unit of the pack's kind:
// amount / pack × price, with the number of packs rounded up where only whole
// ones are bought.
func (c *pricing) packs(category Category, item string, amount float64, pack Pack, p Price, why route.Why) *Line {
	why.Formula = "cost = amount to buy / pack × price of a pack"
	if c.book.WholePacks {
		count := math.Ceil(amount/pack.Amount - wholePackSlack)
		return c.add(category, item, count, "pack of "+pack.Text, p, p.At(c.v), why)
	}
	unit := map[units.Kind]string{units.MassKind: "kg", units.VolumeKind: "L"}[pack.Kind]
	if unit == "" {
		unit = "piece"
	}
	return c.add(category, item, amount, unit, p, p.At(c.v)/pack.Amount, why)
}

// energy books electricity at the wall and gas burnt.
func (c *pricing) energy(o *route.Outcome) {
	c.power(total(o, route.Electricity), "electricity", c.book.electricity)
	c.power(total(o, route.Fuel), "gas", c.book.gas)
}

func (c *pricing) power(n need, name string, p *Price) {
	switch {
	case !(n.amount > 0):
	case p == nil:
		c.missing("prices", fmt.Sprintf("the price book has no price of %s: enter it under [energy] as %s = \"0.20 / kWh\"", name, name))
	default:
		n.why.Formula = "cost = energy × price"
		c.perUnit(Energy, name, n.amount, *p, n.why)
	}
}

// labour books the practitioner's own hands-on hours.
func (c *pricing) labour(o *route.Outcome) {
	n := total(o, route.HandsOn)
	switch {
	case !(n.amount > 0):
	case c.book.labour == nil:
		c.missing("prices", `the price book has no rate for your own hours: enter it under [labour] as rate = "20.00 / h" (0 is legal)`)
	default:
		n.why.Formula = "cost = hands-on hours × rate"
		c.perUnit(Labour, "own labour", n.amount, *c.book.labour, n.why)
	}
}
