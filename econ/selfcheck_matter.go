package econ

import (
	"math"

	"afterpour/chem/lot"
	"afterpour/chem/route"
	"afterpour/chem/substance"
)

// balanceSlack is the share of what entered that may be missing or too much of
// an element: far above the rounding of a sum of some thousand terms (about
// 1e-12), far below any balance.
const balanceSlack = 1e-9

// Conservation proves that what left every plan, in products, gases and waste,
// holds each element and the charge that entered it with the lot, the reagents
// and the water. The unit is mol.
func Conservation(a *Appraisal) Proof {
	p := proofOf("conservation", "no element is lost or made over any plan")
	elements, worst := 0, 0.0
	plans, blocked := a.worked(func(plan *PricedPlan, o *route.Outcome) {
		n, off := p.balance(plan.ID, &o.Balance)
		if n == 0 && leftKilograms(o) > 0 {
			p.wrong("%s keeps no account of its elements", plan.ID)
		}
		elements += n
		worst = math.Max(worst, off)
	})
	return p.done("%s followed, %s in all: the largest difference is %.0e of what entered; %d blocked before their end",
		plural(plans, "plan", "plans"), plural(elements, "account of an element", "accounts of elements"), worst, blocked)
}

// balance looks at one plan's account and returns the number of elements and
// the largest difference as a share of what entered.
func (p *Proof) balance(plan string, b *route.Balance) (elements int, worst float64) {
	total := 0.0
	for _, e := range b.Elements {
		total += e.In
		off := math.Abs(e.In-e.Out) / math.Max(e.In, e.Out)
		if !(off <= balanceSlack) {
			p.wrong("%s: %.9g mol of %s entered and %.9g mol left", plan, e.In, e.Element, e.Out)
		}
		worst = math.Max(worst, off)
	}
	if off := math.Abs(b.ChargeIn - b.ChargeOut); !(off <= balanceSlack*total) {
		p.wrong("%s: a charge of %.6g mol entered and %.6g mol left", plan, b.ChargeIn, b.ChargeOut)
	}
	return len(b.Elements), worst
}

// shownSlack is balanceSlack for masses that come from shares.
const shownSlack = 1e-9

// Masses proves the same once more on the figures that are shown: the heavy
// metals in the products and in the waste, by mass and share, add up to what
// entered; the lot's own metals are those of the inventory; and no plan recovers
// more metal than entered it.
func Masses(a *Appraisal) Proof {
	p := proofOf("masses", "the metal in products and waste as shown adds up to what entered")
	sums, heavy := 0, shownElements(a)
	plans, _ := a.worked(func(plan *PricedPlan, o *route.Outcome) {
		out := shownKilograms(o)
		for _, e := range o.Balance.Elements {
			if !heavy[e.Element] {
				continue
			}
			sums++
			shown := out[e.Element]
			if in := kilograms(e.Element, e.In); !(math.Abs(in-shown) <= shownSlack*in) {
				p.wrong("%s: %.6g g of %s entered, the products and the waste hold %.6g g", plan.ID, 1000*in, e.Element, 1000*shown)
			}
		}
		p.recovered(plan, o)
	})
	return p.done("%s over %s compared", plural(sums, "sum of a metal", "sums of metals"), plural(plans, "plan", "plans"))
}

// shownKilograms adds up the elements of products and waste by their shares.
func shownKilograms(o *route.Outcome) map[string]float64 {
	sum := map[string]float64{}
	for i := range o.Products {
		for _, s := range o.Products[i].Composition {
			sum[s.Element] += float64(s.Share) * o.Products[i].Mass.Kilograms()
		}
	}
	for i := range o.Waste {
		for _, s := range o.Waste[i].Metals {
			sum[s.Element] += float64(s.Share) * o.Waste[i].Mass.Kilograms()
		}
	}
	return sum
}

// shownElements are those whose share of a waste is shown anywhere: the heavy
// metals of the lot and of the reagents.
func shownElements(a *Appraisal) map[string]bool {
	shown := map[string]bool{}
	a.worked(func(_ *PricedPlan, o *route.Outcome) {
		for i := range o.Waste {
			for _, s := range o.Waste[i].Metals {
				shown[s.Element] = true
			}
		}
	})
	return shown
}

// recovered holds the metals of one plan against what entered.
func (p *Proof) recovered(plan *PricedPlan, o *route.Outcome) {
	in := map[string]float64{}
	for _, e := range o.Balance.Elements {
		in[e.Element] = kilograms(e.Element, e.In)
	}
	for _, m := range plan.Metals {
		if !(m.Recovered.Kilograms() <= in[m.Metal]*(1+shownSlack)) {
			p.wrong("%s: %.6g g of %s recovered, but only %.6g g entered", plan.ID, m.Recovered.Grams(), m.Metal, 1000*in[m.Metal])
		}
		if !(m.Payable <= m.Recovered*(1+shownSlack)) {
			p.wrong("%s: a buyer pays for %.6g g of %s and gets %.6g g", plan.ID, m.Payable.Grams(), m.Metal, m.Recovered.Grams())
		}
	}
}

// kilograms is the mass of mol of an element.
func kilograms(symbol string, mol float64) float64 {
	e, err := substance.ElementBySymbol(symbol)
	if err != nil {
		return 0
	}
	return mol * float64(e.Weight) / 1000
}

// inventoryAgrees holds the report's metals against the moles in the vessel.
func (p *Proof) inventoryAgrees(r *lot.Report, inv *lot.Inventory) {
	for i := range r.Metals {
		m := &r.Metals[i]
		stands := kilograms(m.Metal, inv.Vessel.Element(m.Metal))
		if !(math.Abs(stands-m.Contained.Kilograms()) <= balanceSlack*math.Max(stands, m.Contained.Kilograms())) {
			p.wrong("the report tells of %.6g g of %s, the vessel holds %.6g g", m.Contained.Grams(), m.Metal, 1000*stands)
		}
	}
}
