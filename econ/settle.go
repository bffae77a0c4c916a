package econ

import (
	"fmt"
	"strings"

	"afterpour/chem/route"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// goods is anything that a buyer may take: a product, or what is left sold as
// it stands.
type goods struct {
	what         string // "bar of Ag at 925 fine"
	metal        string
	forms        []string
	named        string // sale that it was made for
	compound     string // canonical; "" for metal or a mixture
	mass, metals units.Mass
	volume       units.Volume
	fineness     float64
	composition  []route.Share
	why          route.Why
}

// offer is what one buyer would give for the goods.
type offer struct {
	sale    Sale
	paid    float64 // kg of metal, or kg or L of goods, that is settled for
	price   Price   // of each of them
	receipt Money
	charges Money // fee, penalties, make-up to the minimum, freight
}

func (o offer) net() Money { return o.receipt - o.charges }

// products sells every product to the buyer who accepts it and leaves most.
func (c *pricing) products(list []route.Product) {
	lots := newSalesLots()
	for i := range list {
		p := &list[i]
		if !(p.Mass > 0) {
			continue
		}
		g := goods{
			what:  fmt.Sprintf("%s of %s at %.4g fine", p.Form, p.Metal, p.Fineness),
			metal: p.Metal, forms: []string{p.Form, formOwnUse}, named: p.Sale, compound: canonical(p.Compound),
			mass: p.Mass, metals: p.MetalMass, fineness: p.Fineness, composition: p.Composition, why: p.Why,
		}
		best, reason := c.bestOffer(g)
		if reason != "" {
			c.missing("sale", reason)
			continue
		}
		pp := PlanProduct{Form: p.Form, Metal: p.Metal, Compound: p.Compound, Route: p.Route, Mass: p.Mass, MetalMass: p.MetalMass, Fineness: p.Fineness}
		c.sell(g, best, pp, lots)
	}
	c.chargeLots(lots)
}

// bestOffer finds the buyer who accepts the goods and leaves most after
// charges; of equal ones the sale that the product was made for, then the
// first by id. Without one it returns the reason.
func (c *pricing) bestOffer(g goods) (offer, string) {
	var best offer
	var refusals, unpriced []string
	found := false
	for _, id := range sortedKeys(c.book.sales) {
		s := c.book.sales[id]
		if !s.takes(g) {
			continue
		}
		if refusal := s.refuses(g); refusal != "" {
			refusals = append(refusals, refusal)
			continue
		}
		o, lacking := c.offer(g, s)
		switch {
		case lacking != "":
			unpriced = append(unpriced, lacking)
		case !found || o.net() > best.net()+moneyTolerance || s.ID == g.named && o.net() > best.net()-moneyTolerance:
			best, found = o, true
		}
	}
	switch {
	case found:
		return best, ""
	case len(unpriced) > 0:
		return offer{}, unpriced[0]
	case len(refusals) > 0:
		return offer{}, fmt.Sprintf("no buyer in the price book accepts a %s: %s", g.what, strings.Join(refusals, "; "))
	}
	return offer{}, fmt.Sprintf("the price book has no sale for a %s: enter [sale.…] with metal = %q and form = %q", g.what, g.metal, g.forms[0])
}

// takes reports that the sale is one of such goods at all.
func (s Sale) takes(g goods) bool {
	return s.Metal == g.metal && contains(g.forms, s.Form) && (s.Compound == "" || s.Compound == g.compound)
}

// finenessSlack lets a figure on the edge of a window count as within it.
const finenessSlack = 1e-6

// refuses says why the buyer does not accept the goods; "" if he does.
func (s Sale) refuses(g goods) string {
	if !(g.fineness >= s.FinenessFrom-finenessSlack && g.fineness <= s.FinenessTo+finenessSlack) {
		return fmt.Sprintf("%s takes %.4g to %.4g fine", words(s.ID), s.FinenessFrom, s.FinenessTo)
	}
	for _, limit := range s.Limits {
		if share := shareOf(g.composition, limit.Element); share > limit.Share {
			return fmt.Sprintf("%s takes up to %.3g %% of %s and it has %.3g %%", words(s.ID), limit.Share.Percent(), limit.Element, share.Percent())
		}
	}
	return ""
}

func shareOf(composition []route.Share, element string) units.MassFraction {
	for _, s := range composition {
		if s.Element == element {
			return s.Share
		}
	}
	return 0
}

// offer works out what the buyer would give if the goods were all he got.
func (c *pricing) offer(g goods, s Sale) (offer, string) {
	o := offer{sale: s}
	switch {
	case s.Payable != nil:
		spot, ok := c.book.spots[s.Metal]
		if !ok {
			return o, fmt.Sprintf("the price book has no spot price of %s: enter it as [spot.%s] price = \"30.00 / kg\"", s.Metal, s.Metal)
		}
		o.price, o.paid = spot, s.Payable.At(c.v)*g.metals.Kilograms()
	case s.Price.Kind == units.PerVolumeKind:
		o.price, o.paid = *s.Price, g.volume.Litres()
	default:
		o.price, o.paid = *s.Price, g.mass.Kilograms()
	}
	o.receipt = Money(o.price.Quantity(o.paid) * o.price.At(c.v))
	o.charges = c.valueOf(s.Fee)
	for _, pen := range s.Penalties {
		o.charges += Money(pen.over(g) * c.v.At(pen.Price.Ref))
	}
	if least := c.valueOf(s.Minimum); o.charges < least {
		o.charges = least
	}
	o.charges += c.valueOf(s.Freight)
	return o, ""
}

func (c *pricing) valueOf(p *Price) Money {
	if p == nil {
		return 0
	}
	return Money(p.At(c.v))
}

// over is the mass in kg of the unwanted element beyond what is allowed.
func (pen Penalty) over(g goods) float64 {
	over := shareOf(g.composition, pen.Element) - pen.Allowed
	if !(over > 0) {
		return 0
	}
	return over.Of(g.mass).Kilograms()
}

// sell books the receipt and the penalties of goods at an offer, and puts them
// with what else goes to that buyer.
func (c *pricing) sell(g goods, o offer, pp PlanProduct, lots *salesLots) {
	why := g.why
	s := o.sale
	pp.Sale = s.ID
	if s.Payable != nil {
		c.use(*s.Payable)
		why.Inputs = why.Inputs.With(s.Payable.Ref)
		why.Formula = "receipt = payable share × metal in the product × spot price"
		why.Reason = fmt.Sprintf("%.4g %% of %s %s is paid", 100*s.Payable.At(c.v), units.Format(units.MassKind, g.metals.Kilograms()), g.metal)
		pp.PayableMass, pp.ByMetal = units.Mass(o.paid), true
	} else {
		why.Formula = "receipt = amount of product × price"
		pp.PayableMass = g.mass
	}
	l := c.perUnit(Revenue, words(s.ID), o.paid, o.price, why)
	pp.Receipts = l.Amount
	c.plan.Products = append(c.plan.Products, pp)
	var penalties Money
	for _, pen := range s.Penalties {
		if over := pen.over(g); over > 0 {
			pw := g.why
			pw.Formula = "penalty = (share − allowed share) × mass × price"
			penalties += c.perUnit(Fees, words(s.ID)+", penalty for "+pen.Element, over, pen.Price, pw).Amount
		}
	}
	lots.add(s, penalties, g.why)
}

// salesLots are the goods that go to the same buyer together: fee, minimum and
// freight are charged once.
type salesLots struct {
	order     []string
	sales     map[string]Sale
	penalties map[string]Money
	why       map[string]route.Why
}

func newSalesLots() *salesLots {
	return &salesLots{sales: map[string]Sale{}, penalties: map[string]Money{}, why: map[string]route.Why{}}
}

func (l *salesLots) add(s Sale, penalties Money, why route.Why) {
	if _, ok := l.sales[s.ID]; !ok {
		l.order = append(l.order, s.ID)
	}
	l.sales[s.ID] = s
	l.penalties[s.ID] += penalties
	l.why[s.ID] = joined(l.why[s.ID], why)
}

// chargeLots books fee, make-up to the least charge, and freight of every sale.
func (c *pricing) chargeLots(lots *salesLots) {
	for _, id := range lots.order {
		s := lots.sales[id]
		fee := c.lump(Fees, words(id)+", fee", s.Fee, route.Why{Formula: "fee of the sale, each lot"})
		c.makeUp(Fees, words(id)+", made up to the least charge", fee+lots.penalties[id], s.Minimum,
			route.Why{Formula: "least charge − fee − penalties", Inputs: lots.why[id].Inputs})
		c.lump(Fees, words(id)+", freight", s.Freight, route.Why{Formula: "freight of the sale, each lot"})
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
