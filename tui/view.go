package tui

import (
	"fmt"
	"path/filepath"
	"strings"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/x/ansi"
)

// The smallest screen on which everything can be reached.
const (
	leastWidth  = 60
	leastHeight = 16
)

// frame is the number of rows round the page: title, screens, rule above;
// rule, message and keys below.
const frame = 6

func (m model) fits() bool { return m.width >= leastWidth && m.height >= leastHeight }

// bodyHeight is the number of rows of the page.
func (m model) bodyHeight() int { return max(1, m.height-frame) }

// layTop sets what lies on top of a page out anew after the size changed.
func (m model) layTop() model {
	for _, r := range []**roll{&m.asked, &m.help} {
		if *r != nil && ((*r).width != m.width || (*r).height != m.bodyHeight()) {
			sized := (*r).size(m.width, m.bodyHeight())
			*r = &sized
		}
	}
	return m
}

// View draws the state and nothing else.
func (m model) View() string {
	if m.width == 0 {
		return ""
	}
	if !m.fits() {
		return m.tooSmall()
	}
	rows := []string{m.titleRow(), m.screensRow(), m.ruleRow("")}
	body := m.body()
	for i := range m.bodyHeight() {
		if i < len(body) {
			rows = append(rows, body[i])
		} else {
			rows = append(rows, "")
		}
	}
	rows = append(rows, m.ruleRow(m.place()), m.messageRow(), m.keysRow())
	return strings.Join(rows, "\n")
}

// tooSmall says what is missing, and leaves the keys that lead out.
func (m model) tooSmall() string {
	l := m.look
	rows := []string{
		l.draw(text(strong, "Too small."), m.width, false),
		l.draw(text(plain, fmt.Sprintf("This is %d x %d,", m.width, m.height)), m.width, false),
		l.draw(text(plain, fmt.Sprintf("needed are %d x %d.", leastWidth, leastHeight)), m.width, false),
		l.draw(text(muted, "q quits"), m.width, false),
	}
	if m.question != nil {
		rows = append(rows[:0], l.draw(text(strong, m.question.title), m.width, false))
		for _, c := range m.question.choices {
			rows = append(rows, l.draw(text(accent, c.key.Help().Key+" ").with(plain, c.key.Help().Desc), m.width, false))
		}
	}
	return strings.Join(rows[:min(len(rows), m.height)], "\n")
}

// body is the page, or what lies on top of it.
func (m model) body() []string {
	switch {
	case m.question != nil:
		return m.drawn(m.question.lines(m.look, m.width-2*cursorWidth), cursorWidth)
	case m.cover != nil:
		return m.cover.view(m)
	case m.help != nil:
		return m.help.view(m.look)
	case m.appraisal() == nil:
		return m.drawn(m.waiting(), cursorWidth)
	case m.asked != nil:
		return m.asked.view(m.look)
	}
	switch m.screen {
	case standingsScreen:
		return append(m.drawn(m.standings.top, 0), m.standings.roll.view(m.look)...)
	case abreastScreen:
		return append(m.drawn(m.abreast.top, 0), m.abreast.roll.view(m.look)...)
	case planScreen:
		return append(m.drawn(m.plan.top, 0), m.plan.roll.view(m.look)...)
	case curvesScreen:
		return append(m.drawn(m.curves.top, 0), m.curves.roll.view(m.look)...)
	case whatIfScreen:
		return append(m.drawn(m.whatIf.top, 0), m.whatIf.roll.view(m.look)...)
	case pricesScreen:
		return append(append(m.drawn(m.prices.top, 0), m.prices.roll.view(m.look)...), m.drawn(m.prices.foot, 0)...)
	}
	return append(m.residue.view(m.look), m.drawn(m.residue.foot, 0)...)
}

// waiting is the page before the first figures are there.
func (m model) waiting() []line {
	if err := m.studies[asEdited].err; err != nil {
		return m.look.paragraph(warn, "! ", "This lot could not be worked out: "+err.Error(), m.width-2*cursorWidth)
	}
	return []line{text(plain, ""), text(muted, "Working the plans out"+m.look.signs.more)}
}

func (m model) drawn(lines []line, indent int) []string {
	rows := make([]string, len(lines))
	for i, row := range lines {
		rows[i] = strings.TrimRight(strings.Repeat(" ", indent)+m.look.draw(row, m.width-indent, false), " ")
	}
	return rows
}

// titleRow names the lot on the left and the price book on the right.
func (m model) titleRow() string {
	right := m.bookState()
	size := min(ansi.StringWidth(right.String()), m.width*2/3)
	title := m.residueFile.name
	if a := m.appraisal(); a != nil {
		title = a.Lot
	}
	if m.cover != nil {
		title = m.cover.title()
	}
	left := m.look.draw(text(strong, title), m.width-size-2, false)
	gap := strings.Repeat(" ", max(1, m.width-ansi.StringWidth(left)-size))
	return left + gap + m.look.draw(right, size, false)
}

