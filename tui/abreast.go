package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"afterpour/econ"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// abreast is two to four plans side by side.
type abreast struct {
	roll            roll
	top             []line
	onlyDifferences bool
}

// comparison is one line of the page: one figure of each plan.
type comparison struct {
	label  string
	unit   string
	values []float64
	texts  []string // "" where a plan has no such thing
	better int8     // +1: more is better, -1: less is better, 0: neither
}

// differs reports that the plans do not all show the same.
func (c *comparison) differs() bool {
	for _, t := range c.texts[1:] {
		if t != c.texts[0] {
			return true
		}
	}
	return false
}

// empty reports that no plan has anything to show.
func (c *comparison) empty() bool {
	for i, t := range c.texts {
		if t != "" && c.values[i] != 0 {
			return false
		}
	}
	return true
}

// best reports that a plan's figure is better than another's and none better
// than it.
func (c *comparison) best(i int) bool {
	if c.better == 0 || c.texts[i] == "" {
		return false
	}
	beaten := false
	for j, t := range c.texts {
		if t == "" || t == c.texts[i] {
			continue
		}
		if float64(c.better)*c.values[j] > float64(c.better)*c.values[i] {
			return false
		}
		beaten = true
	}
	return beaten
}

// section is the comparisons under one heading.
type section struct {
	title string
	rows  []comparison
}

// shownAbreast are the chosen plans. Where fewer than two are chosen, the best
// that work the lot up stand in, and after them the other plans.
func shownAbreast(a *econ.Appraisal, chosen []string) []*econ.PricedPlan {
	var plans []*econ.PricedPlan
	for _, id := range chosen {
		if p := planByID(a, id); p != nil {
			plans = append(plans, p)
		}
	}
	for _, working := range []bool{true, false} {
		for i := range a.Plans {
			p := &a.Plans[i]
			if len(plans) < 2 && p.Priced() && len(p.Routes) > 0 == working && !slices.Contains(plans, p) {
				plans = append(plans, p)
			}
		}
	}
	return plans
}

// labelWidth is the room for what a line is about and its unit; widestColumn
// keeps a plan's figures near their labels.
const (
	labelWidth   = 27
	widestColumn = 32
)

// lay sets the page out.
func (v abreast) lay(l look, a *econ.Appraisal, chosen []string, width, height int) abreast {
	plans := shownAbreast(a, chosen)
	v.top = nil
	if len(plans) < 2 {
		v.roll = v.roll.size(width, height).fill([]line{text(plain, "There are not two plans that can be priced.").at("none", nil)})
		return v
	}
	if len(chosen) < 2 {
		v.top = append(v.top, text(muted, "Fewer than two plans are chosen (space, in the standings): these are the best."))
	}
	column := min((width-cursorWidth-labelWidth)/len(plans), widestColumn)
	v.top = append(v.top, l.columnHeads(plans, column, max(3, height/5))...)
	v.top = append(v.top, text(muted, "  against A: = the same  + more  - less      * best of its line"))
	v.roll = v.roll.size(width, height-len(v.top))
	var lines []line
	for _, s := range sections(a, plans) {
		lines = append(lines, v.sectionLines(l, s, column)...)
	}
	if len(lines) == 0 {
		lines = []line{text(plain, "Nothing differs.").at("none", nil)}
	}
	v.roll = v.roll.fill(lines)
	return v
}

// columnHeads names the plans, each in its column, on at most so many lines.
func (l look) columnHeads(plans []*econ.PricedPlan, column, most int) []line {
	names := make([][]string, len(plans))
	tallest := 0
	for i, p := range plans {
		for _, part := range strings.Split(l.plainSigns(strings.ReplaceAll(p.ID, "+", "\n+ ")), "\n") {
			names[i] = append(names[i], strings.Split(ansi.Wrap(part, max(1, column-4), "-"), "\n")...)
		}
		if len(names[i]) > most {
			names[i] = append(names[i][:most-1:most-1], ansi.Truncate(names[i][most-1], column-5, "")+l.signs.more)
		}
		tallest = max(tallest, len(names[i]))
	}
	lines := make([]line, tallest)
	for row := range lines {
		lines[row] = text(plain, strings.Repeat(" ", cursorWidth+labelWidth))
		for i := range plans {
			mark, name := " ", ""
			if row == 0 {
				mark = letters[i : i+1]
			}
			if row < len(names[i]) {
				name = names[i][row]
			}
			lines[row] = lines[row].with(accent, " "+mark+" ").with(strong, pad(name, column-3, false))
		}
	}
	return lines
}

