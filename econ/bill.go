package econ

import (
	"fmt"
	"slices"

	"afterpour/chem/route"
	"afterpour/chem/units"
)

// bill is how the rows of one layout turn into money with one price book: who
// would buy each product, who takes each waste, what each reagent costs. It is
// resolved once and then reckoned at any rows and any values of the prices.
type bill struct {
	book     *Book
	layout   *layout
	reagents []*Reagent    // by place; nil: no price
	pieces   []*Consumable // by place; nil: no price
	products [][]candidate // by place: the sales that take such goods at all
	waste    []billedWaste
	carriers []*Carrier // those of the waste, in order of first use
	sales    []*Sale    // those of all candidates, in order of first mention
}

// candidate is a sale that takes such goods at all, with the places of the
// shares that it looks at; -1 for a share that is 0.
type candidate struct {
	sale      *Sale
	spot      *Price // of the sale's metal; nil if the book has none
	nth       int    // in bill.sales
	named     bool
	limits    []int // by Sale.Limits
	penalties []int // by Sale.Penalties
}

// billedWaste is one class of waste with its carrier and the ways to sell it.
type billedWaste struct {
	carrier int // in bill.carriers; -1: no price
	instead bool
	form    string
	metals  []billedMetal
}

// billedMetal is a metal for which a waste might be sold as it stands.
type billedMetal struct {
	element    string
	share      int
	candidates []candidate
}

// bill resolves a layout against the book.
func (b *Book) bill(l *layout) *bill {
	n := &bill{book: b, layout: l}
	x := b.listed()
	for _, p := range l.reagents {
		n.reagents = append(n.reagents, x.reagents[p.id])
	}
	for _, p := range l.pieces {
		n.pieces = append(n.pieces, x.consumables[p.id])
	}
	for i := range l.products {
		p := &l.products[i]
		n.products = append(n.products, n.candidates(p.key.metal, p.key.form, formOwnUse, p.compound, p.key.sale, p.shares))
	}
	for i := range l.waste {
		n.waste = append(n.waste, n.wasteOf(&l.waste[i]))
	}
	return n
}

// listing is a book's tables in the form that bills are made from.
type listing struct {
	sales       []*Sale // by id
	spots       map[string]*Price
	reagents    map[string]*Reagent
	consumables map[string]*Consumable
	disposals   map[string]*Carrier
}

// listed returns the book's listing, made at first use.
func (b *Book) listed() *listing {
	b.once.Do(func() {
		b.listing = listing{
			spots: pointers(b.spots), reagents: pointers(b.reagents), consumables: pointers(b.consumables), disposals: pointers(b.disposals),
		}
		for _, id := range sortedKeys(b.sales) {
			s := b.sales[id]
			b.listing.sales = append(b.listing.sales, &s)
		}
	})
	return &b.listing
}

func pointers[T any](m map[string]T) map[string]*T {
	list := make(map[string]*T, len(m))
	for id, v := range m {
		list[id] = &v
	}
	return list
}

// candidates lists the sales of a metal in the one form or the other, by id.
func (n *bill) candidates(metal, form, other, compound, named string, shares []sharePlace) []candidate {
	var list []candidate
	for _, s := range n.book.listed().sales {
		if s.Metal != metal || s.Form != form && s.Form != other || s.Compound != "" && s.Compound != compound {
			continue
		}
		c := candidate{sale: s, spot: n.book.listed().spots[s.Metal], nth: n.saleNumber(s), named: s.ID == named}
		for _, limit := range s.Limits {
			c.limits = append(c.limits, placeOf(shares, limit.Element))
		}
		for _, pen := range s.Penalties {
			c.penalties = append(c.penalties, placeOf(shares, pen.Element))
		}
		list = append(list, c)
	}
	return list
}

func (n *bill) saleNumber(s *Sale) int {
	for i, known := range n.sales {
		if known.ID == s.ID {
			return i
		}
	}
	n.sales = append(n.sales, s)
	return len(n.sales) - 1
}

func (n *bill) wasteOf(p *wastePlace) billedWaste {
	w := billedWaste{carrier: -1, form: formLiquor}
	if p.class == route.MetalSludge || p.class == route.Slag {
		w.form = formSludge
	}
	disposals := n.book.listed().disposals
	k := disposals[p.class]
	if k == nil {
		k, w.instead = disposals[route.AcidMetalLiquor], true
	}
	if k != nil {
		w.carrier = n.carrierNumber(k)
	}
	for _, s := range p.shares {
		w.metals = append(w.metals, billedMetal{element: s.element, share: s.at, candidates: n.candidates(s.element, w.form, w.form, "", "", p.shares)})
	}
	return w
}

func (n *bill) carrierNumber(k *Carrier) int {
	for i, known := range n.carriers {
		if known.Class == k.Class {
			return i
		}
	}
	n.carriers = append(n.carriers, k)
	return len(n.carriers) - 1
}

// watched lists the elements whose shares decide what a product or a waste is
// paid: those with a limit or a penalty, and the metals of liquors and sludges.
func (b *Book) watched() []string {
	list := []string{}
	for _, id := range sortedKeys(b.sales) {
		s := b.sales[id]
		for _, limit := range s.Limits {
			list = append(list, limit.Element)
		}
		for _, pen := range s.Penalties {
			list = append(list, pen.Element)
		}
		if s.Form == formLiquor || s.Form == formSludge {
			list = append(list, s.Metal)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// refuses reports that the buyer does not accept goods of this fineness and row.
func (c *candidate) refuses(fineness float64, row []float64) bool {
	s := c.sale
	if !(fineness >= s.FinenessFrom-finenessSlack && fineness <= s.FinenessTo+finenessSlack) {
		return true
	}
	for i, at := range c.limits {
		if at >= 0 && row[at] > float64(s.Limits[i].Share) {
			return true
		}
	}
	return false
}

// finenessSlack lets a figure on the edge of a window count as within it.
const finenessSlack = 1e-6

// whyRefused says why the buyer does not accept the goods; "" if he does.
func (c *candidate) whyRefused(fineness float64, row []float64) string {
	s := c.sale
	if !(fineness >= s.FinenessFrom-finenessSlack && fineness <= s.FinenessTo+finenessSlack) {
		return fmt.Sprintf("%s takes %.4g to %.4g fine", words(s.ID), s.FinenessFrom, s.FinenessTo)
	}
	for i, at := range c.limits {
		limit := s.Limits[i]
		if at >= 0 && row[at] > float64(limit.Share) {
			return fmt.Sprintf("%s takes up to %.3g %% of %s and it has %.3g %%", words(s.ID), limit.Share.Percent(), limit.Element, units.MassFraction(row[at]).Percent())
		}
	}
	return ""
}

// over is the mass in kg of the ith unwanted element beyond what is allowed, in
// goods of kg.
func (c *candidate) over(i int, kilograms float64, row []float64) float64 {
	at := c.penalties[i]
	if at < 0 {
		return 0
	}
	over := row[at] - float64(c.sale.Penalties[i].Allowed)
	if !(over > 0) {
		return 0
	}
	return over * kilograms
}
