package main

import (
	"fmt"
	"time"

	"afterpour/chem/lot"
	"afterpour/econ"
)

// standingsText writes an appraisal for people, at most 80 columns wide: the
// verdict, what is in the vessel, the plans, one plan line by line, and what
// the figures rest on and leave out. planID chooses the plan shown line by
// line; empty means the one that the verdict is about.
func standingsText(lotName, bookName, planID string, a *econ.Appraisal) (string, error) {
	detail, err := chosenPlan(a, planID)
	if err != nil {
		return "", err
	}
	var p page
	p.opening(lotName, bookName, a)
	p.metals(a)
	p.acid(&a.Report)
	p.plans(a)
	p.blocked(a)
	if detail != nil {
		p.detail(a, detail)
	}
	p.grounds(a)
	p.notCovered()
	return p.String(), nil
}

// chosenPlan finds the plan to show line by line: nil when the lot has no plan
// that can be priced and none was asked for.
func chosenPlan(a *econ.Appraisal, id string) (*econ.PricedPlan, error) {
	wanted := id
	if wanted == "" {
		wanted = a.Verdict.Plan
	}
	for i := range a.Plans {
		if a.Plans[i].ID == wanted {
			return &a.Plans[i], nil
		}
	}
	if id != "" {
		return nil, usagef("this lot has no plan %q; their ids are those that --json prints", id)
	}
	return nil, nil
}

func (p *page) opening(lotName, bookName string, a *econ.Appraisal) {
	p.text("", "%s", a.Lot)
	p.text("Verdict: ", "%s. %s", verdictTitle(a), a.Verdict.Why)
	if odds := a.Verdict.PPositive; odds != nil {
		p.text("", "The odds that this brings a gain are %s.", percent(*odds))
	}
	p.blank()
	p.text("Lot:     ", "%s%s", lotName, dated(", described ", a.Report.Date))
	p.text("Prices:  ", "%s, in %s%s", bookName, a.Currency, dated(", the oldest used is of ", a.PricesAsOf))
	if len(a.Stale) > 0 {
		p.text("Stale:   ", "%s: enter today's with `afterpour prices set`", list(a.Stale))
	}
}

func verdictTitle(a *econ.Appraisal) string {
	v := a.Verdict
	switch {
	case v.Plan == "":
		return v.Action
	case v.Action == econ.WorkUp:
		return fmt.Sprintf("%s by %s, a gain of %s %s", v.Action, v.Plan, money(v.Gain), a.Currency)
	}
	return v.Action
}

func dated(before string, day time.Time) string {
	if day.IsZero() {
		return ""
	}
	return before + day.Format(time.DateOnly)
}

func (p *page) metals(a *econ.Appraisal) {
	p.heading("In the vessel (contained metal: not what can be recovered, nor what is paid)")
	rows := [][]string{{"metal", "contained", "dissolved", "solid", "at spot"}}
	for _, m := range a.Metals {
		rows = append(rows, []string{
			m.Metal, gramsWithDoubt(m.Contained, m.SD),
			grams(m.Dissolved) + " g", grams(m.Solid) + " g", moneyOrDash(m.SpotValue),
		})
	}
	if len(rows) == 1 {
		p.text("  ", "no metal that this program knows of")
		return
	}
	p.table("  ", []align{left, right, right, right, right}, rows)
	for i := range a.Report.Metals {
		p.disagreement(&a.Report.Metals[i])
	}
}

// disagreement shows both statements about a metal that contradict each other.
func (p *page) disagreement(m *lot.MetalReport) {
	if !m.Disagree {
		return
	}
	var said []string
	for _, e := range m.Estimates {
		said = append(said, fmt.Sprintf("%s (%s) %s", e.Label, e.Of, gramsWithDoubt(e.Mass, e.SD)))
	}
	p.text("  ! ", "%s: the statements disagree, so the doubt is widened: %s", m.Metal, list(said))
}

