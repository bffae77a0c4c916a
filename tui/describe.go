package tui

import (
	"errors"
	"fmt"
	"maps"
	"strings"
	"time"

	"afterpour/chem/lot"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// describe asks for a lot, one question at a time, and shows what is in it by
// what was said so far.
type describe struct {
	questions []lot.Question
	answers   lot.Answers
	at        int // the question that is open
	field     textinput.Model
	echo      string // how the answer is understood
	wrong     *lot.AnswerError
	contents  *lot.Report // by the answers so far
	run       int         // of the work on the contents
	page      []line
}

// answerLimit bounds an answer.
const answerLimit = 200

// newLotName is what a lot is called that has no file yet.
const newLotName = "new lot"

// describeLot opens the first question.
func (m model) describeLot() model {
	m.cover = describe{questions: lot.Questions(), answers: lot.Answers{}, field: newField("", answerLimit)}
	return m
}

func (d describe) title() string { return "A new lot" }

func (d describe) place() string { return fmt.Sprintf("question %d of %d", d.at+1, len(d.questions)) }

func (d describe) keys(m model) []key.Binding {
	return []key.Binding{m.keys.Next, m.keys.Finish, m.keys.Before, m.keys.Interrupt}
}

func (d describe) question() lot.Question { return d.questions[d.at] }

func (d describe) press(m model, msg tea.KeyMsg) (model, tea.Cmd) {
	switch {
	case key.Matches(msg, m.keys.Before):
		if d.at == 0 {
			return m.withStart(), nil
		}
		return d.turnTo(m, d.at-1)
	case key.Matches(msg, m.keys.Next):
		switch {
		case d.wrong != nil:
			return m, nil
		case d.at == len(d.questions)-1:
			return d.finish(m)
		}
		return d.turnTo(m, d.at+1)
	case key.Matches(msg, m.keys.Finish):
		return d.finish(m)
	}
	field, cmd := d.field.Update(shortened(msg))
	changed := field.Value() != d.field.Value()
	d.field = field
	if !changed {
		m.cover = d
		return m, cmd
	}
	d.answers = maps.Clone(d.answers)
	d.answers[d.question().ID] = strings.TrimSpace(field.Value())
	d.run++
	d = d.checked()
	m.cover = d
	return m, tea.Batch(cmd, d.count())
}

// turnTo opens a question; its answer, if there is one, can be changed.
func (d describe) turnTo(m model, at int) (model, tea.Cmd) {
	d.at = at
	d.field = newField(d.answers[d.question().ID], answerLimit)
	m.cover = d.checked()
	return m, nil
}

// checked looks at the open answer. What is wrong with another one does not
// stand in the way here; it is met at the end.
func (d describe) checked() describe {
	id := d.question().ID
	echo, err := d.answers.Understood(newLotName, id)
	d.echo, d.wrong = echo, nil
	var wrong *lot.AnswerError
	if errors.As(err, &wrong) && wrong.ID == id {
		d.wrong = wrong
	}
	return d
}

// count works out what is in the lot by the answers so far.
func (d describe) count() tea.Cmd {
	answers, run := d.answers, d.run
	return func() tea.Msg {
		data, err := answers.File(newLotName)
		if err != nil {
			return describedMsg{run: run, err: err}
		}
		report, err := lot.Contents(newLotName, data)
		return describedMsg{run: run, report: &report, err: err}
	}
}

// described takes the contents in, if they are those of the answers as they are.
func (m model) described(msg describedMsg) model {
	if d, ok := m.cover.(describe); ok && d.run == msg.run && msg.err == nil {
		d.contents = msg.report
		m.cover = d
	}
	return m
}

// finish makes the answers the lot, or opens the first that cannot be
// understood.
func (d describe) finish(m model) (model, tea.Cmd) {
	answers := maps.Clone(d.answers)
	answers["date"] = m.world.today().Format(time.DateOnly)
	data, err := answers.File(newLotName)
	var wrong *lot.AnswerError
	switch {
	case errors.As(err, &wrong):
		for i, q := range d.questions {
			if q.ID == wrong.ID {
				m, _ := d.turnTo(m, i)
				d = m.cover.(describe)
				d.wrong = wrong
				m.cover = d
				return m, nil
			}
		}
		fallthrough
	case err != nil:
		m.notice = notice{warn, messageOf(err)}
		return m, nil
	}
	m.cover = nil
	m.studies[asEdited].judged = judged{}
	m, cmd := m.changeLot(edit{"", string(m.lotLog.data()), string(data)})
	if m.notice.text == "" {
		m.notice = notice{plain, "This is your lot now. It is not saved yet: s gives it a name. 1 shows and changes what was said."}
	}
	return m, cmd
}

func (d describe) lay(m model) cover {
	l, q, width := m.look, d.question(), m.width-2*cursorWidth
	lines := []line{text(strong, q.Ask)}
	lines = append(lines, l.paragraph(plain, "", q.Explain, width)...)
	lines = append(lines, l.paragraph(muted, "", "for example  "+q.Example, width)...)
	lines = append(lines, text(plain, ""), l.fieldLine(d.field, width))
	switch {
	case d.wrong != nil:
		lines = append(lines, l.paragraph(warn, "! ", d.wrong.Message, width)...)
		lines = append(lines, l.paragraph(muted, "  ", d.wrong.Hint, width)...)
	case d.echo == "":
		lines = append(lines, l.paragraph(muted, "", "left blank: "+q.Blank, width)...)
	default:
		lines = append(lines, l.paragraph(plain, "", "understood as  "+d.echo, width)...)
	}
	lines = append(lines, d.contentLines(l, width)...)
	d.page = append(lines, d.answerLines(l, width)...)
	return d
}

// contentLines show what is in the lot so far, with the doubt that what is
// still blank leaves.
func (d describe) contentLines(l look, width int) []line {
	lines := l.head("In it, by what was said so far")
	if d.contents == nil || len(d.contents.Metals) == 0 && !(d.contents.Volume > 0) {
		return append(lines, text(muted, "  nothing yet"))
	}
	for _, m := range d.contents.Metals {
		row := text(strong, "  "+pad(m.Metal, 3, false)).with(plain, gramsDoubt(m.Contained, m.SD)+" g")
		if m.Solid > 0 {
			row = row.with(muted, "  of it solid "+gramsDoubt(m.Solid, m.SolidSD)+" g")
		}
		lines = append(lines, row)
	}
	r := d.contents
	facts := "  liquid " + doubt(r.Volume.Litres(), r.VolumeSD.Litres()) + " L"
	if r.Acid.FreeMol > 0 {
		facts += "   free acid " + doubt(r.Acid.FreeMol, r.Acid.SD) + " mol"
	}
	return append(lines, text(plain, facts))
}

// answerLines list the answers, as far as there is room.
func (d describe) answerLines(l look, width int) []line {
	lines := l.head("Said")
	for i, q := range d.questions {
		if s := d.answers[q.ID]; s != "" && i != d.at {
			lines = append(lines, text(muted, "  "+pad(q.ID, 9, false)).with(plain, s))
		}
	}
	if len(lines) == 2 {
		return nil
	}
	return lines
}

func (d describe) view(m model) []string {
	return m.drawn(d.page[:min(len(d.page), m.bodyHeight())], cursorWidth)
}
