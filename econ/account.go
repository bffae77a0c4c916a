package econ

import (
	"slices"

	"afterpour/chem/route"
	"afterpour/chem/units"
)

// account is what a chain of routes takes and gives, added up over its steps:
// all that its price rests on, whatever the ending. The quantities stand in one
// flat row, so that the same pricing serves a plan carried out once and one
// carried out in thousands of draws.
type account struct {
	layout *layout
	row    []float64
	why    *whys // nil in the draws of a simulation
}

// The places that every row has.
const (
	atElectricity = iota // kWh at the wall
	atFuel               // kWh of gas burnt
	atHandsOn            // h
	atElapsed            // h
	atStuck              // 1 where the chain could not be carried to its end
	fixedPlaces
)

// layout says what stands at which place of a row. Lists are in the order in
// which a plan comes to need them.
type layout struct {
	reagents []reagentPlace
	pieces   []piecePlace
	products []productPlace
	waste    []wastePlace
	size     int
}

// reagentPlace holds one reagent: g as weighed or poured, and L of a liquid.
type reagentPlace struct {
	id            string
	grams, litres int
}

// piecePlace holds pieces of one consumable.
type piecePlace struct {
	id string
	at int
}

// productPlace holds one product: kg, kg of its metal, parts in a thousand.
type productPlace struct {
	key                   productKey
	compound              string // of the key, in the spelling of the book
	mass, metal, fineness int
	shares                []sharePlace
}

// productKey tells the products of one chain apart.
type productKey struct {
	route, form, sale, metal, compound string
	nth                                int // of those alike
}

// wastePlace holds one class of waste: L and kg.
type wastePlace struct {
	class            string
	litres, kilogram int
	shares           []sharePlace
}

// sharePlace holds the mass share of one element.
type sharePlace struct {
	element string
	at      int
}

// whys keeps what the figures of a layout rest on, place by place.
type whys struct {
	electricity, fuel, handsOn        route.Why
	reagents, pieces, products, waste []route.Why
}

func newLayout() *layout { return &layout{size: fixedPlaces} }

// take hands out n places in a row.
func (l *layout) take(n int) int {
	at := l.size
	l.size += n
	return at
}

func (l *layout) reagent(id string) *reagentPlace {
	for i := range l.reagents {
		if l.reagents[i].id == id {
			return &l.reagents[i]
		}
	}
	at := l.take(2)
	l.reagents = append(l.reagents, reagentPlace{id: id, grams: at, litres: at + 1})
	return &l.reagents[len(l.reagents)-1]
}

func (l *layout) piece(id string) *piecePlace {
	for i := range l.pieces {
		if l.pieces[i].id == id {
			return &l.pieces[i]
		}
	}
	l.pieces = append(l.pieces, piecePlace{id: id, at: l.take(1)})
	return &l.pieces[len(l.pieces)-1]
}

// product returns the place of the nth product of that kind.
func (l *layout) product(p *route.Product, nth int) *productPlace {
	key := productKey{route: p.Route, form: p.Form, sale: p.Sale, metal: p.Metal, compound: p.Compound, nth: nth}
	for i := range l.products {
		if l.products[i].key == key {
			return &l.products[i]
		}
	}
	at := l.take(3)
	l.products = append(l.products, productPlace{key: key, compound: canonical(p.Compound), mass: at, metal: at + 1, fineness: at + 2})
	return &l.products[len(l.products)-1]
}

func (l *layout) class(name string) *wastePlace {
	for i := range l.waste {
		if l.waste[i].class == name {
			return &l.waste[i]
		}
	}
	at := l.take(2)
	l.waste = append(l.waste, wastePlace{class: name, litres: at, kilogram: at + 1})
	return &l.waste[len(l.waste)-1]
}

// share returns the place of an element's share in a list of them.
func (l *layout) share(list *[]sharePlace, element string) int {
	if at := placeOf(*list, element); at >= 0 {
		return at
	}
	*list = append(*list, sharePlace{element: element, at: l.take(1)})
	return l.size - 1
}

// placeOf returns where an element's share stands, -1 if it is not kept: then
// it is 0.
func placeOf(list []sharePlace, element string) int {
	for _, s := range list {
		if s.element == element {
			return s.at
		}
	}
	return -1
}

// alike counts how many products before the nth are of its kind.
func alike(list []route.Product, n int) int {
	count := 0
	for i := range n {
		a, b := &list[i], &list[n]
		if a.Route == b.Route && a.Form == b.Form && a.Sale == b.Sale && a.Metal == b.Metal && a.Compound == b.Compound {
			count++
		}
	}
	return count
}

