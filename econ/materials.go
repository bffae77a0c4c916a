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
func (c *pricing) reagents() {
	for i := range c.bill.reagents {
		place, r := &c.bill.layout.reagents[i], c.bill.reagents[i]
		grams, litres := c.row[place.grams], c.row[place.litres]
		if !(grams > 0 || litres > 0) {
			continue
		}
		var cost Money
		onHand := 0.0
		if r == nil {
			c.noPrice("reagent."+place.id, `pack = "1 kg", price = "9.00"`)
		} else {
			cost, onHand = c.reagent(i, r, grams, litres)
		}
		if c.recording() {
			c.plan.Reagents = append(c.plan.Reagents, PlanReagent{
				Reagent: place.id, Name: words(place.id), Mass: units.Mass(grams) * units.Gram, Volume: units.Volume(litres),
				OnHand: onHand, Cost: cost,
			})
		}
	}
}

// reagent books one reagent and returns its cost and the share of the need that
// stands on the shelf.
func (c *pricing) reagent(i int, r *Reagent, grams, litres float64) (Money, float64) {
	amount := grams / 1000
	if r.Pack.Kind == units.VolumeKind {
		amount = litres
		if !(amount > 0) {
			c.missing("prices", func() string {
				return fmt.Sprintf("the price book sells %s by volume but the plan weighs it: give pack in [reagent.%s] by mass", words(r.ID), r.ID)
			})
			return 0, 0
		}
	}
	buy := math.Max(0, amount-r.OnHand.Amount)
	cost, l := c.packs(onReagents, buy, &r.Pack, &r.Price)
	if l != nil {
		why := c.why.reagents[i]
		if r.OnHand.Amount > 0 {
			why.Reason = fmt.Sprintf("%s needed, %s on hand", units.Format(r.Pack.Kind, amount), r.OnHand.Text)
		}
		l.tellPacks(words(r.ID), c.bill.book.WholePacks, &r.Pack, why, &r.Price)
	}
	if !(amount > 0) {
		return cost, 0
	}
	return cost, (amount - buy) / amount
}

// consumables books what is used up by the piece.
func (c *pricing) consumables() {
	for i, k := range c.bill.pieces {
		place := &c.bill.layout.pieces[i]
		pieces := c.row[place.at]
		switch {
		case !(pieces > 0):
		case k == nil:
			c.noPrice("consumable."+place.id, `pack = "100", price = "15.00"`)
		default:
			pack := Pack{Kind: units.CountKind, Amount: k.Pieces}
			if _, l := c.packs(onConsumables, pieces, &pack, &k.Price); l != nil {
				pack.Text = fmt.Sprintf("%g", k.Pieces)
				l.tellPacks(words(place.id), c.bill.book.WholePacks, &pack, c.why.pieces[i], &k.Price)
			}
		}
	}
}

// packs books the buying of an amount, in the base unit of the pack's kind:
// amount / pack × price, with the number of packs rounded up where only whole
// ones are bought.
func (c *pricing) packs(h heading, amount float64, pack *Pack, p *Price) (Money, *Line) {
	if c.bill.book.WholePacks {
		return c.add(h, math.Ceil(amount/pack.Amount-wholePackSlack), p.At(c.v), p)
	}
	return c.add(h, amount, p.At(c.v)/pack.Amount, p)
}

// tellPacks says what a line of packs is for.
func (l *Line) tellPacks(item string, whole bool, pack *Pack, why route.Why, p *Price) {
	why.Formula = "cost = amount to buy / pack × price of a pack"
	unit := map[units.Kind]string{units.MassKind: "kg", units.VolumeKind: "L"}[pack.Kind]
	switch {
	case whole:
		unit = "pack of " + pack.Text
	case unit == "":
		unit = "piece"
	}
	l.tell(item, unit, why, p)
}

// energy books electricity at the wall and gas burnt.
func (c *pricing) energy() {
	c.power(atElectricity, "electricity", c.bill.book.electricity)
	c.power(atFuel, "gas", c.bill.book.gas)
}

func (c *pricing) power(at int, name string, p *Price) {
	switch {
	case !(c.row[at] > 0):
	case p == nil:
		c.missing("prices", func() string {
			return fmt.Sprintf("the price book has no price of %s: enter it under [energy] as %s = \"0.20 / kWh\"", name, name)
		})
	default:
		if _, l := c.perUnit(onEnergy, c.row[at], p); l != nil {
			why := c.why.electricity
			if at == atFuel {
				why = c.why.fuel
			}
			why.Formula = "cost = energy × price"
			l.tell(name, p.Per, why, p)
		}
	}
}

// labour books the practitioner's own hands-on hours.
func (c *pricing) labour() {
	p := c.bill.book.labour
	switch {
	case !(c.row[atHandsOn] > 0):
	case p == nil:
		c.missing("prices", func() string {
			return `the price book has no rate for your own hours: enter it under [labour] as rate = "20.00 / h" (0 is legal)`
		})
	default:
		if _, l := c.perUnit(onLabour, c.row[atHandsOn], p); l != nil {
			why := c.why.handsOn
			why.Formula = "cost = hands-on hours × rate"
			l.tell("own labour", p.Per, why, p)
		}
	}
}
