package econ

import (
	"fmt"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// goods is anything that a buyer may take: a product, or what is left sold as
// it stands.
type goods struct {
	metal             string
	kilograms, metals float64 // kg, and kg of the metal
	litres            float64
	fineness          float64 // parts in a thousand
	asItStands        bool    // a waste, not a product
}

// offer is what one buyer would give for the goods.
type offer struct {
	by      *candidate
	paid    float64 // kg of metal, or kg or L of goods, that is settled for
	price   *Price  // of each of them
	receipt Money
	charges Money // fee, penalties, make-up to the minimum, freight
}

func (o *offer) net() Money { return o.receipt - o.charges }

// products sells every product to the buyer who accepts it and leaves most.
func (c *pricing) products() {
	c.openLots()
	for i := range c.bill.products {
		place := &c.bill.layout.products[i]
		g := goods{metal: place.key.metal, kilograms: c.row[place.mass], metals: c.row[place.metal], fineness: c.row[place.fineness]}
		if !(g.kilograms > 0) {
			continue
		}
		best, found := c.bestOffer(&g, c.bill.products[i])
		if !found {
			c.missing("sale", func() string { return c.whyUnsold(&g, place.key.form, c.bill.products[i]) })
			continue
		}
		if !c.recording() {
			c.sell(&g, &best, nil)
			continue
		}
		c.sell(&g, &best, &c.why.products[i])
		c.list(&g, &best, PlanProduct{Form: place.key.form, Compound: place.key.compound, Route: place.key.route})
	}
	c.chargeLots()
}

// bestOffer finds the buyer who accepts the goods and leaves most after
// charges; of equal ones the sale that the product was made for, then the
// first by id.
func (c *pricing) bestOffer(g *goods, list []candidate) (best offer, found bool) {
	for i := range list {
		k := &list[i]
		if k.refuses(g.fineness, c.row) {
			continue
		}
		o, ok := c.offer(g, k)
		if ok && (!found || o.net() > best.net()+moneyTolerance || k.named && o.net() > best.net()-moneyTolerance) {
			best, found = o, true
		}
	}
	return best, found
}

// what names goods for a sentence: "bar of Ag at 925 fine".
func (g *goods) what(form string) string {
	if g.asItStands {
		return fmt.Sprintf("%s with %.3g %% of %s", form, g.fineness/pure*100, g.metal)
	}
	return fmt.Sprintf("%s of %s at %.4g fine", form, g.metal, g.fineness)
}

// whyUnsold says why none of the sales takes the goods.
func (c *pricing) whyUnsold(g *goods, form string, list []candidate) string {
	var refusals, unpriced []string
	for i := range list {
		k := &list[i]
		if refusal := k.whyRefused(g.fineness, c.row); refusal != "" {
			refusals = append(refusals, refusal)
		} else if _, ok := c.offer(g, k); !ok {
			unpriced = append(unpriced, fmt.Sprintf("the price book has no spot price of %s: enter it as [spot.%s] price = \"30.00 / kg\"", k.sale.Metal, k.sale.Metal))
		}
	}
	switch {
	case len(unpriced) > 0:
		return unpriced[0]
	case len(refusals) > 0:
		return fmt.Sprintf("no buyer in the price book accepts a %s: %s", g.what(form), strings.Join(refusals, "; "))
	}
	return fmt.Sprintf("the price book has no sale for a %s: enter [sale.…] with metal = %q and form = %q", g.what(form), g.metal, form)
}

// offer works out what the buyer would give if the goods were all he got;
// false if the book lacks the spot price.
func (c *pricing) offer(g *goods, k *candidate) (offer, bool) {
	o := offer{by: k}
	s := k.sale
	switch {
	case s.Payable != nil:
		o.price = k.spot
		if o.price == nil {
			return o, false
		}
		o.paid = s.Payable.At(c.v) * g.metals
	case s.Price.Kind == units.PerVolumeKind:
		o.price, o.paid = s.Price, g.litres
	default:
		o.price, o.paid = s.Price, g.kilograms
	}
	o.receipt = Money(o.price.Quantity(o.paid) * o.price.At(c.v))
	o.charges = c.valueOf(s.Fee)
	for i := range s.Penalties {
		o.charges += Money(k.over(i, g.kilograms, c.row) * c.v.At(s.Penalties[i].Price.Ref))
	}
	if least := c.valueOf(s.Minimum); o.charges < least {
		o.charges = least
	}
	o.charges += c.valueOf(s.Freight)
	return o, true
}

func (c *pricing) valueOf(p *Price) Money {
	if p == nil {
		return 0
	}
	return Money(p.At(c.v))
}

// sell books the receipt and the penalties of goods at an offer, and puts them
// with what else goes to that buyer. why is what the goods rest on, nil where no
// lines are written.
func (c *pricing) sell(g *goods, o *offer, why *route.Why) {
	k := o.by
	if _, l := c.perUnit(onRevenue, o.paid, o.price); l != nil {
		l.tell(words(k.sale.ID), o.price.Per, c.whyReceipt(g, k.sale, *why), o.price)
	}
	for i := range k.sale.Penalties {
		pen := &k.sale.Penalties[i]
		over := k.over(i, g.kilograms, c.row)
		if !(over > 0) {
			continue
		}
		m, l := c.perUnit(onFees, over, &pen.Price)
		c.penalties[k.nth] += m
		if l != nil {
			penalty := *why
			penalty.Formula = "penalty = (share − allowed share) × mass × price"
			l.tell(words(k.sale.ID)+", penalty for "+pen.Element, pen.Price.Per, penalty, &pen.Price)
		}
	}
	if !c.sold[k.nth] {
		c.sold[k.nth] = true
		c.order = append(c.order, k.nth)
	}
	if why != nil {
		c.from[k.nth] = c.from[k.nth].Union(why.Inputs)
	}
}

// whyReceipt says how a receipt was found.
func (c *pricing) whyReceipt(g *goods, s *Sale, why route.Why) route.Why {
	if s.Payable == nil {
		why.Formula = "receipt = amount of product × price"
		return why
	}
	c.use(s.Payable)
	why.Inputs = why.Inputs.With(s.Payable.Ref)
	why.Formula = "receipt = payable share × metal in the product × spot price"
	why.Reason = fmt.Sprintf("%.4g %% of %s %s is paid", 100*s.Payable.At(c.v), units.Format(units.MassKind, g.metals), g.metal)
	return why
}

// list puts goods that were sold among the plan's products.
func (c *pricing) list(g *goods, o *offer, pp PlanProduct) {
	pp.Metal, pp.Sale, pp.Fineness = g.metal, o.by.sale.ID, g.fineness
	pp.Mass, pp.MetalMass, pp.PayableMass = units.Mass(g.kilograms), units.Mass(g.metals), units.Mass(g.kilograms)
	if o.by.sale.Payable != nil {
		pp.PayableMass, pp.ByMetal = units.Mass(o.paid), true
	}
	pp.Receipts = o.receipt
	c.plan.Products = append(c.plan.Products, pp)
}

// openLots makes ready for goods that go to buyers: those of one buyer go
// together, and he charges fee, minimum and freight once.
func (c *pricing) openLots() {
	c.order = c.order[:0]
	if cap(c.sold) < len(c.bill.sales) {
		c.sold, c.penalties = make([]bool, len(c.bill.sales)), make([]Money, len(c.bill.sales))
	}
	c.sold, c.penalties = c.sold[:len(c.bill.sales)], c.penalties[:len(c.bill.sales)]
	clear(c.sold)
	clear(c.penalties)
	if c.recording() {
		c.from = make([]input.Set, len(c.bill.sales))
	}
}

// chargeLots books fee, make-up to the least charge, and freight of every sale
// that got goods.
func (c *pricing) chargeLots() {
	for _, nth := range c.order {
		s := c.bill.sales[nth]
		fee, l := c.lump(onFees, s.Fee)
		if l != nil {
			l.tell(words(s.ID)+", fee", "lot", route.Why{Formula: "fee of the sale, each lot"}, s.Fee)
		}
		if _, l := c.makeUp(onFees, fee+c.penalties[nth], s.Minimum); l != nil {
			l.tell(words(s.ID)+", made up to the least charge", "lot", route.Why{Formula: "least charge − fee − penalties", Inputs: c.from[nth]}, s.Minimum)
		}
		if _, l := c.lump(onFees, s.Freight); l != nil {
			l.tell(words(s.ID)+", freight", "lot", route.Why{Formula: "freight of the sale, each lot"}, s.Freight)
		}
	}
}

// canonical returns a formula in the spelling that the book's compounds have.
func canonical(formula string) string {
	f, err := substance.ParseFormula(formula)
	if formula == "" || err != nil {
		return formula
	}
	return f.String()
}
