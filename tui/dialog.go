package tui

import (
	"errors"
	"fmt"
	"strings"

	"afterpour/chem/input"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// dialog is a question that must be answered before anything else. It takes the
// place of the page, so that nothing is drawn over anything.
type dialog struct {
	title   string
	texts   []string
	choices []choice
	field   *textinput.Model // for a path
	accept  func(model, string) (model, tea.Cmd)
}

// choice is an answer and what it does. The question is gone when it is done.
type choice struct {
	key key.Binding
	do  func(model) (model, tea.Cmd)
}

// answered is a key while a question is open. A key that is no answer does
// nothing.
func (m model) answered(msg tea.KeyMsg) (model, tea.Cmd) {
	q := m.question
	for _, c := range q.choices {
		if key.Matches(msg, c.key) {
			m.question = nil
			return c.do(m)
		}
	}
	if q.field == nil {
		return m, nil
	}
	if key.Matches(msg, m.keys.Accept) {
		m.question = nil
		return q.accept(m, strings.TrimSpace(q.field.Value()))
	}
	field, cmd := q.field.Update(shortened(msg))
	changed := *q
	changed.field = &field
	m.question = &changed
	return m, cmd
}

func stay(m model) (model, tea.Cmd) { return m, nil }

// quitQuestion guards what would be lost.
func (m model) quitQuestion() *dialog {
	return &dialog{
		title: "Not saved",
		texts: m.unsavedTexts(),
		choices: []choice{
			{m.keys.SaveLeave, func(m model) (model, tea.Cmd) { return m.save(true) }},
			{m.keys.LeaveUnsaved, func(m model) (model, tea.Cmd) { m.left = leftDone; return m, tea.Quit }},
			{m.keys.Stay, stay},
		},
	}
}

// bookChangedQuestion says that somebody else changed the price book.
func (m model) bookChangedQuestion(title string) *dialog {
	q := &dialog{title: title, texts: []string{m.book.name}}
	reload := choice{m.keys.Reload, func(m model) (model, tea.Cmd) { return m, reloadBook(m.world.layer, m.book, false) }}
	later := choice{m.keys.Later, stay}
	if !m.log.dirty() {
		q.texts = append(q.texts, "Nothing of yours is unsaved. The figures shown are those of the file as it was read.")
		q.choices = []choice{reload, later}
		return q
	}
	q.texts = append(q.texts, "Unsaved here:")
	q.texts = append(q.texts, editTexts(m.log.unsaved)...)
	q.texts = append(q.texts,
		"Reload drops these and takes the file as it is now. Keep mine takes the file as it is now and puts these on top of it, still to be saved. Save as leaves the file alone and writes yours under another name.")
	q.choices = []choice{
		reload,
		{m.keys.KeepMine, func(m model) (model, tea.Cmd) { return m, reloadBook(m.world.layer, m.book, true) }},
		{m.keys.Elsewhere, func(m model) (model, tea.Cmd) { return m.askPath(false), nil }},
		later,
	}
	return q
}

// unreadableQuestion shows what is wrong with a file that was to be read again.
func (m model) unreadableQuestion(err error) *dialog {
	q := &dialog{title: "The file as it is now cannot be used, so what is shown stays", choices: []choice{{m.keys.Back, stay}}}
	var problems input.Problems
	if !errors.As(err, &problems) {
		q.texts = []string{err.Error()}
		return q
	}
	for _, p := range problems {
		q.texts = append(q.texts, fmt.Sprintf("%s:%d:%d: %s: %s", p.File, p.Position.Line, p.Position.Column, p.Key, p.Message))
		if p.Hint != "" {
			q.texts = append(q.texts, "  "+p.Hint)
		}
	}
	return q
}

// notSavedQuestion says why saving failed and offers another place.
func (m model) notSavedQuestion(err error, thenQuit bool) *dialog {
	return &dialog{
		title: "Not saved",
		texts: []string{err.Error(), "Your edits are still here."},
		choices: []choice{
			{m.keys.Elsewhere, func(m model) (model, tea.Cmd) { return m.askPath(thenQuit), nil }},
			{m.keys.Stay, stay},
		},
	}
}

// recoveryQuestion offers what an earlier session left.
func (m model) recoveryQuestion() *dialog {
	r := m.found
	texts := []string{fmt.Sprintf("An earlier session ended on %s with edits of %s that were not saved:", r.Written.Local().Format("2006-01-02 at 15:04"), m.bookName())}
	return &dialog{
		title: "Unsaved edits were recovered",
		texts: append(append(texts, editTexts(r.Edits)...), "Nothing has been changed. Put back, they are unsaved edits that can be undone."),
		choices: []choice{
			{m.keys.PutBack, func(m model) (model, tea.Cmd) { return m.recover() }},
			{m.keys.ThrowAway, func(m model) (model, tea.Cmd) {
				m.found = nil
				m.kept++
				return m.askLotRecovery(), keep(m.keeper, m.kept, nil)
			}},
			{m.keys.Later, func(m model) (model, tea.Cmd) {
				m.found = nil
				return m.askLotRecovery(), keepElsewhere(m.keeper)
			}},
		},
	}
}

// recover makes the edits of an earlier session again. One whose price has
// changed since is left out, and said.
func (m model) recover() (model, tea.Cmd) {
	log, lost := putBack(m.log, m.found.Edits, false, m.splice())
	m.found = nil
	m, cmd := m.withLog(log)
	m.notice = notice{plain, fmt.Sprintf("Put back, not saved yet: %s", plural(len(log.unsaved), "edit", "edits"))}
	if len(lost) > 0 {
		m.notice = notice{warn, "Not put back: " + strings.Join(lost, "; ")}
	}
	return m.askLotRecovery(), cmd
}

// pathWidth bounds a typed path.
const pathWidth = 400

// askPath asks where to save.
func (m model) askPath(thenQuit bool) model {
	field := newField("", pathWidth)
	m.question = &dialog{
		title:   "Save the price book as",
		texts:   []string{"The name of a file that does not exist yet:"},
		choices: []choice{{m.keys.Cancel, stay}},
		field:   &field,
		accept: func(m model, path string) (model, tea.Cmd) {
			if path == "" {
				return m, nil
			}
			m.saving = true
			return m, createBook(m.world.layer, path, m.log.data(), true, thenQuit)
		},
	}
	return m
}

// editTexts lists edits, old and new.
func editTexts(edits []edit) []string {
	texts := make([]string, 0, len(edits))
	for _, e := range edits {
		if e.Path == "" {
			texts = append(texts, "  the whole lot, as it was described")
			continue
		}
		old := firstLine(e.Old)
		if old == "" {
			old = "not set"
		}
		texts = append(texts, fmt.Sprintf("  %s: %s → %s", lotPath(e), old, firstLine(e.New)))
	}
	return texts
}

// lines sets a question out on a page.
func (q *dialog) lines(l look, width int) []line {
	rows := l.paragraph(strong, "", q.title, width)
	rows = append(rows, text(plain, ""))
	for _, s := range q.texts {
		lead := s[:len(s)-len(strings.TrimLeft(s, " "))]
		rows = append(rows, l.paragraph(plain, lead, strings.TrimLeft(s, " "), width)...)
	}
	rows = append(rows, text(plain, ""))
	if q.field != nil {
		rows = append(rows, l.fieldLine(*q.field, width), text(plain, ""))
	}
	for _, c := range q.choices {
		rows = append(rows, text(accent, pad(c.key.Help().Key, 6, false)).with(plain, c.key.Help().Desc))
	}
	if q.field != nil {
		rows = append(rows, text(accent, pad("enter", 6, false)).with(plain, "save"))
	}
	return rows
}
