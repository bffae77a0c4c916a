package econ

import (
	"fmt"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// WhyNet is the chain of a plan's net: its headings and, under each, its lines.
func (a *Appraisal) WhyNet(p *PricedPlan) Chain {
	r := a.because("net of " + p.ID)
	if !p.Priced() {
		return r.blocked(p)
	}
	r.money(itself, "net of "+p.ID, p.Net, route.Why{Formula: netFormula})
	for _, c := range Categories {
		r.heading(restsOn, p, c)
	}
	return r.done()
}

const netFormula = "revenue − fees − reagents − energy − labour − consumables − disposal − storage"

// WhyCategory is the chain of the lines under one heading of a plan.
func (a *Appraisal) WhyCategory(p *PricedPlan, c Category) Chain {
	r := a.because(fmt.Sprintf("%s of %s", c, p.ID))
	if !p.Priced() {
		return r.blocked(p)
	}
	r.heading(itself, p, c)
	if len(r.chain.Links) == 0 {
		r.money(itself, string(c), 0, route.Why{Reason: "the plan has no such line"})
	}
	return r.done()
}

// heading appends a heading of a plan with its lines; nothing if it has none.
func (r *reasons) heading(level int, p *PricedPlan, c Category) {
	first := true
	for i := range p.Lines {
		l := &p.Lines[i]
		if l.Category != c {
			continue
		}
		if first {
			r.money(level, string(c), p.Under(c), route.Why{Formula: "sum of its lines"})
			first = false
		}
		r.line(level+1, l, r.a.priceOf(l))
	}
}

// WhyGain is the chain of what a plan brings beyond the lot as it stands.
func (a *Appraisal) WhyGain(p *PricedPlan) Chain {
	r := a.because("gain of " + p.ID)
	if !p.Priced() {
		return r.blocked(p)
	}
	r.money(itself, "gain of "+p.ID, p.Gain, route.Why{Formula: "net − best net of the lot as it stands"})
	r.money(restsOn, "net of "+p.ID, p.Net, route.Why{Formula: netFormula})
	for _, c := range Categories {
		if m := p.Under(c); m > 0 {
			r.money(behindThat, string(c), m, route.Why{})
		}
	}
	if base := a.Plan(a.Baseline); base != nil {
		r.money(restsOn, "net of "+base.ID+", the best ending of the lot as it stands", base.Net, route.Why{Formula: netFormula})
		for _, c := range Categories {
			if m := base.Under(c); m > 0 {
				r.money(behindThat, string(c), m, route.Why{})
			}
		}
	} else {
		r.say(restsOn, "the lot as it stands", route.Why{Reason: "no ending of it can be priced (" + a.whyNoEnding() + "), so the gain is counted from doing nothing"})
	}
	return r.done()
}

// blocked is the chain of any figure of a plan that has none.
func (r *reasons) blocked(p *PricedPlan) Chain {
	why := route.Why{}
	if p.Blocked != nil {
		why.Reason = p.Blocked.Reason
	}
	r.say(itself, p.ID+" cannot be carried out or priced", why)
	return r.done()
}

// priceOf is the figure of a line's price.
func (a *Appraisal) priceOf(l *Line) input.Set {
	ref, ok := a.Figures.ByID(l.PriceID)
	if !ok {
		return nil
	}
	return input.Set{}.With(ref)
}

// line appends a line of money, resting on what it is told to.
func (r *reasons) line(level int, l *Line, rests input.Set) {
	why := l.Why
	why.Inputs = rests
	item := l.Item
	link := r.money(level, item, l.Amount, why)
	link.Text = fmt.Sprintf("%s = %s %s × %s %s", link.Text, toDigits(l.Quantity, 4), l.Unit, priceText(l.Price), l.PriceUnit)
}

// WhyLine is the chain of one line of a plan's money: the ledger entries,
// products or waste that it counts, the steps and reactions that gave them, and
// what stands in the vessel. An index that the plan has not gives an empty chain.
func (a *Appraisal) WhyLine(p *PricedPlan, line int) Chain {
	if line < 0 || line >= len(p.Lines) {
		return Chain{Links: []Link{}}
	}
	l := &p.Lines[line]
	r := a.because(l.Item + " of " + p.ID)
	r.line(itself, l, l.Why.Inputs)
	item, _, _ := strings.Cut(l.Item, ", ")
	if p.Outcome == nil {
		return r.done()
	}
	switch l.Category {
	case Revenue:
		r.sold(p, item)
	case Fees:
		if r.within(l.Why.Inputs, "lot/") != nil { // a penalty or a make-up, which goods decide
			r.sold(p, item)
		}
	case Reagents:
		r.entries(p, func(e *route.Entry) bool { return e.Kind == route.Reagent && words(e.Item) == item })
	case Consumables:
		r.entries(p, func(e *route.Entry) bool { return e.Kind == route.Consumable && words(e.Item) == item })
	case Energy:
		kind := map[string]route.EntryKind{"electricity": route.Electricity, "gas": route.Fuel}[item]
		r.entries(p, func(e *route.Entry) bool { return e.Kind == kind })
	case Labour:
		r.entries(p, func(e *route.Entry) bool { return e.Kind == route.HandsOn })
	case Disposal:
		r.wastes(p, func(w *route.Waste) bool { return words(w.Class) == item })
	case Storage:
		r.wastes(p, func(w *route.Waste) bool { return w.Mass > 0 || w.Volume > 0 })
	}
	r.vessel(behindThat, l.Why.Inputs)
	return r.done()
}

// sold appends the products, or the waste, that went to one buyer.
func (r *reasons) sold(p *PricedPlan, sale string) {
	made := p.Outcome.Products
	for i := range p.Products {
		pp := &p.Products[i]
		if words(pp.Sale) != sale {
			continue
		}
		for j := range made {
			if made[j].Route == pp.Route && made[j].Form == pp.Form && made[j].Metal == pp.Metal && made[j].Compound == pp.Compound && made[j].Mass == pp.Mass {
				r.product(restsOn, p, &made[j])
				break
			}
		}
	}
	if p.Ending == endSell {
		r.wastes(p, func(w *route.Waste) bool { return w.Mass > 0 || w.Volume > 0 })
	}
}

// WhyProduct is the chain of a product of a plan.
func (a *Appraisal) WhyProduct(p *PricedPlan, product int) Chain {
	if p.Outcome == nil || product < 0 || product >= len(p.Outcome.Products) {
		return Chain{Links: []Link{}}
	}
	x := &p.Outcome.Products[product]
	r := a.because(fmt.Sprintf("%s of %s by %s", x.Form, x.Metal, p.ID))
	r.product(itself, p, x)
	r.vessel(behindThat, x.Why.Inputs)
	return r.done()
}

// product appends a product, the steps of its route that reacted or lost metal,
// and the metal that the lot holds.
func (r *reasons) product(level int, p *PricedPlan, x *route.Product) {
	what := x.Metal + " " + x.Form
	if x.Compound != "" {
		what = x.Compound
	}
	link := r.mass(level, what, x.Mass, 0, x.Why)
	link.Text += fmt.Sprintf(" at %s fine, with %s of %s", toDigits(x.Fineness, 5), units.Format(units.MassKind, float64(x.MetalMass)), x.Metal)
	for i := range p.Outcome.Steps {
		if s := &p.Outcome.Steps[i]; s.Route == x.Route && !s.Skipped {
			r.step(level+1, s, x)
		}
	}
	r.contained(level+1, x.Metal)
}

// step appends a step that reacted or lost some of the metal.
func (r *reasons) step(level int, s *route.StepRecord, x *route.Product) {
	metal := x.Metal
	why := route.Why{Inputs: r.within(x.Why.Inputs, stepPrefix(s))}
	lost := 0.0
	var causes []string
	for i := range s.Entries {
		e := &s.Entries[i]
		if e.Kind != route.Loss || e.Item != metal {
			continue
		}
		lost += e.Amount
		why = joined(why, e.Why)
		if e.Detail != "" {
			causes = append(causes, e.Detail)
		}
	}
	if lost <= 0 && len(s.Reactions) == 0 {
		return
	}
	why.Formula = strings.Join(append(append([]string{}, s.Reactions...), why.Formula), "; ")
	why.Formula = strings.TrimSuffix(strings.TrimPrefix(why.Formula, "; "), "; ")
	if lost <= 0 {
		r.say(level, s.Title, why).step = stepPrefix(s)
		return
	}
	why.Reason = strings.Join(causes, "; ")
	link := r.mass(level, s.Title, units.Mass(lost)*units.Gram, 0, why)
	link.What, link.step = link.What+", "+metal+" lost", stepPrefix(s)
}

// stepPrefix is how the ids of a step's figures begin.
func stepPrefix(s *route.StepRecord) string { return "route/" + s.Route + "/" + s.Step + "/" }

// within are the inputs of a set whose ids begin so.
func (r *reasons) within(set input.Set, prefix string) input.Set {
	var some input.Set
	for _, ref := range set.Refs() {
		if strings.HasPrefix(r.a.Figures.Get(ref).ID, prefix) {
			some = some.With(ref)
		}
	}
	return some
}

// entries appends the ledger entries that match, step by step.
func (r *reasons) entries(p *PricedPlan, match func(*route.Entry) bool) {
	for i := range p.Outcome.Steps {
		s := &p.Outcome.Steps[i]
		for j := range s.Entries {
			if e := &s.Entries[j]; match(e) {
				r.entry(restsOn, s, e)
			}
		}
	}
}

// entry appends one ledger entry.
func (r *reasons) entry(level int, s *route.StepRecord, e *route.Entry) {
	what := s.Title
	if e.Detail != "" {
		what += ", " + e.Detail
	}
	unit, text := e.Kind.Unit(), ""
	switch e.Kind {
	case route.Reagent, route.Gas, route.Captured, route.Loss:
		text = units.Format(units.MassKind, e.Amount/1000)
		if e.Volume > 0 {
			text += ", as poured " + units.Format(units.VolumeKind, float64(e.Volume))
		}
	case route.HandsOn, route.Elapsed:
		text = units.Format(units.HoursKind, e.Amount)
	default:
		text = strings.TrimSpace(toDigits(e.Amount, 3) + " " + unit)
	}
	r.add(level, what, e.Amount, unit, text, e.Why).step = stepPrefix(s)
	for _, reaction := range s.Reactions {
		if e.Kind == route.Reagent || e.Kind == route.Gas || e.Kind == route.Electricity {
			r.say(level+1, "reaction of this step", route.Why{Formula: reaction})
		}
	}
}

// WhyEntry is the chain of one entry of a plan's ledger.
func (a *Appraisal) WhyEntry(p *PricedPlan, step, entry int) Chain {
	if p.Outcome == nil || step < 0 || step >= len(p.Outcome.Steps) || entry < 0 || entry >= len(p.Outcome.Steps[step].Entries) {
		return Chain{Links: []Link{}}
	}
	s := &p.Outcome.Steps[step]
	e := &s.Entries[entry]
	name := e.Kind.String()
	if e.Item != "" {
		name += " " + words(e.Item)
	}
	r := a.because(name + " of " + s.Title)
	r.entry(itself, s, e)
	r.vessel(restsOn, e.Why.Inputs)
	return r.done()
}

// wastes appends the waste that matches.
func (r *reasons) wastes(p *PricedPlan, match func(*route.Waste) bool) {
	for i := range p.Outcome.Waste {
		if w := &p.Outcome.Waste[i]; match(w) {
			r.waste(restsOn, w)
		}
	}
}

func (r *reasons) waste(level int, w *route.Waste) {
	what := words(w.Class)
	if w.From != "" {
		what += " from " + words(w.From)
	}
	if !(w.Volume > 0) {
		r.mass(level, what, w.Mass, 0, w.Why)
		return
	}
	text := units.Format(units.VolumeKind, float64(w.Volume)) + ", " + units.Format(units.MassKind, float64(w.Mass))
	r.add(level, what, w.Volume.Litres(), "L", text, w.Why)
}

// WhyWaste is the chain of what is left of one class over a plan.
func (a *Appraisal) WhyWaste(p *PricedPlan, waste int) Chain {
	if p.Outcome == nil || waste < 0 || waste >= len(p.Waste) {
		return Chain{Links: []Link{}}
	}
	class := p.Waste[waste].Class
	r := a.because(words(class) + " of " + p.ID)
	r.mass(itself, words(class), p.Waste[waste].Mass, 0, route.Why{Formula: "sum of all that is left of this class"})
	var rests input.Set
	for i := range p.Outcome.Waste {
		if w := &p.Outcome.Waste[i]; w.Class == class {
			r.waste(restsOn, w)
			rests = rests.Union(w.Why.Inputs)
		}
	}
	r.vessel(behindThat, rests)
	return r.done()
}
