package econ

import (
	"fmt"

	"afterpour/chem/route"
	"afterpour/chem/units"
)

// The endings of a plan.
const (
	endDispose = "dispose"
	endSell    = "sell-as-is"
	endHold    = "hold"
)

// ending books what becomes of all that is left.
func (c *pricing) ending(o *route.Outcome) {
	left := o.Waste
	switch o.Plan.Ending {
	case endSell:
		left = c.sellAsIs(o.Waste)
	case endHold:
		c.keep(o.Waste)
	}
	c.dispose(left, o.Plan.Ending == endHold)
}

// classes adds up waste by class, in the order of first appearance.
func classes(list []route.Waste) []route.Waste {
	var sums []route.Waste
	at := map[string]int{}
	for _, w := range list {
		if !(w.Mass > 0 || w.Volume > 0) {
			continue
		}
		k, ok := at[w.Class]
		if !ok {
			k = len(sums)
			at[w.Class] = k
			sums = append(sums, route.Waste{Class: w.Class})
		}
		sums[k].Volume += w.Volume
		sums[k].Mass += w.Mass
		sums[k].Why = joined(sums[k].Why, w.Why)
	}
	return sums
}

// dispose books the carrier's charge for each class, and his least charge once
// for all that goes on the same terms. A held jar goes the same way later, at
// the same price.
func (c *pricing) dispose(list []route.Waste, later bool) {
	charged := map[string]Money{}
	var order []Carrier
	first := map[string]int{}
	for _, w := range classes(list) {
		c.plan.Waste = append(c.plan.Waste, PlanWaste{Class: w.Class, Volume: w.Volume, Mass: w.Mass})
		k, ok := c.carrier(w)
		if !ok {
			continue
		}
		if _, known := first[k.Class]; !known {
			first[k.Class] = len(c.plan.Waste) - 1
			order = append(order, k)
		}
		cost := c.carry(w, k, later)
		c.plan.Waste[len(c.plan.Waste)-1].Cost = cost
		charged[k.Class] += cost
	}
	for _, k := range order {
		why := route.Why{Formula: "the carrier's minimum − what his price comes to"}
		more := c.makeUp(Disposal, words(k.Class)+", made up to the minimum", charged[k.Class], k.Minimum, why)
		c.plan.Waste[first[k.Class]].Cost += more
	}
}

// carrier returns the terms on which waste is taken away. A class that the
// book leaves out goes as acid metal liquor, with a note.
func (c *pricing) carrier(w route.Waste) (Carrier, bool) {
	if k, ok := c.book.disposals[w.Class]; ok {
		return k, true
	}
	k, ok := c.book.disposals[route.AcidMetalLiquor]
	if !ok {
		c.noPrice("disposal."+w.Class, `price = "4.00 / L", minimum = "60.00"`)
		return k, false
	}
	c.note(fmt.Sprintf("the price book has no [disposal.%s]: it is priced as %s", w.Class, words(k.Class)))
	return k, true
}

// carry books the waste of one class by the carrier's unit.
func (c *pricing) carry(w route.Waste, k Carrier, later bool) Money {
	amount := w.Mass.Kilograms()
	if k.Price.Kind == units.PerVolumeKind {
		amount = w.Volume.Litres()
		if !(amount > 0) {
			// Without a volume, a litre to the kilogram: waste is never lighter than water by much.
			amount = w.Mass.Kilograms()
		}
	}
	item := words(w.Class)
	if later {
		item += ", later"
	}
	w.Why.Formula = "cost = amount × price"
	return c.perUnit(Disposal, item, amount, k.Price, w.Why).Amount
}

// keep books the shelf: one jar for each class of what is held.
func (c *pricing) keep(list []route.Waste) {
	jars := len(classes(list))
	if jars == 0 {
		return
	}
	k := c.book.storage
	if k == nil {
		c.missing("prices", `the price book has no price of storage: enter it under [storage] as price = "1.00 / month"`)
		return
	}
	why := route.Why{Formula: "cost = jars × time on the shelf × price"}
	why.Reason = fmt.Sprintf("%d on the shelf for %.3g months", jars, k.Months)
	hours := float64(jars) * k.Months * float64(units.Month)
	c.perUnit(Storage, "storage", hours, k.Price, why)
}

// sellAsIs sells what is left to buyers of liquor and sludge, each stream to
// the one who leaves most, and returns what no one takes.
func (c *pricing) sellAsIs(list []route.Waste) []route.Waste {
	lots := newSalesLots()
	var unsold []route.Waste
	var reasons []string
	for _, w := range list {
		if !(w.Mass > 0 || w.Volume > 0) {
			continue
		}
		best, g, reason := c.bestForWaste(w)
		if reason != "" {
			unsold = append(unsold, w)
			reasons = append(reasons, reason)
			continue
		}
		c.sell(g, best, PlanProduct{Form: best.sale.Form, Metal: g.metal, Mass: g.mass, MetalMass: g.metals, Fineness: g.fineness}, lots)
	}
	if len(lots.order) == 0 {
		reason := "there is nothing left to sell"
		if len(reasons) > 0 {
			reason = reasons[0]
		}
		c.missing("sale", reason)
	}
	c.chargeLots(lots)
	return unsold
}

// bestForWaste finds the metal and the buyer for which a stream sells best.
func (c *pricing) bestForWaste(w route.Waste) (offer, goods, string) {
	form := formLiquor
	if w.Class == route.MetalSludge || w.Class == route.Slag {
		form = formSludge
	}
	var best offer
	var bestGoods goods
	found := false
	refusal := ""
	for _, m := range w.Metals {
		g := goods{
			what:  fmt.Sprintf("%s with %.3g %% of %s", form, m.Share.Percent(), m.Element),
			metal: m.Element, forms: []string{form}, mass: w.Mass, metals: m.Share.Of(w.Mass), volume: w.Volume,
			fineness: pure * float64(m.Share), composition: w.Metals, why: w.Why,
		}
		o, reason := c.bestOffer(g)
		switch {
		case reason != "":
			if c.book.buys(m.Element, form) {
				refusal = reason
			}
		case !found || o.net() > best.net()+moneyTolerance:
			best, bestGoods, found = o, g, true
		}
	}
	switch {
	case found:
		return best, bestGoods, ""
	case refusal != "":
		return offer{}, goods{}, refusal
	}
	return offer{}, goods{}, fmt.Sprintf("the price book has no buyer of this %s: once you have one's terms, enter them as [sale.…] with form = %q", form, form)
}

// buys reports that some sale is of that metal in that form.
func (b *Book) buys(metal, form string) bool {
	for _, s := range b.sales {
		if s.Metal == metal && s.Form == form {
			return true
		}
	}
	return false
}
