package tui

import (
	"fmt"
	"slices"

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