func (p *page) acid(r *lot.Report) {
	acid := r.Acid
	kind := "free acid"
	amount := acid.FreeMol
	if amount < 0 {
		kind, amount = "alkali left over", -amount
	}
	if amount == 0 && acid.SD == 0 {
		return
	}
	p.text("  ", "%s: %s ± %s mol in %s L", kind,
		significant(amount, 3), significant(acid.SD, 2), significant(r.Volume.Litres(), 3))
	if acid.Disagree {
		for _, e := range acid.Estimates {
			p.text("  ! ", "%s says %s ± %s mol of acid", e.Label, significant(e.Mol, 3), significant(e.SD, 2))
		}
	}
}

func (p *page) plans(a *econ.Appraisal) {
	p.heading(fmt.Sprintf("Plans by net value, in %s", a.Currency))
	columns := []align{right, right, right, right, right, right}
	rows := [][]string{{"net", "gain", "no labour", "hands-on", "elapsed", "an hour"}}
	var titles []string
	for i := range a.Plans {
		plan := &a.Plans[i]
		if !plan.Priced() {
			continue
		}
		titles = append(titles, planTitle(plan))
		rows = append(rows, []string{
			money(plan.Net), signed(plan.Gain), money(plan.NetWithoutLabour),
			hours(plan.HandsOnH), hours(plan.ElapsedH), moneyOrDash(plan.PerHour),
		})
	}
	if len(titles) == 0 {
		p.text("  ", "none that can be carried out and priced")
		return
	}
	p.interleave(columns, rows, titles)
	p.text("  ", "net: all receipts less all costs. gain: net less that of the best way to leave the lot as it is%s. "+
		"no labour: net with your own hours at no cost. an hour: the same for each hands-on hour.", baselineNote(a))
}

func baselineNote(a *econ.Appraisal) string {
	if a.Baseline == "" {
		return " (none can be priced)"
	}
	return fmt.Sprintf(" (%s, net %s)", untouched(a.Baseline), money(a.BaselineNet))
}

// interleave adds rows of figures, each under its numbered title; the first row
// is the heading.
func (p *page) interleave(columns []align, rows [][]string, titles []string) {
	var figures page
	figures.table("      ", columns, rows)
	p.lines = append(p.lines, figures.lines[0])
	for i, title := range titles {
		p.text(fmt.Sprintf("  %2d  ", i+1), "%s", title)
		p.lines = append(p.lines, figures.lines[i+1])
	}
}

// blocked lists the plans that cannot be carried out, those with the same
// reason together.
func (p *page) blocked(a *econ.Appraisal) {
	type group struct {
		plan  *econ.PricedPlan
		count int
	}
	var groups []*group
	byReason := map[string]*group{}
	for i := range a.Plans {
		plan := &a.Plans[i]
		if plan.Priced() {
			continue
		}
		key := plan.Blocked.Route + "\n" + plan.Blocked.Step + "\n" + plan.Blocked.Reason
		g := byReason[key]
		if g == nil {
			g = &group{plan: plan}
			byReason[key] = g
			groups = append(groups, g)
		}
		g.count++
	}
	if len(groups) == 0 {
		return
	}
	p.heading("Blocked")
	for _, g := range groups {
		p.block(g.plan, g.count)
	}
}

func (p *page) block(plan *econ.PricedPlan, count int) {
	b := plan.Blocked
	what := b.Route
	if what == "" {
		what = plan.ID
	}
	if b.Step != "" {
		what += ", step " + b.Step
	}
	if count > 1 {
		what += fmt.Sprintf(" (%d plans)", count)
	}
	p.text("  x ", "%s: %s%s", what, b.Reason, unreachable(b.Unreachable))
}

func unreachable(shares map[string]float64) string {
	var parts []string
	for _, metal := range sortedKeys(shares) {
		parts = append(parts, percent(shares[metal])+" of the "+metal)
	}
	if len(parts) == 0 {
		return ""
	}
	return " [out of reach: " + list(parts) + "]"
}
