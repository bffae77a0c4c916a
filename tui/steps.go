package tui

import (
	"fmt"
	"slices"
	"strings"

	"afterpour/chem/route"
	"afterpour/chem/units"
	"afterpour/econ"

	"github.com/charmbracelet/x/ansi"
)

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
		return significant(e.Amount*1e6, 3), "ug"
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