// accountOf adds up the ledger of a plan, with what its figures rest on.
func accountOf(o *route.Outcome) account {
	a := account{layout: newLayout(), why: &whys{}}
	a.why.electricity, a.why.fuel, a.why.handsOn = total(o, route.Electricity).why, total(o, route.Fuel).why, total(o, route.HandsOn).why
	for _, n := range needs(o, route.Reagent) {
		a.layout.reagent(n.item)
		a.why.reagents = append(a.why.reagents, n.why)
	}
	for _, n := range needs(o, route.Consumable) {
		a.layout.piece(n.item)
		a.why.pieces = append(a.why.pieces, n.why)
	}
	a.enter(o, nil)
	for i := range o.Products {
		a.why.products = append(a.why.products, o.Products[i].Why)
	}
	for _, w := range a.layout.waste {
		var sum route.Why
		for i := range o.Waste {
			if o.Waste[i].Class == w.class {
				sum = joined(sum, o.Waste[i].Why)
			}
		}
		a.why.waste = append(a.why.waste, sum)
	}
	return a
}

// enter adds up the ledger of an outcome into the row, which is cleared first
// and grows with the layout. Shares are kept of the elements in watched, of all
// where that is nil.
func (a *account) enter(o *route.Outcome, watched []string) {
	clear(a.row)
	if o.Blocked != nil {
		a.add(atStuck, 1)
	}
	for i := range o.Steps {
		for j := range o.Steps[i].Entries {
			a.entry(&o.Steps[i].Entries[j])
		}
	}
	for i := range o.Products {
		a.product(o.Products, i, watched)
	}
	for i := range o.Waste {
		a.left(&o.Waste[i], watched)
	}
	a.add(a.layout.size-1, 0)
}

// add adds to a place.
func (a *account) add(at int, amount float64) {
	for at >= len(a.row) {
		a.row = append(a.row, 0)
	}
	a.row[at] += amount
}

func (a *account) entry(e *route.Entry) {
	switch e.Kind {
	case route.Reagent:
		p := a.layout.reagent(e.Item)
		a.add(p.grams, e.Amount)
		a.add(p.litres, float64(e.Volume))
	case route.Consumable:
		a.add(a.layout.piece(e.Item).at, e.Amount)
	case route.Electricity:
		a.add(atElectricity, e.Amount)
	case route.Fuel:
		a.add(atFuel, e.Amount)
	case route.HandsOn:
		a.add(atHandsOn, e.Amount)
	case route.Elapsed:
		a.add(atElapsed, e.Amount)
	}
}

func (a *account) product(list []route.Product, n int, watched []string) {
	product := &list[n]
	p := a.layout.product(product, alike(list, n))
	a.add(p.mass, float64(product.Mass))
	a.add(p.metal, float64(product.MetalMass))
	a.add(p.fineness, product.Fineness)
	for _, s := range product.Composition {
		if watched == nil || slices.Contains(watched, s.Element) {
			a.add(a.layout.share(&p.shares, s.Element), float64(s.Share))
		}
	}
}

// left enters what is left of one class. Of two lots of one class the shares
// are those of the whole.
func (a *account) left(w *route.Waste, watched []string) {
	if !(w.Mass > 0 || w.Volume > 0) {
		return
	}
	p := a.layout.class(w.Class)
	a.add(p.kilogram, float64(w.Mass))
	a.add(p.litres, float64(w.Volume))
	if !(w.Mass > 0) {
		return
	}
	part := float64(w.Mass) / a.row[p.kilogram]
	for _, s := range p.shares {
		a.add(s.at, 0)
		a.row[s.at] *= 1 - part
	}
	for _, s := range w.Metals {
		if watched == nil || slices.Contains(watched, s.Element) {
			a.add(a.layout.share(&p.shares, s.Element), float64(s.Share)*part)
		}
	}
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
	for i := range o.Steps {
		for j := range o.Steps[i].Entries {
			e := &o.Steps[i].Entries[j]
			if e.Kind != kind {
				continue
			}
			k := slices.IndexFunc(list, func(n need) bool { return n.item == e.Item })
			if k < 0 {
				k = len(list)
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
		if !slices.Contains(sum.Sources, s) {
			sum.Sources = append(sum.Sources, s)
		}
	}
	return sum
}
