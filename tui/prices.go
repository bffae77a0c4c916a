package tui

import (
	"fmt"
	"strings"
	"time"

	"afterpour/econ"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
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
	used := usedPrices(w.now)
	currency := currencyOf(w.now)
	saved := map[string]econ.Row{}
	for _, r := range w.saved {
		saved[r.Path] = r
	}
	t := table{sides: []side{left, left, left, left, left}, titles: []string{"  price", "as typed", "in", "of", ""}}
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
		t.add(v.priceCells(l, r, currency, changed, before, width >= wordsFrom)...)
	}
	head, rows := t.lay()
	v.top = []line{text(plain, strings.Repeat(" ", cursorWidth)).join(head)}
	v.roll = v.roll.size(width, height-len(v.top)-footHeight)
	var lines []line
	for i, row := range rows {
		if i == 0 || groups[i] != groups[i-1] {
			heading := text(strong, groups[i])
			heading.part = true
			lines = append(lines, heading)
		}
		lines = append(lines, row.at(shown[i].Path, &claim{label: shown[i].Name, value: shown[i].Text, inputID: shown[i].ID}))
	}
	if len(lines) == 0 {
		lines = []line{text(plain, "The price book holds no such price.").at("none", nil)}
	}
	v.roll = v.roll.fill(lines)
	v.foot = v.footLines(l, w, width)
	return v
}

// usedPrices are the prices that some plan was priced with.
func usedPrices(a *econ.Appraisal) map[string]bool {
	used := map[string]bool{}
	if a != nil {
		for _, id := range a.PricesUsed() {
			used[id] = true
		}
	}
	return used
}

// wordsFrom is the width from which the signs of a price are also said in words.
const wordsFrom = 100

// nameWidth bounds the names of prices, so that day and price stay in sight on
// a narrow screen.
const nameWidth = 28

// priceCells are the columns of one price. The sign before the name is what a
// narrow screen has room for; a wide one says the same in words at the end.
func (v prices) priceCells(l look, r econ.Row, currency string, changed bool, before econ.Row, words bool) []cell {
	value := cell{plain, r.Text}
	if v.field != nil && v.field.row.Path == r.Path {
		value = cell{accent, l.fieldLine(v.field.input, fieldWidth).String()}
	}
	name, note := cell{strong, "  " + ansi.Truncate(r.Name, nameWidth, l.signs.more)}, cell{}
	switch {
	case changed:
		name.text, note = "* "+name.text[2:], cell{accent, wasText(r, before)}
	case r.Stale:
		name.text, note = "! "+name.text[2:], cell{warn, staleText(r)}
	}
	if !words {
		note = cell{}
	}
	return []cell{name, value, {muted, r.Unit(currency)}, {muted, day(r.Date)}, note}
}

func staleText(r econ.Row) string { return fmt.Sprintf("stale: %d days old", r.AgeDays) }

// wasText says what an edited price was in the file.
func wasText(r, before econ.Row) string {
	switch {
	case before.Path == "":
		return "new"
	case before.Text != r.Text:
		return "was " + before.Text
	}
	return "was of " + day(before.Date)
}

func currencyOf(a *econ.Appraisal) string {
	if a == nil {
		return "money"
	}
	return a.Currency
}

// footHeight is the number of rows below the list.
const footHeight = 5

// footLines show what is typed and what the edits do to the verdict.
func (v prices) footLines(l look, w pricesView, width int) []line {
	lines := []line{text(muted, strings.Repeat(l.signs.rule, width))}
	switch f := v.field; {
	case f != nil && f.problem != "":
		lines = append(lines, l.paragraph(warn, "! ", f.problem, width)...)
		return append(lines, make([]line, footHeight)...)[:footHeight]
	case f != nil:
		lines = append(lines, f.status(l, currencyOf(w.now)))
	default:
		lines = append(lines, v.hereLine(w))
	}
	return append(lines, l.effectLines(w, width)...)
}

// hereLine says of the price in the row of the cursor what its columns have no
// room for.
func (v prices) hereLine(w pricesView) line {
	path := v.roll.current().key
	for _, r := range w.rows {
		if r.Path != path {
			continue
		}
		row := text(muted, r.Path)
		for _, before := range w.saved {
			if before.Path == path && (before.Text != r.Text || !before.Date.Equal(r.Date)) {
				row = row.with(accent, "  * "+wasText(r, before)+", not saved")
			}
		}
		if r.Stale {
			row = row.with(warn, "  ! "+staleText(r))
		}
		return row
	}
	return text(muted, "* not saved  ! stale")
}

// effectLines compare the verdict at the prices of the file with that at the
// prices as they now are.
func (l look) effectLines(w pricesView, width int) []line {
	switch {
	case w.working || w.was == nil || w.now == nil:
		return []line{text(muted, "Working out what this does to the verdict"+l.signs.more), text(plain, ""), text(plain, "")}
	case w.was == w.now:
		return []line{text(muted, "verdict  ").with(strong, advice(w.now)), text(plain, ""), text(plain, "")}
	}
	return []line{
		text(muted, "saved    ").with(plain, advice(w.was)),
		text(muted, "now      ").with(strong, advice(w.now)),
		l.orderLine(w),
	}
}

// orderLine says how the plans moved.
func (l look) orderLine(w pricesView) line {
	places := map[string]int{}
	for i, id := range pricedIDs(w.was) {
		places[id] = i + 1
	}
	ids := pricedIDs(w.now)
	row := text(muted, "order    ")
	if len(ids) == 0 {
		return row.with(warn, "no plan can be priced")
	}
	moved := 0
	for i, id := range ids {
		if places[id] != i+1 {
			moved++
		}
	}
	if moved == 0 {
		row = row.with(plain, "unchanged")
	} else {
		row = row.with(accent, "changed, "+plural(moved, "plan", "plans")+" moved")
	}
	best := planByID(w.now, ids[0])
	before := planByID(w.was, ids[0])
	if places[ids[0]] == 0 {
		return row.with(accent, "; first: net "+money(best.Net)+", was blocked")
	}
	row = row.with(plain, fmt.Sprintf("; first: net %s %s %s", money(before.Net), l.signs.arrow, money(best.Net)))
	if places[ids[0]] != 1 {
		row = row.with(accent, fmt.Sprintf(", was place %d", places[ids[0]]))
	}
	return row
}

// pricedIDs are the plans that can be priced, in their order.
func pricedIDs(a *econ.Appraisal) []string {
	var ids []string
	for i := range a.Plans {
		if a.Plans[i].Priced() {
			ids = append(ids, a.Plans[i].ID)
		}
	}
	return ids
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
