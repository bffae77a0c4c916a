package tui

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"afterpour/econ"

	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
)

// moveField is the value of a slider while it is being typed.
type moveField struct {
	input  textinput.Model
	slider econ.Slider
}

// errAmbiguous means a comma that may stand for thousands or for decimals.
var errAmbiguous = errors.New("the comma may mean thousands or decimals: write it with a point")

// valueOf reads a plain number in a slider's unit, with a decimal point or comma.
func valueOf(s *econ.Slider, typed string) (float64, error) {
	typed = strings.TrimSpace(typed)
	if _, after, ok := strings.Cut(typed, ","); ok {
		if len(after) == 3 {
			return 0, errAmbiguous
		}
		typed = strings.Replace(typed, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(typed, 64)
	switch {
	case err != nil || math.IsNaN(v):
		return 0, fmt.Errorf("type a number in %s, as %s", s.Unit, sliderText(s, s.Value))
	case v < s.Least || v > s.Most:
		return 0, fmt.Errorf("it goes from %s to %s %s", sliderText(s, s.Least), sliderText(s, s.Most), s.Unit)
	}
	return v, nil
}

// typeMove opens a field on the slider in the row.
func (m model) typeMove(s *econ.Slider) model {
	m.whatIf.field = &moveField{newField("", fieldLimit), *s}
	m.notice = notice{muted, fmt.Sprintf("%s: type a number in %s; esc leaves it as it was", s.Label, s.Unit)}
	return m
}

// moveTyped is a key while a value is typed.
func (m model) moveTyped(msg tea.KeyMsg) (model, tea.Cmd) {
	f := *m.whatIf.field
	switch {
	case key.Matches(msg, m.keys.Cancel):
		m.whatIf.field = nil
		return m, nil
	case key.Matches(msg, m.keys.Accept):
		v, err := valueOf(&f.slider, f.input.Value())
		if err != nil {
			m.notice = notice{warn, err.Error()}
			return m, nil
		}
		m.whatIf.field = nil
		m.whatIf = m.whatIf.put(&f.slider, v)
		return m.tryMoves()
	}
	f.input, _ = f.input.Update(shortened(msg))
	m.whatIf.field = &f
	return m, nil
}
