package main

import (
	"fmt"
	"sort"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/units"
	"afterpour/econ"
)

// detail shows one plan: what comes out, what goes in, every line of money,
// and its cautions.
func (p *page) detail(a *econ.Appraisal, plan *econ.PricedPlan) {
	p.heading(fmt.Sprintf("In detail: %s", plan.ID))
	if !plan.Priced() {
		p.block(plan, 1)
		return
	}
	p.odds(plan)
	p.recovery(plan)
	p.products(plan)
	p.reagents(plan)
	p.leavings(plan)
	p.moneyLines(a, plan)
	p.cautions(plan)
	for _, note := range plan.Notes {
		p.text("  - ", "%s", note)
	}
}

func (p *page) odds(plan *econ.PricedPlan) {
	o := plan.Odds
	if o == nil {
		return
	}
	p.text("  odds   ", "of a gain %s, of being the best plan %s; net 10-50-90 %%: %s, %s, %s",
		percent(o.PPositive), percent(o.PBest), money(o.P10), money(o.P50), money(o.P90))
}

func (p *page) recovery(plan *econ.PricedPlan) {
	rows := [][]string{{"metal", "contained", "recovered", "payable"}}
	for _, m := range plan.Metals {
		rows = append(rows, []string{m.Metal, grams(m.Contained) + " g", grams(m.Recovered) + " g", grams(m.Payable) + " g"})
	}
	if len(rows) > 1 {
		p.table("  ", []align{left, right, right, right}, rows)
	}
}

func (p *page) products(plan *econ.PricedPlan) {
	for i := range plan.Products {
		product := &plan.Products[i]
		name := product.Metal
		if product.Compound != "" {
			name = product.Compound
		}
		sold := "no buyer in the price book takes it"
		if product.Sale != "" {
			sold = fmt.Sprintf("sold as %s for %s", product.Sale, money(product.Receipts))
		}
		p.text("  makes  ", "%s g of %s (%s), fineness %s, with %s g of %s; %s", grams(product.Mass), name,
			product.Form, significant(product.Fineness, 3), grams(product.MetalMass), product.Metal, sold)
	}
}

func (p *page) reagents(plan *econ.PricedPlan) {
	for _, r := range plan.Reagents {
		amount := massText(r.Mass)
		if r.Volume > 0 {
			amount += fmt.Sprintf(" (%s mL)", significant(r.Volume.Millilitres(), 3))
		}
		p.text("  takes  ", "%s of %s, %s", amount, r.Name, money(r.Cost))
	}
}

func (p *page) leavings(plan *econ.PricedPlan) {
	var gases []string
	for _, g := range plan.Gases {
		gases = append(gases, fmt.Sprintf("%s g of %s", grams(g.Mass), g.Gas))
	}
	if len(gases) > 0 {
		p.text("  air    ", "%s leave the vessel: %s m3 of fresh air to stay below the limits",
			list(gases), significant(plan.FreshAirM3, 3))
	}
	for _, w := range plan.Waste {
		amount := massText(w.Mass)
		if w.Volume > 0 {
			amount = fmt.Sprintf("%s L (%s)", significant(w.Volume.Litres(), 3), amount)
		}
		p.text("  leaves ", "%s of %s, %s", amount, w.Class, money(w.Cost))
	}
	if plan.LargestVolume > 0 {
		p.text("  fills  ", "%s L at the fullest; %s kWh", significant(plan.LargestVolume.Litres(), 3), significant(plan.EnergyKWh, 3))
	}
}

func (p *page) moneyLines(a *econ.Appraisal, plan *econ.PricedPlan) {
	p.heading(fmt.Sprintf("  Money, in %s", a.Currency))
	rows := [][]string{}
	for _, category := range econ.Categories {
		rows = append(rows, categoryRows(plan, category, a.Currency)...)
	}
	rows = append(rows, []string{"net", "", "", money(plan.Net)})
	p.table("  ", []align{left, right, left, right}, rows)
}

func categoryRows(plan *econ.PricedPlan, category econ.Category, currency string) [][]string {
	var rows [][]string
	sign := "-"
	if category == econ.Revenue {
		sign = "+"
	}
	for i := range plan.Lines {
		l := &plan.Lines[i]
		if l.Category != category {
			continue
		}
		rows = append(rows, []string{
			fmt.Sprintf("%s: %s", category, l.Item),
			strings.TrimSpace(howMuch(l.Quantity) + " " + l.Unit),
			"at " + unitPrice(l.Price) + strings.TrimPrefix(" "+l.PriceUnit, " "+currency),
			sign + money(l.Amount),
		})
	}
	return rows
}

func (p *page) cautions(plan *econ.PricedPlan) {
	if len(plan.Cautions) == 0 {
		return
	}
	p.heading("  Cautions")
	for _, c := range plan.Cautions {
		p.text("  ! ", "%s", c)
	}
}

// grounds lists what the figures rest on: notes about the lot and the prices,
// and inputs that nobody typed.
func (p *page) grounds(a *econ.Appraisal) {
	if len(a.Report.Notes)+len(a.Notes) > 0 {
		p.heading("Notes")
	}
	p.notes(a.Report.Notes)
	for _, n := range a.Notes {
		p.text("  - ", "%s", n)
	}
	p.assumed(a.Figures, a.Report.Assumed)
}

func (p *page) notes(notes []lot.Note) {
	for _, n := range notes {
		p.text(noteMark(n.Kind), "%s: %s", n.Kind, n.Text)
	}
}

func noteMark(kind lot.NoteKind) string {
	if kind == lot.Conflict || kind == lot.Caution {
		return "  ! "
	}
	return "  - "
}

func (p *page) assumed(figures *input.Figures, refs []input.Ref) {
	if len(refs) == 0 {
		return
	}
	p.heading("Assumed, because the lot file does not say")
	for _, ref := range refs {
		f := figures.Get(ref)
		value := f.Text
		if value == "" {
			value = units.FormatDist(f.Kind, f.Dist)
		}
		p.text("  - ", "%s = %s: %s", strings.TrimPrefix(f.ID, "lot/"), value, f.Source)
	}
}

func list(parts []string) string { return strings.Join(parts, ", ") }

func sortedKeys(m map[string]float64) []string {
	keys := make([]string, 0, len(m))
	for key := range m {
		keys = append(keys, key)
	}
	sort.Strings(keys)
	return keys
}
