package tui

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"strings"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/store"
	"afterpour/chem/units"
	"afterpour/econ"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// outturn notes what really came out of a plan, question by question, each
// beside what was expected.
type outturn struct {
	plan     string
	run      int
	cancel   context.CancelFunc
	expected *econ.Expectation
	asks     []outturnAsk
	noted    map[string]string // by the ids of the questions
	at       int
	field    textinput.Model
	problem  string
	page     []line
}

// outturnAsk is one thing to note.
type outturnAsk struct{ id, ask, expected string }

// openOutturn has worked out what a plan should give, at the routes' own
// figures, and shows the page meanwhile. Outturns stand beside the lot's file.
func (m model) openOutturn(plan string) (model, tea.Cmd) {
	if !m.residueFile.onDisk() {
		m.notice = notice{warn, "An outturn is noted beside the lot's file: save the lot first."}
		return m, nil
	}
	ctx, cancel := context.WithCancel(m.ctx)
	m.sheetRun++
	m.cover = outturn{plan: plan, run: m.sheetRun, cancel: cancel, noted: map[string]string{}, field: newField("", answerLimit)}
	bare := opened{name: m.residueFile.name, data: m.lotLog.data()}
	return m, expect(ctx, m.world, m.ground, bare, opened{name: m.book.name, data: m.log.data()}, plan, m.sheetRun)
}

// expect works out what a plan should give without anything learned.
func expect(ctx context.Context, w surroundings, g ground, residue, book opened, plan string, run int) tea.Cmd {
	return func() tea.Msg {
		bare, err := decodeLot(g.library, nil, residue)
		if err != nil {
			return expectedMsg{run: run, err: err}
		}
		result, err := w.judge(ctx, w, bare, judged{}, book.name, book.data)
		if err != nil {
			return expectedMsg{run: run, err: err}
		}
		expected, err := econ.Expect(ctx, result.appraisal, plan)
		return expectedMsg{run: run, expected: expected, err: err}
	}
}

// outturnExpected takes the expectation in, if its page is still open.
func (m model) outturnExpected(msg expectedMsg) model {
	o, open := m.cover.(outturn)
	if !open || o.run != msg.run || errors.Is(msg.err, context.Canceled) {
		return m
	}
	if msg.err != nil {
		o.problem = strings.TrimPrefix(messageOf(msg.err), "econ: ")
		m.cover = o
		return m
	}
	o.expected, o.asks = msg.expected, asksOf(msg.expected)
	m.cover = o
	return m
}

// asksOf are the questions about a plan's outturn.
func asksOf(e *econ.Expectation) []outturnAsk {
	var asks []outturnAsk
	for _, p := range e.Products {
		name := words(p.Sale)
		asks = append(asks, outturnAsk{p.Sale, "How much " + name + " came out, dry?", units.Format(units.MassKind, float64(p.Mass))})
		if p.Fineness > 0 {
			asks = append(asks, outturnAsk{p.Sale + ".fineness", "How fine was the " + name + " found, in parts of a thousand?", significant(p.Fineness, 3)})
		}
	}
	return append(asks,
		outturnAsk{"hours", "How long did your hands work on it?", hours(e.HandsOnH) + " h"},
		outturnAsk{"elapsed", "How long was it from beginning to end?", hours(e.ElapsedH) + " h"},
		outturnAsk{"note", "Anything to remember?", ""})
}

// words is an id as it is read.
func words(id string) string { return strings.ReplaceAll(id, "-", " ") }

func (o outturn) title() string { return "Outturn: " + o.plan }

func (o outturn) place() string {
	if len(o.asks) == 0 {
		return ""
	}
	return fmt.Sprintf("question %d of %d", o.at+1, len(o.asks))
}

func (o outturn) keys(m model) []key.Binding {
	return []key.Binding{m.keys.Next, m.keys.Before, m.keys.Interrupt}
}

func (o outturn) press(m model, msg tea.KeyMsg) (model, tea.Cmd) {
	switch {
	case key.Matches(msg, m.keys.Before):
		if o.at == 0 || len(o.asks) == 0 {
			o.cancel()
			m.cover = nil
			return m, nil
		}
		m.cover = o.turnTo(o.at - 1)
		return m, nil
	case len(o.asks) == 0:
		return m, nil
	case key.Matches(msg, m.keys.Next):
		switch {
		case o.problem != "":
			return m, nil
		case o.at == len(o.asks)-1:
			return o.finish(m, false)
		}
		m.cover = o.turnTo(o.at + 1)
		return m, nil
	}
	field, cmd := o.field.Update(shortened(msg))
	o.field = field
	o.noted = maps.Clone(o.noted)
	o.noted[o.asks[o.at].id] = strings.TrimSpace(field.Value())
	m.cover = o.checked(m.world.today())
	return m, cmd
}

// turnTo opens a question.
func (o outturn) turnTo(at int) outturn {
	o.at, o.problem = at, ""
	o.field = newField(o.noted[o.asks[at].id], answerLimit)
	return o
}

