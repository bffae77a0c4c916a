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
	if o.Blocked != nil {
		return shell(o)
	}
	a := accountOf(o)
	return b.bill(a.layout).priced(o, &a, v)
}

// shell is a plan without its money.
func shell(o *route.Outcome) PricedPlan {
	p := PricedPlan{ID: o.Plan.ID, Routes: o.Plan.Routes, Ending: o.Plan.Ending, Outcome: o, Blocked: o.Blocked}
	for _, c := range o.Cautions() {
		p.Cautions = append(p.Cautions, c.Text)
	}
	return p
}

// priced prices a plan line by line from the account of its chain.
func (n *bill) priced(o *route.Outcome, a *account, v input.Values) PricedPlan {
	p := shell(o)
	if p.Blocked != nil {
		return p
	}
	p.physical(o, a)
	c := pricing{bill: n, v: v, row: a.row, why: a.why, plan: &p}
	c.chain()
	c.ending(o.Plan.Ending)
	c.total()
	return p
}

// physical takes over the figures of the ledger that are no money.
func (p *PricedPlan) physical(o *route.Outcome, a *account) {
	p.HandsOnH, p.ElapsedH = a.row[atHandsOn], a.row[atElapsed]
	p.EnergyKWh = a.row[atElectricity] + a.row[atFuel]
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

// heading numbers the categories as they stand in Categories.
type heading int

const (
	onRevenue heading = iota
	onFees
	onReagents
	onEnergy
	onLabour
	onConsumables
	onDisposal
	onStorage
	headings
)

// sums are the amounts of a plan by heading.
type sums [headings]Money

// net is revenue less all costs, without own labour first: the order in which
// it is rounded is the same everywhere.
func (s *sums) net() (net, withoutLabour Money) {
	withoutLabour = s[onRevenue] - s[onFees] - s[onReagents] - s[onEnergy] - s[onConsumables] - s[onDisposal] - s[onStorage]
	return withoutLabour - s[onLabour], withoutLabour
}

// pricing is one row being priced. With a plan it writes every line with its
// reasons; without, as in the draws of a simulation, only the sums.
type pricing struct {
	bill *bill
	v    input.Values
	row  []float64
	sums sums
	// short says that something stopped the plan: a price that is missing, goods
	// that nobody takes.
	short bool

	why  *whys
	plan *PricedPlan // nil: sums alone

	order     []int       // sales that got goods, in order
	penalties []Money     // by sale: penalties so far
	sold      []bool      // by sale
	from      []input.Set // by sale: what its goods rest on
	charged   []Money     // by carrier
	calls     []int       // carriers that come, in order
	left      []int       // classes of waste still to go
}

// chain prices what the routes take and make, whatever the ending.
func (c *pricing) chain() {
	c.products()
	c.reagents()
	c.energy()
	c.labour()
	c.consumables()
}

// recording reports that lines are written.
func (c *pricing) recording() bool { return c.plan != nil }

// add books an amount at the price p: amount = quantity × each. When lines are
// written it returns the new one, to be told what it is for.
func (c *pricing) add(h heading, quantity, each float64, p *Price) (Money, *Line) {
	amount := Money(quantity * each)
	c.sums[h] += amount
	if !c.recording() {
		return amount, nil
	}
	c.use(p)
	c.plan.Lines = append(c.plan.Lines, Line{
		Category: Categories[h], Quantity: quantity, Price: each, PriceUnit: c.bill.book.Currency,
		Amount: amount, PriceID: p.ID,
	})
	return amount, &c.plan.Lines[len(c.plan.Lines)-1]
}

// tell says what a line is for.
func (l *Line) tell(item, unit string, why route.Why, p *Price) {
	l.Item, l.Unit, l.Why = item, unit, why
	l.Why.Inputs = why.Inputs.With(p.Ref)
	if unit != "" {
		l.PriceUnit += " / " + unit
	}
}

// perUnit books an amount given in the price's base unit (kg, L, h, kWh).
func (c *pricing) perUnit(h heading, base float64, p *Price) (Money, *Line) {
	return c.add(h, p.Quantity(base), p.At(c.v), p)
}

// lump books a charge that is the same for any size of lot. One of zero is
// left out.
func (c *pricing) lump(h heading, p *Price) (Money, *Line) {
	if p == nil {
		return 0, nil
	}
	return c.fixed(h, p, p.At(c.v))
}

// makeUp books what is lacking of a least charge.
func (c *pricing) makeUp(h heading, charged Money, p *Price) (Money, *Line) {
	if p == nil {
		return 0, nil
	}
	return c.fixed(h, p, p.At(c.v)-charged.Float())
}

func (c *pricing) fixed(h heading, p *Price, amount float64) (Money, *Line) {
	if !(amount > 0) {
		c.use(p)
		return 0, nil
	}
	m, l := c.add(h, 1, amount, p)
	if l != nil {
		l.Fixed = true
	}
	return m, l
}

// use notes that the plan's money rests on that price.
func (c *pricing) use(p *Price) {
	if !c.recording() {
		return
	}
	for i := range c.plan.used {
		if c.plan.used[i].ID == p.ID {
			return
		}
	}
	c.plan.used = append(c.plan.used, *p)
}

// note keeps a remark on how the price was found.
func (c *pricing) note(text string) {
	if c.recording() && !contains(c.plan.Notes, text) {
		c.plan.Notes = append(c.plan.Notes, text)
	}
}

// missing blocks the plan for want of a price or a buyer: the first reason is
// kept and further ones are added to it. Without a plan it is only noted that
// something is.
func (c *pricing) missing(step string, reason func() string) {
	c.short = true
	if !c.recording() {
		return
	}
	if c.plan.Blocked == nil {
		c.plan.Blocked = &route.Block{Step: step, Reason: reason()}
		return
	}
	if text := reason(); !strings.Contains(c.plan.Blocked.Reason, text) {
		c.plan.Blocked.Reason += "; " + text
	}
}

// noPrice blocks the plan because the book lacks a table.
func (c *pricing) noPrice(id, example string) {
	c.missing("prices", func() string {
		return fmt.Sprintf("the price book has no price %s: enter it as [%s] %s", id, id, example)
	})
}

// total takes the sums over. A sum that has run out of the range of numbers
// blocks the plan rather than leave the package.
func (c *pricing) total() {
	p := c.plan
	if p.Blocked != nil {
		p.Lines = nil
		return
	}
	s := &c.sums
	p.Revenue, p.Fees = s[onRevenue], s[onFees]
	p.ReagentCost, p.EnergyCost, p.LabourCost = s[onReagents], s[onEnergy], s[onLabour]
	p.ConsumableCost, p.DisposalCost, p.StorageCost = s[onConsumables], s[onDisposal], s[onStorage]
	p.Net, p.NetWithoutLabour = s.net()
	if !p.Net.IsFinite() || !p.NetWithoutLabour.IsFinite() {
		c.missing("prices", func() string { return "the figures of this plan are too large to reckon with" })
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

func contains(list []string, word string) bool {
	for _, w := range list {
		if w == word {
			return true
		}
	}
	return false
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
