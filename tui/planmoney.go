package tui

import (
	"fmt"
	"slices"
	"strconv"

	"afterpour/econ"

	"github.com/charmbracelet/x/ansi"
)

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
		marks = append(marks, func(row line) line { return row.at("money "+string(category), asking(ofPlan(p, string(category)))) })
		for i, n := range lines {
			terms := fmt.Sprintf("%s %s at %s %s", counted(n.Quantity), n.Unit, price(n.Price), n.PriceUnit)
			t.add(cell{plain, "  " + ansi.Truncate(n.Item, itemWidth, l.signs.more)}, cell{plain, money(n.Amount)}, cell{muted, terms})
			marks = append(marks, func(row line) line { return row.at(fmt.Sprint("money ", category, i), askLine(p, n)) })
		}
	}
	t.add(cell{strong, "net"}, cell{strong, money(p.Net)}, cell{})
	marks = append(marks, func(row line) line { return row.at("net", asking(ofPlan(p))) })
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

// askLine is the question about a line of a plan, which econ counts from 1.
func askLine(p *econ.PricedPlan, n *econ.Line) *claim {
	i := slices.IndexFunc(pointers(p.Lines), func(other *econ.Line) bool { return other == n })
	return asking(ofPlan(p, "line", strconv.Itoa(i+1)))
}

// byCategory is a plan's receipts or costs under one heading.
func byCategory(p *econ.PricedPlan, c econ.Category) econ.Money {
	switch c {
	case econ.Revenue:
		return p.Revenue
	case econ.Fees:
		return p.Fees
	case econ.Reagents:
		return p.ReagentCost
	case econ.Energy:
		return p.EnergyCost
	case econ.Labour:
		return p.LabourCost
	case econ.Consumables:
		return p.ConsumableCost
	case econ.Disposal:
		return p.DisposalCost
	}
	return p.StorageCost
}