// list is what was noted, as econ takes it.
func (o outturn) list() []string {
	var list []string
	for _, a := range o.asks {
		if text := o.noted[a.id]; text != "" {
			list = append(list, a.id+"="+text)
		}
	}
	return list
}

// checked looks at the open answer.
func (o outturn) checked(day time.Time) outturn {
	o.problem = ""
	_, err := o.expected.Outturn(day, o.list())
	var wrong *econ.NoteError
	if errors.As(err, &wrong) && wrong.What == o.asks[o.at].id {
		o.problem = noteText(wrong)
	}
	return o
}

// noteText is what is wrong with a note, without its id.
func noteText(e *econ.NoteError) string {
	if e.What == "nothing" {
		return "nothing is noted yet; esc leads back"
	}
	return strings.TrimPrefix(e.Message, "units: ")
}

// finish writes the entry, or opens the first answer that cannot be taken. More
// metal than the lot can hold is asked about first.
func (o outturn) finish(m model, confirmed bool) (model, tea.Cmd) {
	entry, err := o.expected.Outturn(m.world.today(), o.list())
	if err != nil {
		var wrong *econ.NoteError
		if errors.As(err, &wrong) {
			for i, a := range o.asks {
				if a.id == wrong.What {
					o = o.turnTo(i)
				}
			}
			o.problem = noteText(wrong)
		} else {
			o.problem = messageOf(err)
		}
		m.cover = o
		return m, nil
	}
	if doubts := entry.Questions(); len(doubts) > 0 && !confirmed {
		m.question = &dialog{
			title: "More than the lot can hold", texts: doubts,
			choices: []choice{
				{m.keys.Confirm, func(m model) (model, tea.Cmd) { return o.finish(m, true) }},
				{m.keys.Stay, stay},
			},
		}
		return m, nil
	}
	entry.Confirmed = confirmed
	m.cover = nil
	return m, noteOutturn(m.world.layer, m.residueFile.path, m.ground.lot.Title, entry)
}

// noteOutturn adds an entry to the file of outturns beside a lot.
func noteOutturn(layer store.Layer, lotPath, title string, entry econ.Outturn) tea.Cmd {
	return func() tea.Msg {
		path := econ.OutturnName(lotPath)
		_, err := store.Append(layer, path, func(old []byte) ([]byte, error) {
			return econ.AppendOutturn(path, title, old, entry)
		})
		if err != nil && !errors.Is(err, store.ErrNotSynced) {
			return outturnNotedMsg{path: path, err: err}
		}
		snapshot, err := store.Read(layer, path)
		if err != nil {
			return outturnNotedMsg{path: path, err: err}
		}
		doc, err := input.Parse(path, snapshot.Data)
		if err != nil {
			return outturnNotedMsg{path: path, err: err}
		}
		list, err := econ.DecodeOutturns(doc)
		return outturnNotedMsg{path: path, all: list, err: err}
	}
}

// outturnNoted takes the new entry into what the figures are learned from.
func (m model) outturnNoted(msg outturnNotedMsg) (model, tea.Cmd) {
	if msg.err != nil {
		m.notice = notice{warn, "Not noted: " + messageOf(msg.err)}
		return m, nil
	}
	if n := len(msg.all); n > 0 {
		history := m.ground.history
		m.ground.history = append(history[:len(history):len(history)], msg.all[n-1])
	}
	m, cmd := m.withLotLog(m.lotLog)
	if m.notice.text == "" {
		m.notice = notice{gain, "Noted in " + msg.path}
	}
	return m, cmd
}

func (o outturn) lay(m model) cover {
	l, width := m.look, m.width-2*cursorWidth
	switch {
	case len(o.asks) == 0 && o.problem != "":
		o.page = l.paragraph(warn, "! ", "Nothing can be noted: "+o.problem, width)
		return o
	case len(o.asks) == 0:
		o.page = []line{text(muted, "Working out what was expected"+l.signs.more)}
		return o
	}
	a := o.asks[o.at]
	lines := []line{text(strong, a.ask)}
	if a.expected != "" {
		lines = append(lines, text(muted, "expected  "+a.expected))
	}
	lines = append(lines, text(plain, ""), l.fieldLine(o.field, width))
	if o.problem != "" {
		lines = append(lines, l.paragraph(warn, "! ", o.problem, width)...)
	} else {
		lines = append(lines, text(muted, "with its unit; what you did not note stays blank"))
	}
	lines = append(lines, l.head("Noted")...)
	for i, ask := range o.asks {
		if s := o.noted[ask.id]; s != "" && i != o.at {
			lines = append(lines, text(muted, "  "+pad(ask.id, 24, false)).with(plain, s).with(muted, "  expected "+ask.expected))
		}
	}
	o.page = lines
	return o
}

func (o outturn) view(m model) []string {
	return m.drawn(o.page[:min(len(o.page), m.bodyHeight())], cursorWidth)
}
