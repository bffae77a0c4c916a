package tui

import (
	"fmt"
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
