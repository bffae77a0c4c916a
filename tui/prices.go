package tui

import (
	"fmt"
	"strings"
	"time"

	"afterpour/econ"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// prices is the price book, edited in place.
type prices struct {
	roll     roll
	top      []line
	foot     []line // what is being typed, and what it does to the verdict
	field    *priceField
	onlyUsed bool
}

// pricesView is what the page shows besides its own state.
type pricesView struct {
	rows, saved []econ.Row // of the working copy, and of the file
	was, now    *econ.Appraisal
	working     bool // a run is under way
}

// pricesView gathers it from the runs: what counts as "now" is what is being
// typed, if it can be read.
func (m model) pricesView() pricesView {
	v := pricesView{
		rows: m.studies[asEdited].rows, saved: m.studies[asSaved].rows,
		was: m.studies[asSaved].appraisal, now: m.studies[asEdited].appraisal,
		working: m.studies[asEdited].pending || m.studies[asSaved].pending,
	}
	if m.prices.field != nil && m.prices.field.candidate {
		v.working = m.studies[asTyped].pending
		if !v.working {
			v.now = m.studies[asTyped].appraisal
		}
	}
	return v
}

// lay sets the page out.
func (v prices) lay(l look, w pricesView, width, height int) prices {
	v.foot = v.footLines(l, w, width)
	used := usedPrices(w.now)
	saved := map[string]econ.Row{}
	for _, r := range w.saved {
		saved[r.Path] = r
	}
	t := table{sides: []side{left, left, left, left, left}, titles: []string{"price", "as typed", "in", "of", ""}}
	var groups []string
	var shown []econ.Row
	for _, r := range w.rows {
		before, known := saved[r.Path]
		changed := known && (before.Text != r.Text || !before.Date.Equal(r.Date)) || len(w.saved) > 0 && !known
		editing := v.field != nil && v.field.row.Path == r.Path
		if v.onlyUsed && !used[r.ID] && !changed && !editing {
			continue
		}
		shown, groups = append(shown, r), append(groups, r.Group)
		t.add(v.priceCells(l, r, w.now, changed, before)...)
	}
	head, rows := t.lay()
	v.top = []line{text(plain, strings.Repeat(" ", cursorWidth)).join(head)}
	v.roll = v.roll.size(width, height-len(v.top)-len(v.foot))
	var lines []line
	for i, row := range rows {
		if i == 0 || groups[i] != groups[i-1] {
			heading := text(strong, groups[i])
			heading.part = true
			lines = append(lines, heading)
		}
		lines = append(lines, row.at(shown[i].Path, &claim{label: shown[i].Name, value: shown[i].Text, priceID: shown[i].ID}))
	}
	if len(lines) == 0 {
		lines = []line{text(plain, "The price book holds no such price.").at("none", nil)}
	}
	v.roll = v.roll.fill(lines)
	return v
}

// usedPrices are the prices that some plan was priced with.
func usedPrices(a *econ.Appraisal) map[string]bool {
	used := map[string]bool{}
	if a == nil {
		return used
	}
	for i := range a.Plans {
		for j := range a.Plans[i].Lines {
			used[a.Plans[i].Lines[j].PriceID] = true
		}
	}
	for i := range a.Metals {
		used[a.Metals[i].PriceID] = true
	}
	return used
}

// priceCells are the columns of one price.
func (v prices) priceCells(l look, r econ.Row, a *econ.Appraisal, changed bool, before econ.Row) []cell {
	value := cell{plain, r.Text}
	if v.field != nil && v.field.row.Path == r.Path {
		value = cell{accent, l.fieldLine(v.field.input, fieldWidth).String()}
	}
	currency := ""
	if a != nil {
		currency = a.Currency
	}
	mark, note := "  ", cell{}
	switch {
	case changed && before.Text != r.Text && before.Text != "":
		mark, note = "* ", cell{accent, "was " + before.Text}
	case changed:
		mark, note = "* ", cell{accent, "was of " + day(before.Date)}
	case r.Stale:
		note = cell{warn, fmt.Sprintf("! stale: %d days old", r.AgeDays)}
	}
	return []cell{{strong, mark + r.Name}, value, {muted, priceUnit(r, currency)}, {muted, day(r.Date)}, note}
}

// priceUnit is what a price is counted in.
func priceUnit(r econ.Row, currency string) string {
	if strings.Contains(r.Text, "%") && r.Per == "" {
		return "of the metal"
	}
	if r.Per == "" {
		return currency
	}
	return currency + " / " + r.Per
}

// footLines show what is typed and what the edits do to the verdict.
func (v prices) footLines(l look, w pricesView, width int) []line {
	lines := []line{text(muted, strings.Repeat(l.signs.rule, width))}
	if f := v.field; f != nil {
		lines = append(lines, f.status(l, width))
	}
	return append(lines, l.effectLines(w, width)...)
}

// effectLines compare the verdict at the prices of the file with that at the
// prices as they now are.
func (l look) effectLines(w pricesView, width int) []line {
	switch {
	case w.working || w.was == nil || w.now == nil:
		return []line{text(muted, "Working out what this does to the verdict"+l.signs.more), text(plain, ""), text(plain, "")}
	case w.was == w.now:
		return []line{text(muted, "verdict  ").with(strong, headline(w.now)), text(plain, ""), text(plain, "")}
	}
	lines := []line{
		text(muted, "verdict as saved  ").with(plain, headline(w.was)),
		text(muted, "verdict now       ").with(strong, headline(w.now)),
	}
	return append(lines, l.orderLine(w))
}

// orderLine says how the first plans moved.
func (l look) orderLine(w pricesView) line {
	places := map[string]int{}
	for i := range w.was.Plans {
		places[w.was.Plans[i].ID] = i + 1
	}
	moved := 0
	for i := range w.now.Plans {
		if places[w.now.Plans[i].ID] != i+1 {
			moved++
		}
	}
	if len(w.now.Plans) == 0 || !w.now.Plans[0].Priced() {
		return text(muted, "order             no plan can be priced")
	}
	best := &w.now.Plans[0]
	row := text(muted, "order             ")
	if moved == 0 {
		row = row.with(plain, "unchanged")
	} else {
		row = row.with(accent, fmt.Sprintf("changed, %s moved", plural(moved, "plan", "plans")))
	}
	if before := planByID(w.was, best.ID); before != nil && before.Priced() {
		row = row.with(plain, fmt.Sprintf("; first: net %s %s %s", money(before.Net), l.signs.arrow, money(best.Net)))
		if places[best.ID] != 1 {
			row = row.with(accent, fmt.Sprintf(", was place %d", places[best.ID]))
		}
	}
	return row
}

// priceHere is the price in the row of the cursor; nil on another screen.
func (m model) priceHere() *econ.Row {
	if m.screen != pricesScreen {
		return nil
	}
	path := m.prices.roll.current().key
	for i := range m.studies[asEdited].rows {
		if m.studies[asEdited].rows[i].Path == path {
			return &m.studies[asEdited].rows[i]
		}
	}
	return nil
}

// pricesKey is a key on the page while nothing is typed.
func (m model) pricesKey(k keyMap, msg tea.KeyMsg) (model, tea.Cmd) {
	switch {
	case key.Matches(msg, k.Edit):
		m.prices.field = newPriceField(*m.priceHere())
		m.studies[asTyped] = study{run: m.studies[asTyped].run}
	case key.Matches(msg, k.Renew):
		r := m.priceHere()
		today := m.world.today().Format(time.DateOnly)
		if day(r.Date) == today {
			m.notice = notice{plain, "This price is of today already."}
			return m, nil
		}
		m, cmd := m.change(edit{datePath(r.Price), day(r.Date), today})
		if m.notice.text == "" {
			m.notice = notice{plain, fmt.Sprintf("%s: still %s, of %s", r.Name, r.Text, today)}
		}
		return m, cmd
	case key.Matches(msg, k.OnlyUsed):
		m.prices.onlyUsed = !m.prices.onlyUsed
	}
	return m, nil
}
