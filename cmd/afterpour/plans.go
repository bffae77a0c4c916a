package main

import (
	"fmt"
	"regexp"
	"strings"

	"afterpour/chem/route"
	"afterpour/econ"
)

// shownPlans is how many of the best plans are listed unless all are asked for.
const shownPlans = 10

// listed says which plans the table shows: all of them, or the best of those
// that are no lesser sibling of another, the ways to leave the lot as it is,
// and the best plan of every single route, so that the routes can be compared.
func listed(a *econ.Appraisal, all bool) []bool {
	show := make([]bool, len(a.Plans))
	seen, shown := map[string]bool{}, 0
	for i := range a.Plans {
		plan := &a.Plans[i]
		if !plan.Priced() {
			continue
		}
		wanted := len(plan.Routes) == 0 || plan.FoldedInto == "" && shown < shownPlans
		if len(plan.Routes) == 1 && !seen[plan.Routes[0]] {
			wanted, seen[plan.Routes[0]] = true, true
		}
		show[i] = all || wanted
		shown += count(wanted)
	}
	return show
}

func (p *page) plans(a *econ.Appraisal, all bool) {
	p.heading(fmt.Sprintf("Plans by net value, in %s", a.Currency))
	rows := [][]string{{"net", "gain", "no labour", "hands-on", "elapsed", "an hour", oddsHeading(a)}}
	var titles []string
	hidden := 0
	for i, show := range listed(a, all) {
		plan := &a.Plans[i]
		if !show {
			hidden += count(plan.Priced())
			continue
		}
		titles = append(titles, fmt.Sprintf("%d\n%s", i+1, planTitle(plan)))
		rows = append(rows, []string{
			money(plan.Net), signed(plan.Gain), money(plan.NetWithoutLabour),
			hours(plan.HandsOnH), hours(plan.ElapsedH), moneyOrDash(plan.PerHour), oddsCell(plan),
		})
	}
	if len(titles) == 0 {
		p.text("  ", "none that can be carried out and priced")
		return
	}
	p.interleave([]align{right, right, right, right, right, right, right}, rows, titles)
	if hidden > 0 {
		p.text("  ", "more plans, each worth less than one of its kind above: %d. `rank --all` lists them.", hidden)
	}
	p.text("  ", "net: all receipts less all costs. gain: net less that of the best way to leave the lot as it is%s. "+
		"no labour: net with your own hours at no cost. an hour: the same for each hands-on hour.", baselineNote(a))
}

// oddsHeading heads the column of odds, which is empty until odds are known.
func oddsHeading(a *econ.Appraisal) string {
	if a.Draws == 0 {
		return ""
	}
	return "odds of gain"
}

func oddsCell(plan *econ.PricedPlan) string {
	if plan.Odds == nil {
		return ""
	}
	return percent(plan.Odds.PPositive)
}

func count(yes bool) int {
	if yes {
		return 1
	}
	return 0
}

func baselineNote(a *econ.Appraisal) string {
	if a.Baseline == "" {
		return " (none can be priced)"
	}
	return fmt.Sprintf(" (%s, net %s)", untouched(a.Baseline), money(a.BaselineNet))
}

// interleave adds rows of figures, each under its title, which begins with its
// rank and a line end; the first row is the heading.
func (p *page) interleave(columns []align, rows [][]string, titles []string) {
	var figures page
	figures.table("      ", columns, rows)
	p.lines = append(p.lines, figures.lines[0])
	for i, title := range titles {
		rank, name, _ := strings.Cut(title, "\n")
		p.text(fmt.Sprintf("  %2s  ", rank), "%s", name)
		p.lines = append(p.lines, figures.lines[i+1])
	}
}

// numbers are the parts of a reason that differ from plan to plan.
var numbers = regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)

// kindOfBlock is the same for plans that stop at the same step for the same
// reason, whatever the figures in it.
func kindOfBlock(b *route.Block) string {
	return b.Route + "\n" + b.Step + "\n" + numbers.ReplaceAllString(b.Reason, "0")
}

// blocked lists the plans that cannot be carried out: for each reason one, the
// one with the fewest routes, and how many share it.
func (p *page) blocked(a *econ.Appraisal) {
	var order []string
	first, counts := map[string]*econ.PricedPlan{}, map[string]int{}
	for i := range a.Plans {
		plan := &a.Plans[i]
		if plan.Priced() {
			continue
		}
		kind := kindOfBlock(plan.Blocked)
		switch known := first[kind]; {
		case known == nil:
			order = append(order, kind)
			first[kind] = plan
		case len(plan.Routes) < len(known.Routes):
			first[kind] = plan
		}
		counts[kind]++
	}
	if len(order) == 0 {
		return
	}
	p.heading("Blocked")
	for _, kind := range order {
		p.block(first[kind], counts[kind])
	}
}

func (p *page) block(plan *econ.PricedPlan, count int) {
	b := plan.Blocked
	what := plan.ID
	if count > 1 && b.Route != "" {
		what = b.Route
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
