package tui

import (
	"fmt"
	"slices"
	"strings"

	"afterpour/chem/units"
	"afterpour/econ"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// planView is one plan, step by step.
type planView struct {
	roll roll
	top  []line
	id   string // "" until one is opened: the plan of the verdict
}

// keep forgets a plan that there is no more.
func (v planView) keep(a *econ.Appraisal) planView {
	if planByID(a, v.id) == nil {
		v.id = ""
	}
	return v
}

// shown is the plan on the page; nil if the lot has no plan.
func (v planView) shown(a *econ.Appraisal) *econ.PricedPlan {
	for _, id := range []string{v.id, a.Verdict.Plan} {
		if p := planByID(a, id); p != nil {
			return p
		}
	}
	if len(a.Plans) > 0 {
		return &a.Plans[0]
	}
	return nil
}

// lay sets the page out.
func (v planView) lay(l look, a *econ.Appraisal, d drivers, width, height int) planView {
	p := v.shown(a)
	if p == nil {
		v.top = nil
		v.roll = v.roll.size(width, height).fill([]line{text(plain, "This lot has no plan.").at("none", nil)})
		return v
	}
	v.top = l.planHead(a, p, width)
	v.roll = v.roll.size(width, height-len(v.top))
	room := v.roll.room()
	var lines []line
	if p.Blocked != nil {
		lines = append(lines, l.blockLines(p, room)...)
	} else {
		lines = append(lines, l.productLines(a, p, room)...)
	}
	lines = append(lines, l.stepLines(p, room)...)
	if p.Blocked == nil {
		lines = append(lines, l.leavingLines(a, p, room)...)
		lines = append(lines, l.moneyLines(a, p, room)...)
		lines = append(lines, l.driverLines(a, p, d, room)...)
	}
	lines = append(lines, l.cautionLines(p, room)...)
	v.roll = v.roll.fill(lines)
	return v
}

// planHead names the plan and gives the figures that decide.
func (l look) planHead(a *econ.Appraisal, p *econ.PricedPlan, width int) []line {
	place := fmt.Sprintf("plan %d of %d", placeOf(a, p), len(pricedIDs(a)))
	if p.Blocked != nil {
		place = "blocked"
	}
	lines := l.paragraph(strong, "", p.ID, width)
	if p.Outcome != nil && len(p.Outcome.UserRoutes) > 0 {
		lines = append(lines, text(warn, "! by routes of your own: "+strings.Join(p.Outcome.UserRoutes, ", ")))
	}
	if p.Blocked != nil {
		return append(lines, text(warn, place), text(plain, ""))
	}
	c := a.Currency
	row := text(muted, place+"   net ").with(strong, money(p.Net)).with(muted, "  gain ").with(moneyTone(p.Gain), signed(p.Gain)).
		with(muted, "  no labour ").with(plain, money(p.NetWithoutLabour)).with(muted, " "+c)
	second := text(muted, "hands-on ").with(plain, hours(p.HandsOnH)).with(muted, " h  from start to end ").with(plain, hours(p.ElapsedH)).with(muted, " h")
	if p.PerHour != nil {
		second = second.with(muted, "  per hour ").with(plain, money(*p.PerHour)).with(muted, " "+c)
	}
	lines = append(append(lines, row, second), l.planOdds(a, p, width)...)
	return append(lines, text(plain, ""))
}

func (l look) blockLines(p *econ.PricedPlan, width int) []line {
	b := p.Blocked
	where := blockedAt(p)
	if b.Step != "" {
		where += ", at " + b.Step
	}
	head := text(warn, "x ").with(strong, where)
	head.part = true
	lines := []line{head.at("block", nil)}
	return append(lines, l.paragraph(plain, "  ", blockReason(b), width)...)
}

// productLines say what comes out: by metal and by product.
func (l look) productLines(a *econ.Appraisal, p *econ.PricedPlan, width int) []line {
	t := table{sides: []side{left, decimal, decimal, decimal}, titles: []string{"metal", "contained g", "recovered g", "payable g"}}
	for _, m := range p.Metals {
		t.add(cell{strong, m.Metal}, cell{plain, grams(m.Contained)}, cell{plain, grams(m.Recovered)}, cell{plain, grams(m.Payable)})
	}
	var lines []line
	if len(t.rows) > 0 {
		head, rows := t.lay()
		head.part = true
		lines = append(lines, head)
		for i, row := range rows {
			lines = append(lines, row.at("metal "+p.Metals[i].Metal, nil))
		}
	}
	if len(p.Products) > 0 {
		lines = append(lines, l.head("Makes")...)
	}
	for i := range p.Products {
		product := &p.Products[i]
		what := fmt.Sprintf("%s g of %s, fineness %s", grams(product.Mass), productName(product), significant(product.Fineness, 3))
		sold := "no buyer in the price book takes it"
		if product.Sale != "" {
			sold = fmt.Sprintf("sold as %s for %s %s", product.Sale, money(product.Receipts), a.Currency)
		}
		lines = append(lines, text(plain, what).at(fmt.Sprint("product", i), productClaim(p, product, what)))
		lines = append(lines, text(muted, fmt.Sprintf("  %s g of %s in it; %s", grams(product.MetalMass), product.Metal, sold)))
	}
	return lines
}

func productName(p *econ.PlanProduct) string {
	name := p.Metal
	if p.Compound != "" {
		name = p.Compound
	}
	return name + " " + p.Form
}

// productClaim finds the reason for a product's mass in the ledger.
func productClaim(p *econ.PricedPlan, product *econ.PlanProduct, what string) *claim {
	c := &claim{label: productName(product), value: what}
	if p.Outcome == nil {
		return c
	}
	for i := range p.Outcome.Products {
		o := &p.Outcome.Products[i]
		if o.Form == product.Form && o.Metal == product.Metal && o.Route == product.Route {
			c.why = o.Why
			for _, share := range o.Composition {
				c.facts = append(c.facts, fmt.Sprintf("%s %s", share.Element, percent(float64(share.Share))))
			}
		}
	}
	return c
}

// leavingLines are what goes into the air and to the carrier.
func (l look) leavingLines(a *econ.Appraisal, p *econ.PricedPlan, width int) []line {
	lines := l.head("Leaves")
	for _, g := range p.Gases {
		lines = append(lines, text(plain, fmt.Sprintf("%s g of %s into the air", grams(g.Mass), g.Gas)).at("gas "+g.Gas, nil))
	}
	if p.FreshAirM3 > 0 {
		lines = append(lines, text(plain, fmt.Sprintf("%s m3 of fresh air to stay below the limits", significant(p.FreshAirM3, 3))).at("air", nil))
	}
	for _, w := range p.Waste {
		amount := units.Format(units.MassKind, w.Mass.Kilograms())
		if w.Volume > 0 {
			amount = significant(w.Volume.Litres(), 3) + " L, " + amount
		}
		lines = append(lines, text(plain, fmt.Sprintf("%s of %s, %s %s", amount, w.Class, money(w.Cost), a.Currency)).at("waste "+w.Class, wasteClaim(p, w.Class, amount)))
	}
	if p.Outcome != nil {
		for _, c := range p.Outcome.Closing {
			lines = append(lines, l.paragraph(warn, "! ", cautionText(c), width)...)
		}
	}
	if p.LargestVolume > 0 {
		lines = append(lines, text(plain, fmt.Sprintf("%s L in the vessel at the fullest", significant(p.LargestVolume.Litres(), 3))).at("vessel", nil))
	}
	return lines
}

func wasteClaim(p *econ.PricedPlan, class, amount string) *claim {
	c := &claim{label: class, value: amount}
	if p.Outcome == nil {
		return c
	}
	for i := range p.Outcome.Waste {
		w := &p.Outcome.Waste[i]
		if w.Class != class {
			continue
		}
		c.why.Inputs = c.why.Inputs.Union(w.Why.Inputs)
		c.why.Formula, c.why.Reason = w.Why.Formula, w.Why.Reason
		c.facts = append(c.facts, fmt.Sprintf("%s: %s L, %s", w.From, significant(w.Volume.Litres(), 3), units.Format(units.MassKind, w.Mass.Kilograms())))
	}
	return c
}

func (l look) cautionLines(p *econ.PricedPlan, width int) []line {
	if len(p.Cautions) == 0 {
		return nil
	}
	lines := l.head("Cautions")
	for i, c := range p.Cautions {
		rows := l.paragraph(warn, "! ", c, width)
		rows[0] = rows[0].at(fmt.Sprint("caution", i), nil)
		lines = append(lines, rows...)
	}
	return lines
}

// planKey is a key on the page of a plan: to the one before or after it.
func (m model) planKey(k keyMap, msg tea.KeyMsg) (model, tea.Cmd) {
	direction := 0
	switch {
	case key.Matches(msg, k.Drivers):
		return m.askDrivers()
	case key.Matches(msg, k.NextPlan):
		direction = 1
	case key.Matches(msg, k.PrevPlan):
		direction = -1
	}
	a := m.appraisal()
	if direction == 0 || a == nil {
		return m, nil
	}
	listed := slices.DeleteFunc(pointers(a.Plans), func(p *econ.PricedPlan) bool { return !m.standings.lists(p) })
	at := slices.Index(listed, m.plan.shown(a))
	next := (max(at, 0) + direction + len(listed)) % len(listed)
	m.plan.id, m.plan.roll = listed[next].ID, roll{}
	return m, nil
}
