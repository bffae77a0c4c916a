package tui

import (
	"fmt"
	"slices"
	"strings"

	"afterpour/chem/route"
	"afterpour/chem/units"
	"afterpour/econ"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
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
func (v planView) lay(l look, a *econ.Appraisal, width, height int) planView {
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
	return append(lines, row, second, text(plain, ""))
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

// stepLines are the steps in order, each with what it takes and gives off.
func (l look) stepLines(p *econ.PricedPlan, width int) []line {
	if p.Outcome == nil || len(p.Outcome.Steps) == 0 {
		return nil
	}
	lines := l.head("Steps")
	number := 0
	for i := range p.Outcome.Steps {
		s := &p.Outcome.Steps[i]
		if s.Skipped {
			continue
		}
		number++
		lines = append(lines, l.oneStep(p, s, number, width)...)
	}
	return lines
}

func (l look) oneStep(p *econ.PricedPlan, s *route.StepRecord, number, width int) []line {
	title := s.Title
	if title == "" {
		title = s.Step
	}
	key := fmt.Sprint("step", number)
	head := text(muted, pad(fmt.Sprint(number), 2, true)+"  ").with(strong, title).with(muted, "  "+s.Route)
	head.part = true
	lines := []line{head.at(key, nil)}
	lines = append(lines, l.entryLines(p, s, key, width)...)
	const indent = "      "
	for _, r := range s.Reactions {
		lines = append(lines, l.paragraph(muted, indent, r, width)...)
	}
	for _, n := range s.Notes {
		lines = append(lines, l.paragraph(plain, indent, n, width)...)
	}
	if s.Stop != "" {
		lines = append(lines, l.paragraph(accent, "    = ", "done when "+s.Stop, width)...)
	}
	for _, c := range s.Cautions {
		lines = append(lines, l.paragraph(warn, "    ! ", cautionText(c), width)...)
	}
	return append(lines, text(plain, ""))
}

// cautionText is a caution with its weight, where it is more than a caution.
func cautionText(c route.Caution) string {
	switch {
	case c.Acknowledged:
		return "acknowledged: " + c.Text
	case c.Severity == route.SeverityStop || c.Severity == route.SeverityRefuse:
		return c.Severity + ": " + c.Text
	}
	return c.Text
}

// entryOrder is the order in which the entries of a step are shown: what to
// take, how long it takes, what to watch.
var entryOrder = []route.EntryKind{
	route.Reagent, route.Consumable, route.Electricity, route.Fuel, route.Charge, route.HandsOn, route.Elapsed,
	route.Vessel, route.Gas, route.Captured, route.FreshAir, route.Loss,
}

// entryLines are the entries of a step, in columns. Each can be asked where its
// figure comes from.
func (l look) entryLines(p *econ.PricedPlan, s *route.StepRecord, key string, width int) []line {
	t := table{sides: []side{left, decimal, left}, titles: []string{"", "", ""}}
	var entries []*route.Entry
	for _, kind := range entryOrder {
		for i := range s.Entries {
			if e := &s.Entries[i]; e.Kind == kind {
				entries = append(entries, e)
				amount, unit := entryAmount(e)
				t.add(cell{plain, "    " + entryName(p, e)}, cell{plain, amount}, cell{muted, unit})
			}
		}
	}
	_, rows := t.lay()
	var lines []line
	for i, e := range entries {
		amount, unit := entryAmount(e)
		detail := entryDetail(e)
		row := rows[i].at(fmt.Sprint(key, "entry", i), &claim{label: entryName(p, e), value: amount + " " + unit, why: e.Why, facts: nonEmpty(detail)})
		if ansi.StringWidth(row.String()+detail)+2 <= width {
			lines = append(lines, row.with(muted, "  "+detail))
			continue
		}
		lines = append(append(lines, row), l.paragraph(muted, "        ", detail, width)...)
	}
	return lines
}

func nonEmpty(texts ...string) []string {
	return slices.DeleteFunc(texts, func(s string) bool { return s == "" })
}

// entryDetail says what an entry is for, and how much of it is poured.
func entryDetail(e *route.Entry) string {
	if e.Volume > 0 {
		return strings.TrimSuffix(units.Format(units.VolumeKind, e.Volume.Litres())+" poured; "+e.Detail, "; ")
	}
	return e.Detail
}

// entryAmount writes an entry's amount with a unit that suits its size: less
// than an hour in minutes, less than a milligram in micrograms.
func entryAmount(e *route.Entry) (amount, unit string) {
	unit = e.Kind.Unit()
	switch {
	case unit == "h" && e.Amount < 1:
		return significant(e.Amount*60, 2), "min"
	case unit == "g" && e.Amount > 0 && e.Amount < 1e-3:
		amount, unit, _ = strings.Cut(units.Format(units.MassKind, e.Amount/1000), " ")
		return amount, unit
	}
	return significant(e.Amount, 3), unit
}

// entryName is what an entry counts, in words.
func entryName(p *econ.PricedPlan, e *route.Entry) string {
	item := e.Item
	if e.Kind == route.Reagent {
		for _, r := range p.Reagents {
			if r.Reagent == item {
				item = r.Name
			}
		}
		return item
	}
	return strings.TrimSpace(e.Kind.String() + " " + item)
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

// moneyLines are all receipts and costs under their headings, and what is left.
func (l look) moneyLines(a *econ.Appraisal, p *econ.PricedPlan, width int) []line {
	t := table{sides: []side{left, decimal, left}, titles: []string{"", a.Currency, ""}}
	var marks []func(line) line
	for _, category := range econ.Categories {
		lines := slices.DeleteFunc(pointers(p.Lines), func(n *econ.Line) bool { return n.Category != category })
		if len(lines) == 0 && byCategory(p, category) == 0 {
			continue
		}
		t.add(cell{strong, string(category)}, cell{strong, categorySum(p, category)}, cell{})
		marks = append(marks, func(row line) line { return row.at("money "+string(category), nil) })
		for i, n := range lines {
			terms := fmt.Sprintf("%s %s at %s %s", counted(n.Quantity), n.Unit, price(n.Price), n.PriceUnit)
			t.add(cell{plain, "  " + ansi.Truncate(n.Item, itemWidth, l.signs.more)}, cell{plain, money(n.Amount)}, cell{muted, terms})
			marks = append(marks, func(row line) line { return row.at(fmt.Sprint("money ", category, i), lineClaim(a, n, terms)) })
		}
	}
	t.add(cell{strong, "net"}, cell{strong, money(p.Net)}, cell{})
	marks = append(marks, func(row line) line { return row.at("net", netClaim(a, p)) })
	head, rows := t.lay()
	lines := append(l.head("Money"), head)
	for i, row := range rows {
		lines = append(lines, marks[i](row))
	}
	for i, n := range p.Notes {
		rows := l.paragraph(muted, "", n, width)
		rows[0] = rows[0].at(fmt.Sprint("note", i), nil)
		lines = append(lines, rows...)
	}
	return lines
}

// pointers are the elements of a list where they stand.
func pointers[T any](list []T) []*T {
	out := make([]*T, len(list))
	for i := range list {
		out[i] = &list[i]
	}
	return out
}

// itemWidth bounds what is bought or sold, so that the terms have room.
const itemWidth = 34

// categorySum is a plan's sum under a heading: received with a plus, paid with
// a minus.
func categorySum(p *econ.PricedPlan, c econ.Category) string {
	if c == econ.Revenue {
		return "+" + money(p.Revenue)
	}
	return "-" + money(byCategory(p, c))
}

func lineClaim(a *econ.Appraisal, n *econ.Line, terms string) *claim {
	c := &claim{label: string(n.Category) + ": " + n.Item, value: money(n.Amount) + " " + a.Currency, why: n.Why, inputID: n.PriceID, facts: []string{terms}}
	if n.Fixed {
		c.facts = append(c.facts, "the same for a lot of any size")
	}
	return c
}

func netClaim(a *econ.Appraisal, p *econ.PricedPlan) *claim {
	c := &claim{label: "net", value: money(p.Net) + " " + a.Currency}
	c.why.Formula = "net = revenue − fees − reagents − energy − labour − consumables − disposal − storage"
	for _, category := range econ.Categories {
		c.facts = append(c.facts, fmt.Sprintf("%s %s", category, money(byCategory(p, category))))
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
func (m model) planKey(k keyMap, msg tea.KeyMsg) model {
	direction := 0
	switch {
	case key.Matches(msg, k.NextPlan):
		direction = 1
	case key.Matches(msg, k.PrevPlan):
		direction = -1
	}
	a := m.appraisal()
	if direction == 0 || a == nil {
		return m
	}
	listed := slices.DeleteFunc(pointers(a.Plans), func(p *econ.PricedPlan) bool { return !m.standings.lists(p) })
	at := slices.Index(listed, m.plan.shown(a))
	next := (max(at, 0) + direction + len(listed)) % len(listed)
	m.plan.id, m.plan.roll = listed[next].ID, roll{}
	return m
}
