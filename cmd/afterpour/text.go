package main

import (
	"fmt"
	"regexp"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"afterpour/chem/lot"
	"afterpour/chem/route"
	"afterpour/econ"
)

// view is what the call asks the standings to show.
type view struct {
	plan string // id of the plan shown line by line; "" for the one that the verdict is about
	all  bool   // list every plan
}

// standingsText writes an appraisal for people, at most 80 columns wide: the
// verdict, what is in the vessel, the plans, one plan line by line, and what
// the figures rest on and leave out.
func standingsText(lotName, bookName string, v view, a *econ.Appraisal) (string, error) {
	detail, err := chosenPlan(a, v.plan)
	if err != nil {
		return "", err
	}
	var p page
	p.opening(lotName, bookName, a)
	p.metals(a)
	p.acid(&a.Report)
	p.plans(a, v.all)
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
	p.text("Verdict: ", "%s. %s", verdictTitle(a), sentence(a.Verdict.Why))
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

// sentence begins a text with a capital, unless that is an id, and ends it with
// a full stop.
func sentence(text string) string {
	text = strings.TrimSpace(text)
	if text == "" {
		return ""
	}
	if word, _, _ := strings.Cut(text, " "); !strings.ContainsAny(word, "+-") {
		first, size := utf8.DecodeRuneInString(text)
		text = string(unicode.ToUpper(first)) + text[size:]
	}
	if !strings.ContainsAny(text[len(text)-1:], ".!?") {
		text += "."
	}
	return text
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

// noAcid is an amount of free acid in mol that changes nothing on a bench: a
// drop of dilute acid.
const noAcid = 1e-4

func (p *page) acid(r *lot.Report) {
	acid := r.Acid
	kind := "free acid"
	amount := acid.FreeMol
	if amount < 0 {
		kind, amount = "alkali left over", -amount
	}
	if amount < noAcid && acid.SD < noAcid {
		p.text("  ", "free acid: none to speak of (under 0.1 mmol)")
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
