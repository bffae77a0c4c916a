package tui

import (
	"fmt"
	"maps"
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
	folded          map[string]bool // groups of which only the first row is shown; never changed, but replaced
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
	for _, g := range groupsAbreast(a.Currency, plans) {
		lines = append(lines, v.groupLines(l, g, plans, column)...)
	}
	if len(lines) == 0 {
		lines = []line{text(plain, "Nothing differs.").at("none", nil)}
	}
	v.roll = v.roll.fill(lines)
	return v
}

// groupsAbreast are the lines to compare, those of money first: they decide.
func groupsAbreast(currency string, plans []*econ.PricedPlan) []econ.AbreastGroup {
	groups := econ.Abreast(currency, plans)
	isMoney := func(g econ.AbreastGroup) bool { return len(g.Rows) > 0 && g.Rows[0].Money && g.Rows[0].Label == "net" }
	if i := slices.IndexFunc(groups, isMoney); i > 0 {
		first := groups[i]
		groups = slices.Insert(slices.Delete(groups, i, i+1), 0, first)
	}
	return groups
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

// groupLines are the rows of a group; of a folded one the first, which speaks
// for the rest.
func (v abreast) groupLines(l look, g econ.AbreastGroup, plans []*econ.PricedPlan, column int) []line {
	var lines []line
	for i := range g.Rows {
		r := &g.Rows[i]
		if i > 0 && v.folded[g.Title] || v.onlyDifferences && !r.Differs() {
			continue
		}
		lines = append(lines, comparison(r, column).at(g.Title+"\n"+r.Label, asking(asksAbreast(g.Title, r, plans)...)))
	}
	if len(lines) == 0 {
		return nil
	}
	title := g.Title
	if n := len(g.Rows) - 1; v.folded[title] && n > 0 {
		title += fmt.Sprintf(" (%s folded)", plural(n, "line", "lines"))
	}
	return append(l.head(title), lines...)
}

// differenceFrom is the width of a column from which the difference to plan A
// is also said in figures.
const differenceFrom = 24

// comparison sets a row out: each value in its column, how it stands to that of
// plan A, and a star on the best.
func comparison(r *econ.AbreastRow, column int) line {
	room := labelWidth - ansi.StringWidth(r.Unit) - 1
	row := text(plain, pad(ansi.Truncate(r.Label, room, ""), room, false)).with(muted, " "+r.Unit)
	for i := range r.Values {
		value := "none"
		if r.Present[i] {
			value = figureText(r, r.Values[i])
		}
		sign, tone, best := " ", plain, " "
		if i > 0 && r.Compared[i] {
			sign, tone = against(r, i)
		}
		if r.Best[i] {
			best = "*"
		}
		if column >= differenceFrom {
			difference := sign
			if sign == "+" || sign == "-" {
				difference = sign + strings.TrimPrefix(figureText(r, r.Differences[i]), "-")
			}
			row = row.with(plain, pad(value, column-14, true)).with(tone, pad(difference, 11, true)).with(strong, " "+best).with(plain, " ")
			continue
		}
		row = row.with(tone, pad(value, column-4, true)+" "+sign).with(strong, best).with(plain, " ")
	}
	return row
}

// figureText writes a figure of a row: money as money, a count as one counts.
func figureText(r *econ.AbreastRow, v float64) string {
	switch {
	case r.Money:
		return money(econ.Money(v))
	case r.Unit == "":
		return counted(v)
	}
	return significant(v, 3)
}

// against says how a plan's figure stands to that of plan A.
func against(r *econ.AbreastRow, i int) (string, tone) {
	d := r.Differences[i]
	switch {
	case figureText(r, r.Values[i]) == figureText(r, r.Values[0]):
		return "=", plain
	case d*float64(r.Better) > 0:
		return signOf(d), gain
	case d*float64(r.Better) < 0:
		return signOf(d), loss
	}
	return signOf(d), plain
}

func signOf(d float64) string {
	if d < 0 {
		return "-"
	}
	return "+"
}

// abreastKey is a key on the page.
func (m model) abreastKey(k keyMap, msg tea.KeyMsg) model {
	switch {
	case key.Matches(msg, k.OnlyDifferences):
		m.abreast.onlyDifferences = !m.abreast.onlyDifferences
		if m.abreast.onlyDifferences {
			m.notice = notice{plain, fmt.Sprintf("Only what differs is shown; %s shows all.", k.OnlyDifferences.Help().Key)}
		}
	case key.Matches(msg, k.Fold):
		title, _, _ := strings.Cut(m.abreast.roll.current().key, "\n")
		folded := maps.Clone(m.abreast.folded)
		if folded == nil {
			folded = map[string]bool{}
		}
		folded[title] = !folded[title]
		m.abreast.folded = folded
		m.abreast.roll = m.abreast.roll.upTo(title + "\n")
	}
	return m
}