func (v abreast) sectionLines(l look, s section, column int) []line {
	var lines []line
	for i := range s.rows {
		c := &s.rows[i]
		if c.empty() || v.onlyDifferences && !c.differs() {
			continue
		}
		lines = append(lines, c.line(column).at(s.title+c.label, nil))
	}
	if len(lines) == 0 {
		return nil
	}
	return append(l.head(s.title), lines...)
}

// line sets a comparison out, each value in its column with its signs.
func (c *comparison) line(column int) line {
	room := labelWidth - ansi.StringWidth(c.unit) - 1
	label := ansi.Truncate(c.label, room, "")
	row := text(plain, pad(label, room, false)).with(muted, " "+c.unit)
	for i, t := range c.texts {
		tone, sign, best := plain, " ", " "
		if t == "" {
			t = "none"
		}
		if i > 0 {
			tone, sign = c.against(i)
		}
		if c.best(i) {
			best = "*"
		}
		row = row.with(tone, pad(t, column-4, true)+" "+sign).with(strong, best).with(plain, " ")
	}
	return row
}

// against says how a plan's figure stands to that of the first.
func (c *comparison) against(i int) (tone, string) {
	switch {
	case c.texts[i] == c.texts[0]:
		return plain, "="
	case c.texts[i] == "" || c.texts[0] == "":
		return plain, " "
	case c.values[i] > c.values[0]:
		return c.tone(1), "+"
	}
	return c.tone(-1), "-"
}

func (c *comparison) tone(direction int8) tone {
	switch c.better * direction {
	case 1:
		return gain
	case -1:
		return loss
	}
	return plain
}

// builder collects comparisons of the same plans.
type builder struct {
	plans []*econ.PricedPlan
	rows  []comparison
}

// add makes a line of one figure of every plan; present says whether a plan has
// such a thing.
func (b *builder) add(label, unit string, better int8, format func(float64) string, value func(*econ.PricedPlan) (float64, bool)) {
	c := comparison{label: label, unit: unit, better: better}
	for _, p := range b.plans {
		v, present := value(p)
		text := ""
		if present && !math.IsNaN(v) {
			text = format(v)
		}
		c.values, c.texts = append(c.values, v), append(c.texts, text)
	}
	b.rows = append(b.rows, c)
}

// money adds an amount of money.
func (b *builder) money(label, unit string, better int8, value func(*econ.PricedPlan) econ.Money) {
	b.add(label, unit, better, func(v float64) string { return money(econ.Money(v)) },
		func(p *econ.PricedPlan) (float64, bool) { return float64(value(p)), true })
}

// figure adds a figure that every plan has.
func (b *builder) figure(label, unit string, better int8, value func(*econ.PricedPlan) float64) {
	b.add(label, unit, better, func(v float64) string { return significant(v, 3) },
		func(p *econ.PricedPlan) (float64, bool) { return value(p), true })
}

// take ends a section and begins the next.
func (b *builder) take(title string) section {
	s := section{title, b.rows}
	b.rows = nil
	return s
}

// sections are all comparisons of some plans.
func sections(a *econ.Appraisal, plans []*econ.PricedPlan) []section {
	b := &builder{plans: plans}
	return []section{moneySection(b, a.Currency), metalSection(b), reagentSection(b), effortSection(b), airSection(b), wasteSection(b)}
}

