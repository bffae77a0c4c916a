package tui

import (
	"errors"
	"strings"

	"afterpour/econ"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// priceField is a price being typed.
type priceField struct {
	input     textinput.Model
	row       econ.Row // as it was
	candidate bool     // the text is another price than before, and can be read
	problem   string   // why the text is no such price
}

// Widths of the field: what is typed and what is seen of it.
const (
	fieldLimit = 60
	fieldWidth = 24
)

func newPriceField(r econ.Row) *priceField {
	return &priceField{input: newField(r.Text, fieldLimit), row: r}
}

// text is what has been typed.
func (f *priceField) text() string { return strings.TrimSpace(f.input.Value()) }

// checked looks at the text as it now is.
func (f priceField) checked() *priceField {
	f.problem, f.candidate = "", false
	if err := f.row.Check(f.text()); err != nil {
		f.problem = problemText(err)
	} else {
		f.candidate = f.text() != f.row.Text
	}
	return &f
}

// problemText is a price error without what the row says already.
func problemText(err error) string {
	var p *econ.PriceError
	if errors.As(err, &p) {
		return p.Message + "; write it as " + p.Example
	}
	return err.Error()
}

// status says how a text that can be read is taken.
func (f *priceField) status(l look, currency string) line {
	read, err := f.row.Read(f.text(), currency)
	if !f.candidate || err != nil {
		return text(muted, f.row.Name+": type the price with its unit; esc leaves it as it was")
	}
	return text(muted, f.row.Name+"  ").with(plain, f.row.Text+" "+l.signs.arrow+" ").with(strong, read)
}

// typed is a key while a price is being typed. Only leaving the field and
// taking it over mean anything else than text.
func (m model) typed(msg tea.KeyMsg) (model, tea.Cmd) {
	f := m.prices.field
	switch {
	case key.Matches(msg, m.keys.Cancel):
		m.prices.field = nil
		return m.stopTyped(), nil
	case key.Matches(msg, m.keys.Accept):
		return m.accept(f)
	}
	input, cmd := f.input.Update(shortened(msg))
	changed := *f
	changed.input = input
	m.prices.field = changed.checked()
	if m.prices.field.text() == f.text() {
		return m, cmd
	}
	return m.preview(cmd)
}

// preview works out what the typed price would do, before it is accepted.
func (m model) preview(cmd tea.Cmd) (model, tea.Cmd) {
	f := m.prices.field
	if !f.candidate {
		return m.stopTyped(), cmd
	}
	m, ctx := m.begin(asTyped)
	run := appraiseTyped(ctx, m.world, m.ground, m.basis(), m.book.name, m.log.data(), edit{Path: f.row.Path, New: f.text()}, m.studies[asTyped].run)
	return m, tea.Batch(cmd, run)
}

// stopTyped drops what was being worked out for a typed price.
func (m model) stopTyped() model {
	s := &m.studies[asTyped]
	if s.cancel != nil {
		s.cancel()
	}
	*s = study{run: s.run + 1}
	return m
}

// accept takes the typed price over, if it is one.
func (m model) accept(f *priceField) (model, tea.Cmd) {
	if f.problem != "" {
		return m, nil
	}
	m.prices.field = nil
	m = m.stopTyped()
	if !f.candidate {
		return m, nil
	}
	return m.change(edit{f.row.Path, f.row.Text, f.text()})
}
