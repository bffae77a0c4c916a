package econ

import (
	"fmt"
	"slices"

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
func (c *pricing) ending(which string) {
	c.open()
	switch which {
	case endSell:
		c.sellAsIs()
	case endHold:
		c.keep()
	}
	c.dispose(which == endHold)
}

// open marks every class of waste that there is as still to go.
func (c *pricing) open() {
	c.left = c.left[:0]
	for i := range c.bill.waste {
		place := &c.bill.layout.waste[i]
		if c.row[place.litres] > 0 || c.row[place.kilogram] > 0 {
			c.left = append(c.left, i)
		}
	}
}

// dispose books the carrier's charge for each class, and his least charge once
// for all that goes on the same terms. A held jar goes the same way later, at
// the same price.
func (c *pricing) dispose(later bool) {
	c.charged = append(c.charged[:0], make([]Money, len(c.bill.carriers))...)
	c.calls = c.calls[:0]
	for _, i := range c.left {
		w := &c.bill.waste[i]
		place := &c.bill.layout.waste[i]
		if w.carrier < 0 {
			c.noPrice("disposal."+place.class, `price = "4.00 / L", minimum = "60.00"`)
		}
		cost := Money(0)
		if w.carrier >= 0 {
			cost = c.carry(i, later)
			if !slices.Contains(c.calls, w.carrier) {
				c.calls = append(c.calls, w.carrier)
			}
			c.charged[w.carrier] += cost
		}
		if c.recording() {
			c.plan.Waste = append(c.plan.Waste, PlanWaste{Class: place.class, Volume: units.Volume(c.row[place.litres]), Mass: units.Mass(c.row[place.kilogram]), Cost: cost})
		}
	}
	for _, k := range c.calls {
		carrier := c.bill.carriers[k]
		more, l := c.makeUp(onDisposal, c.charged[k], carrier.Minimum)
		if l != nil {
			l.tell(words(carrier.Class)+", made up to the minimum", "lot", route.Why{Formula: "the carrier's minimum − what his price comes to"}, carrier.Minimum)
		}
		if c.recording() {
			c.spread(k, more)
		}
	}
}

// spread adds what a carrier's minimum costs more to the first class he takes.
func (c *pricing) spread(carrier int, more Money) {
	for n, i := range c.left {
		if c.bill.waste[i].carrier == carrier {
			c.plan.Waste[len(c.plan.Waste)-len(c.left)+n].Cost += more
			return
		}
	}
}

// carry books the waste of one class by the carrier's unit. A class that the
// book leaves out goes as acid metal liquor, with a note.
func (c *pricing) carry(i int, later bool) Money {
	w, place := &c.bill.waste[i], &c.bill.layout.waste[i]
	k := c.bill.carriers[w.carrier]
	amount := c.row[place.kilogram]
	if k.Price.Kind == units.PerVolumeKind && c.row[place.litres] > 0 {
		// Without a volume, a litre to the kilogram: waste is never lighter than water by much.
		amount = c.row[place.litres]
	}
	cost, l := c.perUnit(onDisposal, amount, &k.Price)
	if l == nil {
		return cost
	}
	if w.instead {
		c.note(fmt.Sprintf("the price book has no [disposal.%s]: it is priced as %s", place.class, words(k.Class)))
	}
	item := words(place.class)
	if later {
		item += ", later"
	}
	why := c.why.waste[i]
	why.Formula = "cost = amount × price"
	l.tell(item, k.Price.Per, why, &k.Price)
	return cost
}

// keep books the shelf: one jar for each class of what is held.
func (c *pricing) keep() {
	jars := len(c.left)
	if jars == 0 {
		return
	}
	k := c.bill.book.storage
	if k == nil {
		c.missing("prices", func() string {
			return `the price book has no price of storage: enter it under [storage] as price = "1.00 / month"`
		})
		return
	}
	hours := float64(jars) * k.Months * float64(units.Month)
	if _, l := c.perUnit(onStorage, hours, &k.Price); l != nil {
		why := route.Why{Formula: "cost = jars × time on the shelf × price"}
		why.Reason = fmt.Sprintf("%d on the shelf for %.3g months", jars, k.Months)
		l.tell("storage", k.Price.Per, why, &k.Price)
	}
}

// sellAsIs sells what is left to buyers of liquor and sludge, each class to the
// one who leaves most, and leaves what no one takes.
func (c *pricing) sellAsIs() {
	c.openLots()
	var refusal func() string
	unsold := c.left[:0]
	for _, i := range c.left {
		best, g, found := c.bestForWaste(i)
		if !found {
			unsold = append(unsold, i)
			if refusal == nil {
				refusal = func() string { return c.whyNoBuyer(i) }
			}
			continue
		}
		if !c.recording() {
			c.sell(&g, &best, nil)
			continue
		}
		c.sell(&g, &best, &c.why.waste[i])
		c.list(&g, &best, PlanProduct{Form: best.by.sale.Form})
	}
	c.left = unsold
	if len(c.order) == 0 {
		if refusal == nil {
			refusal = func() string { return "there is nothing left to sell" }
		}
		c.missing("sale", refusal)
	}
	c.chargeLots()
}

// asGoods is a class of waste seen as goods sold for one of its metals.
func (c *pricing) asGoods(i int, m *billedMetal) goods {
	place := &c.bill.layout.waste[i]
	share := c.row[m.share]
	kilograms := c.row[place.kilogram]
	return goods{metal: m.element, kilograms: kilograms, metals: share * kilograms, litres: c.row[place.litres], fineness: pure * share, asItStands: true}
}

// bestForWaste finds the metal and the buyer for which a class sells best.
func (c *pricing) bestForWaste(i int) (best offer, of goods, found bool) {
	metals := c.bill.waste[i].metals
	for n := range metals {
		m := &metals[n]
		if !(c.row[m.share] > 0) {
			continue
		}
		g := c.asGoods(i, m)
		if o, ok := c.bestOffer(&g, m.candidates); ok && (!found || o.net() > best.net()+moneyTolerance) {
			best, of, found = o, g, true
		}
	}
	return best, of, found
}

// whyNoBuyer says why a class of waste cannot be sold as it stands.
func (c *pricing) whyNoBuyer(i int) string {
	w := &c.bill.waste[i]
	refusal := ""
	for n := range w.metals {
		if m := &w.metals[n]; len(m.candidates) > 0 {
			g := c.asGoods(i, m)
			refusal = c.whyUnsold(&g, w.form, m.candidates)
		}
	}
	if refusal != "" {
		return refusal
	}
	return fmt.Sprintf("the price book has no buyer of this %s: once you have one's terms, enter them as [sale.…] with form = %q", w.form, w.form)
}