// bookState says which prices are used and whether they are saved.
func (m model) bookState() line {
	row := text(muted, m.bookName())
	switch {
	case m.changed.book || m.changed.lot:
		what := "the file"
		if m.changed.lot && !m.changed.book {
			what = "the lot"
		}
		row = row.with(warn, " ! "+what+" changed on disk")
	case m.saving:
		row = row.with(muted, " saving"+m.look.signs.more)
	}
	if n := len(m.log.unsaved) + len(m.lotLog.unsaved); m.dirty() {
		row = row.with(accent, fmt.Sprintf(" * %d not saved", n))
	}
	return row
}

// bookName is the name of the price book without its folder.
func (m model) bookName() string {
	if m.book.onDisk() {
		return filepath.Base(m.book.path)
	}
	return m.book.name
}

// screensRow names the screens by their digits; brackets mark the open one.
func (m model) screensRow() string {
	if m.cover != nil {
		return ""
	}
	var row line
	narrow := m.width < allScreensWidth()
	for i, name := range screenNames {
		label := fmt.Sprintf(" %d %s ", i+1, name)
		if narrow && screen(i) != m.screen {
			label = fmt.Sprintf(" %d ", i+1)
		}
		if screen(i) == m.screen {
			row = row.with(accent, "["+strings.TrimSpace(label)+"]")
			continue
		}
		row = row.with(muted, label)
	}
	if a := m.appraisal(); a != nil && m.width >= 80 {
		dated := "  " + a.Currency
		if !a.PricesAsOf.IsZero() {
			dated += ", oldest price " + day(a.PricesAsOf)
		}
		if gap := m.width - ansi.StringWidth(row.String()) - ansi.StringWidth(dated); gap > 0 {
			row = row.with(muted, strings.Repeat(" ", gap)+dated)
		}
	}
	return m.look.draw(row, m.width, false)
}

// allScreensWidth is the width from which all screens are named; below it those
// not open stand by their digits alone.
func allScreensWidth() int {
	size := 0
	for _, name := range screenNames {
		size += ansi.StringWidth(name) + len(" 1  ")
	}
	return size
}

// ruleRow is a rule with a word at its right end.
func (m model) ruleRow(word string) string {
	if word != "" {
		word = " " + word + " "
	}
	size := max(0, m.width-ansi.StringWidth(word)-2)
	tail := strings.Repeat(m.look.signs.rule, m.width-size-ansi.StringWidth(word))
	return m.look.draw(text(muted, strings.Repeat(m.look.signs.rule, size)+word+tail), m.width, false)
}

// place says which part of the page is shown.
func (m model) place() string {
	switch {
	case m.question != nil:
		return ""
	case m.cover != nil:
		return m.cover.place()
	case m.appraisal() == nil:
		return ""
	case m.help != nil:
		return m.help.place()
	case m.asked != nil:
		return m.asked.place()
	}
	return m.roll().place()
}

// messageRow is the last message; without one, the verdict, which so stays in
// sight on every screen.
func (m model) messageRow() string {
	row := text(m.notice.tone, m.notice.text)
	a := m.appraisal()
	switch {
	case m.notice.text != "" || a == nil || m.question != nil || m.cover != nil:
	case m.studies[asEdited].pending:
		row = text(muted, "Working the plans out"+m.look.signs.more)
	case m.screen == standingsScreen:
		row = m.standingsMessage(a)
	case m.screen == pricesScreen:
	default:
		row = text(muted, "verdict  ").with(muted, advice(a))
	}
	return m.look.draw(row, m.width, false)
}

// keysRow shows the keys most wanted here.
func (m model) keysRow() string {
	var keys []key.Binding
	k := m.active()
	switch {
	case m.question != nil:
		for _, c := range m.question.choices {
			keys = append(keys, c.key)
		}
	case m.cover != nil:
		keys = m.cover.keys(m)
	case m.prices.field != nil || m.residue.field != nil || m.whatIf.field != nil:
		keys = []key.Binding{k.Accept, k.Cancel, k.Interrupt}
	case m.help != nil || m.asked != nil:
		keys = []key.Binding{k.PageDown, k.NextPart, m.keys.Back}
	default:
		keys = k.footer(m.screen)
	}
	return m.look.draw(keyLine(keys, m.width), m.width, false)
}

// keyLine sets keys out in a row, as many as fit; the last two, which lead out,
// always do.
func keyLine(keys []key.Binding, width int) line {
	var labels []key.Help
	for _, b := range keys {
		if b.Enabled() {
			labels = append(labels, b.Help())
		}
	}
	size := func(h key.Help) int { return ansi.StringWidth(h.Key+h.Desc) + 3 }
	out := max(0, len(labels)-2)
	room := width
	for _, h := range labels[out:] {
		room -= size(h)
	}
	shown := 0
	for shown < out && room >= size(labels[shown]) {
		room -= size(labels[shown])
		shown++
	}
	var row line
	for _, h := range append(labels[:shown:shown], labels[out:]...) {
		row = row.with(accent, h.Key).with(muted, " "+h.Desc).with(plain, "  ")
	}
	return row
}
