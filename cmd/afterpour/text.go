package main

import (
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"afterpour/chem/lot"
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