func moneySection(b *builder, unit string) section {
	b.money("net", unit, 1, func(p *econ.PricedPlan) econ.Money { return p.Net })
	b.money("gain", unit, 1, func(p *econ.PricedPlan) econ.Money { return p.Gain })
	b.money("net without own labour", unit, 1, func(p *econ.PricedPlan) econ.Money { return p.NetWithoutLabour })
	b.add("per hands-on hour", unit, 1, func(v float64) string { return money(econ.Money(v)) }, func(p *econ.PricedPlan) (float64, bool) {
		if p.PerHour == nil {
			return 0, false
		}
		return float64(*p.PerHour), true
	})
	for _, category := range econ.Categories {
		better := int8(-1)
		if category == econ.Revenue {
			better = 1
		}
		b.money(string(category), unit, better, func(p *econ.PricedPlan) econ.Money { return byCategory(p, category) })
	}
	return b.take("Money")
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

func metalSection(b *builder) section {
	metals := union(b.plans, func(p *econ.PricedPlan) []string {
		return names(p.Metals, func(m econ.PlanMetal) string { return m.Metal })
	})
	for _, metal := range metals {
		of := func(p *econ.PricedPlan) (econ.PlanMetal, bool) {
			return find(p.Metals, func(m econ.PlanMetal) bool { return m.Metal == metal })
		}
		format := func(v float64) string { return significant(v, 3) }
		b.add(metal+" recovered", "g", 1, format, func(p *econ.PricedPlan) (float64, bool) { m, ok := of(p); return m.Recovered.Grams(), ok })
		b.add(metal+" payable", "g", 1, format, func(p *econ.PricedPlan) (float64, bool) { m, ok := of(p); return m.Payable.Grams(), ok })
	}
	return b.take("Metal")
}

func reagentSection(b *builder) section {
	for _, name := range union(b.plans, func(p *econ.PricedPlan) []string {
		return names(p.Reagents, func(r econ.PlanReagent) string { return r.Name })
	}) {
		b.add(name, "g", -1, func(v float64) string { return significant(v, 3) }, func(p *econ.PricedPlan) (float64, bool) {
			r, ok := find(p.Reagents, func(r econ.PlanReagent) bool { return r.Name == name })
			return r.Mass.Grams(), ok
		})
	}
	return b.take("Reagents")
}

func effortSection(b *builder) section {
	b.figure("energy", "kWh", -1, func(p *econ.PricedPlan) float64 { return p.EnergyKWh })
	b.figure("hands-on time", "h", -1, func(p *econ.PricedPlan) float64 { return p.HandsOnH })
	b.figure("from start to end", "h", -1, func(p *econ.PricedPlan) float64 { return p.ElapsedH })
	b.figure("vessel at the fullest", "L", -1, func(p *econ.PricedPlan) float64 { return p.LargestVolume.Litres() })
	return b.take("Energy, time, vessel")
}

func airSection(b *builder) section {
	for _, gas := range union(b.plans, func(p *econ.PricedPlan) []string {
		return names(p.Gases, func(g econ.PlanGas) string { return g.Gas })
	}) {
		b.add(gas, "g", -1, func(v float64) string { return significant(v, 3) }, func(p *econ.PricedPlan) (float64, bool) {
			g, ok := find(p.Gases, func(g econ.PlanGas) bool { return g.Gas == gas })
			return g.Mass.Grams(), ok
		})
	}
	b.figure("fresh air", "m3", -1, func(p *econ.PricedPlan) float64 { return p.FreshAirM3 })
	return b.take("Air")
}

func wasteSection(b *builder) section {
	for _, class := range union(b.plans, func(p *econ.PricedPlan) []string {
		return names(p.Waste, func(w econ.PlanWaste) string { return w.Class })
	}) {
		of := func(p *econ.PricedPlan) (econ.PlanWaste, bool) {
			return find(p.Waste, func(w econ.PlanWaste) bool { return w.Class == class })
		}
		b.add(class, "kg", -1, func(v float64) string { return significant(v, 3) }, func(p *econ.PricedPlan) (float64, bool) {
			w, ok := of(p)
			return w.Mass.Kilograms(), ok
		})
	}
	b.add("cautions", "", -1, counted, func(p *econ.PricedPlan) (float64, bool) { return float64(len(p.Cautions)), true })
	return b.take("Waste and cautions")
}

// union lists what any of the plans names, in the order it is first named.
func union(plans []*econ.PricedPlan, of func(*econ.PricedPlan) []string) []string {
	var list []string
	seen := map[string]bool{}
	for _, p := range plans {
		for _, name := range of(p) {
			if !seen[name] {
				seen[name] = true
				list = append(list, name)
			}
		}
	}
	return list
}

func names[T any](list []T, name func(T) string) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = name(v)
	}
	return out
}

func find[T any](list []T, match func(T) bool) (T, bool) {
	for _, v := range list {
		if match(v) {
			return v, true
		}
	}
	var nothing T
	return nothing, false
}

// abreastKey is a key on the page.
func (m model) abreastKey(k keyMap, msg tea.KeyMsg) model {
	if key.Matches(msg, k.OnlyDifferences) {
		m.abreast.onlyDifferences = !m.abreast.onlyDifferences
		if m.abreast.onlyDifferences {
			m.notice = notice{plain, fmt.Sprintf("Only what differs is shown; %s shows all.", k.OnlyDifferences.Help().Key)}
		}
	}
	return m
}
