package tui

import (
	"errors"
	"slices"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/lot"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// saidField is a value of the lot while it is being typed.
type saidField struct {
	input   textinput.Model
	said    lot.Said // as it was
	echo    string   // how the text is understood
	problem string   // why it cannot be
	hint    string
}

// saidLimit bounds what is typed for one value of a lot.
const saidLimit = 120

// text is what has been typed.
func (f *saidField) text() string { return strings.TrimSpace(f.input.Value()) }

// lines are the foot of the page: what is typed, how it is understood.
func (f *saidField) lines(l look, width int) []line {
	rows := []line{
		text(muted, strings.Repeat(l.signs.rule, width)),
		text(muted, f.name()+"  ").join(l.fieldLine(f.input, max(10, width-ansi.StringWidth(f.name())-3))),
	}
	switch {
	case f.problem != "":
		rows = append(rows, l.paragraph(warn, "! ", f.problem, width)...)
		if f.hint != "" {
			rows = append(rows, l.paragraph(muted, "  ", f.hint, width)...)
		}
	case f.text() == f.said.Text:
		rows = append(rows, text(muted, "type it with its unit and, after ± (or +-), its doubt; esc leaves it as it was"))
	default:
		rows = append(rows, text(muted, "understood as ").with(strong, f.echo))
	}
	const rowsOfFoot = 4
	return append(rows, make([]line, rowsOfFoot)...)[:rowsOfFoot]
}

// name is the value with the part of the file it is in.
func (f *saidField) name() string { return strings.TrimSpace(f.said.Part + " " + f.said.Key) }

// saidLines list what the file says, part by part.
func (r residue) saidLines(l look, said []lot.Said) []line {
	lines := l.head("What was said of it")
	names := 0
	for _, s := range said {
		names = max(names, ansi.StringWidth(s.Key))
	}
	part := ""
	for _, s := range said {
		if s.Part != part {
			part = s.Part
			lines = append(lines, text(muted, "  "+part))
		}
		row := text(muted, "    "+pad(s.Key, names, false)+"  ")
		switch {
		case s.Text == "":
			row = row.with(muted, "not stated")
		case s.Taken != "" && s.Taken != s.Text:
			row = row.with(plain, s.Text).with(muted, "  taken as "+s.Taken)
		default:
			row = row.with(plain, s.Text)
		}
		c := &claim{label: strings.TrimSpace(s.Part + " " + s.Key), value: s.Text, inputID: "lot/" + s.Path}
		if s.Text == "" {
			c = nil
		}
		lines = append(lines, row.at(saidKey+s.Path, c))
	}
	return lines
}

// saidKey begins the keys of these rows.
const saidKey = "said/"

// liquorPaths are the values behind the rows of the liquor.
var liquorPaths = map[string]string{"liquid": "vessel.liquid", "pH": "vessel.ph"}

// saidHere is the value of the lot in the row of the cursor; nil if the row has
// none that a person can type.
func (m model) saidHere() *lot.Said {
	if m.screen != residueScreen || m.appraisal() == nil {
		return nil
	}
	key := m.residue.roll.current().key
	path, found := liquorPaths[key]
	for _, prefix := range []string{saidKey, "lot/"} {
		if rest, ok := strings.CutPrefix(key, prefix); ok {
			path, found = rest, true
		}
	}
	if !found || strings.ContainsAny(path, "/") || strings.Contains(path, ".grade.") {
		return nil
	}
	if i := slices.IndexFunc(m.ground.said, func(s lot.Said) bool { return s.Path == path }); i >= 0 {
		return &m.ground.said[i]
	}
	return &lot.Said{Path: path, Key: path}
}

// residueKey is a key on the page while nothing is typed.
func (m model) residueKey(k keyMap, msg tea.KeyMsg) model {
	if s := m.saidHere(); s != nil && key.Matches(msg, k.Edit) {
		m.residue.field = &saidField{input: newField(s.Text, saidLimit), said: *s, echo: s.Taken}
	}
	return m
}

// saidTyped is a key while a value of the lot is being typed.
func (m model) saidTyped(msg tea.KeyMsg) (model, tea.Cmd) {
	f := *m.residue.field
	switch {
	case key.Matches(msg, m.keys.Cancel):
		m.residue.field = nil
		return m, nil
	case key.Matches(msg, m.keys.Accept):
		return m.acceptSaid(&f)
	}
	before := f.text()
	var cmd tea.Cmd
	if f.input, cmd = f.input.Update(shortened(msg)); f.text() != before {
		f = f.checked(m.residueFile.name, m.lotLog.data())
	}
	m.residue.field = &f
	return m, cmd
}

// checked looks at the text as it now is.
func (f saidField) checked(name string, data []byte) saidField {
	f.problem, f.hint, f.echo = "", "", ""
	switch {
	case f.text() == f.said.Text:
		return f
	case f.text() == "":
		f.problem = "nothing is typed; esc leaves it as it was"
		return f
	}
	echo, err := lot.Read(name, data, f.said.Path, f.text())
	f.echo = echo
	if err == nil {
		return f
	}
	f.problem = messageOf(err)
	var problems input.Problems
	if errors.As(err, &problems) && len(problems) > 0 {
		f.hint = problems[0].Hint
	}
	return f
}

// acceptSaid takes the typed value over, if it can be read.
func (m model) acceptSaid(f *saidField) (model, tea.Cmd) {
	if f.problem != "" {
		return m, nil
	}
	m.residue.field = nil
	if f.text() == f.said.Text {
		return m, nil
	}
	return m.changeLot(edit{f.said.Path, f.said.Text, f.text()})
}

// firstLine is the beginning of a text that may have several lines.
func firstLine(s string) string {
	first, rest, found := strings.Cut(s, "\n")
	if found && rest != "" {
		return first + " …"
	}
	return first
}
