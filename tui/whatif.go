package tui

import (
	"context"
	"errors"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"afterpour/econ"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// whatIf is the page on which figures are moved to see what would be. Nothing of
// it is saved, and no other screen shows it.
type whatIf struct {
	roll roll
	top  []line

	moves   []econ.Move     // as wanted; replaced, never changed
	made    []econ.Move     // of the result
	result  *econ.Appraisal // nil while all stands as it is
	field   *moveField      // while a value is typed
	problem string          // why the moves wanted have no result

	run     int
	cancel  context.CancelFunc
	sent    []econ.Move // of the run under way
	pending bool

	limits map[string]econ.Threshold // by limitKey; replaced, never changed
	sought string                    // the one under way
}

// experiment answers what would be if figures of a lot and its prices were
// others.
type experiment interface {
	Sliders() []econ.Slider
	At(ctx context.Context, moves ...econ.Move) (*econ.Appraisal, error)
	// Threshold says where the decision turns along a slider.
	Threshold(ctx context.Context, a *econ.Appraisal, slider string) (econ.Threshold, error)
	Curve(ctx context.Context, id string) (econ.Curve, error)
}

// trial is the experiment of econ.
type trial struct{ *econ.WhatIf }

func (trial) Threshold(ctx context.Context, a *econ.Appraisal, slider string) (econ.Threshold, error) {
	return econ.ThresholdOf(ctx, a, slider)
}

// shown is the appraisal of the page: with the moves as far as they are worked
// out.
func (w whatIf) shown(base *econ.Appraisal) *econ.Appraisal {
	if w.result != nil {
		return w.result
	}
	return base
}

// value is where a slider is put.
func (w whatIf) value(s *econ.Slider) float64 {
	for _, m := range w.moves {
		if m.ID == s.ID {
			return m.Value
		}
	}
	return s.Value
}

// put moves a slider; to where it stands, it is put back.
func (w whatIf) put(s *econ.Slider, value float64) whatIf {
	w.moves = slices.DeleteFunc(slices.Clone(w.moves), func(m econ.Move) bool { return m.ID == s.ID })
	if value = s.Clip(value); math.Abs(value-s.Value) > 1e-9*s.Step {
		w.moves = append(w.moves, econ.Move{ID: s.ID, Value: value})
	}
	return w
}

// stepsOn is a slider's value n steps on, on the grid of its steps: from between
// two of them the first step is to the next.
func stepsOn(s *econ.Slider, value float64, n int) float64 {
	place := value / s.Step
	if n > 0 {
		place = math.Floor(place + 1e-6)
	} else {
		place = math.Ceil(place - 1e-6)
	}
	return s.Clip((place + float64(n)) * s.Step)
}

// limitKey names what a threshold depends on: its slider and where the others
// are put.
func limitKey(slider string, moves []econ.Move) string {
	parts := []string{}
	for _, m := range moves {
		if m.ID != slider {
			parts = append(parts, m.ID+"="+strconv.FormatFloat(m.Value, 'g', -1, 64))
		}
	}
	slices.Sort(parts)
	return slider + "\n" + strings.Join(parts, "\n")
}

// sliderHere is the slider in the row of the cursor.
func (m model) sliderHere() *econ.Slider {
	e := m.studies[asEdited].experiment
	if m.screen != whatIfScreen || e == nil {
		return nil
	}
	sliders := e.Sliders()
	if i := slices.IndexFunc(sliders, func(s econ.Slider) bool { return s.ID == m.whatIf.roll.current().key }); i >= 0 {
		return &sliders[i]
	}
	return nil
}

// whatIfKey is a key on the page.
func (m model) whatIfKey(k keyMap, msg tea.KeyMsg) (model, tea.Cmd) {
	s := m.sliderHere()
	n := 0
	switch {
	case key.Matches(msg, k.AllBack):
		m.whatIf.moves = nil
		return m.tryMoves()
	case s == nil:
		return m, nil
	case key.Matches(msg, k.PutHereBack):
		m.whatIf = m.whatIf.put(s, s.Value)
		return m.tryMoves()
	case key.Matches(msg, k.Edit):
		return m.typeMove(s), nil
	case key.Matches(msg, k.Less):
		n = -1
	case key.Matches(msg, k.More):
		n = 1
	case key.Matches(msg, k.MuchLess):
		n = -10
	case key.Matches(msg, k.MuchMore):
		n = 10
	}
	if n == 0 {
		return m, nil
	}
	m.whatIf = m.whatIf.put(s, stepsOn(s, m.whatIf.value(s), n))
	return m.tryMoves()
}

// tryMoves works out what the moves bring. One run is under way at a time: what
// was moved meanwhile is taken up when it is done, so that a key held down shows
// figures all the while. Without moves nothing is to be worked out.
func (m model) tryMoves() (model, tea.Cmd) {
	w := &m.whatIf
	switch {
	case len(w.moves) == 0:
		m = m.stopWhatIf()
		m.whatIf.result, m.whatIf.made, m.whatIf.problem = nil, nil, ""
		return m, nil
	case w.pending:
		return m, nil
	}
	m = m.stopWhatIf()
	ctx, cancel := context.WithCancel(m.ctx)
	m.whatIf.cancel, m.whatIf.pending, m.whatIf.sent = cancel, true, m.whatIf.moves
	return m, tryOut(ctx, m.studies[asEdited].experiment, m.whatIf.moves, m.whatIf.run)
}

// stopWhatIf ends what is under way; a late result is of an old run.
func (m model) stopWhatIf() model {
	if m.whatIf.cancel != nil {
		m.whatIf.cancel()
	}
	m.whatIf.run++
	m.whatIf.cancel, m.whatIf.pending, m.whatIf.sought = nil, false, ""
	return m
}

// tried takes a result in, if it is that of the current run.
func (m model) tried(msg triedMsg) (model, tea.Cmd) {
	w := &m.whatIf
	if msg.run != w.run || errors.Is(msg.err, context.Canceled) {
		return m, nil
	}
	w.pending = false
	switch {
	case msg.err != nil:
		w.problem = messageOf(msg.err)
	default:
		w.result, w.made, w.problem = msg.appraisal, w.sent, ""
	}
	if !slices.Equal(w.moves, w.sent) {
		return m.tryMoves()
	}
	return m.seekLimit()
}

// seekLimit looks for the place where the decision turns along the slider that
// was moved last.
func (m model) seekLimit() (model, tea.Cmd) {
	w := &m.whatIf
	if w.result == nil || len(w.made) == 0 || m.studies[asEdited].experiment == nil {
		return m, nil
	}
	slider := w.made[len(w.made)-1].ID
	name := limitKey(slider, w.made)
	if _, known := w.limits[name]; known || w.sought == name {
		return m, nil
	}
	m = m.stopWhatIf()
	ctx, cancel := context.WithCancel(m.ctx)
	m.whatIf.cancel, m.whatIf.sought = cancel, name
	return m, seek(ctx, m.studies[asEdited].experiment, m.whatIf.result, slider, name, m.whatIf.run)
}

// soughtOut takes a threshold in.
func (m model) soughtOut(msg limitMsg) model {
	if msg.run != m.whatIf.run || errors.Is(msg.err, context.Canceled) {
		return m
	}
	m.whatIf.sought = ""
	if msg.err != nil {
		m.notice = notice{warn, "Where the decision turns was not found: " + messageOf(msg.err)}
		return m
	}
	limits := maps.Clone(m.whatIf.limits)
	if limits == nil {
		limits = map[string]econ.Threshold{}
	}
	limits[msg.name] = msg.limit
	m.whatIf.limits = limits
	return m
}

// rebase makes the moves again on other figures. What cannot be moved any more
// stays as it is.
func (m model) rebase() (model, tea.Cmd) {
	m = m.stopWhatIf()
	m.whatIf.field, m.whatIf.limits, m.whatIf.result, m.whatIf.made, m.whatIf.problem = nil, nil, nil, nil, ""
	e := m.studies[asEdited].experiment
	if e == nil {
		m.whatIf.moves = nil
		return m, nil
	}
	var kept []econ.Move
	for _, move := range m.whatIf.moves {
		if i := slices.IndexFunc(e.Sliders(), func(s econ.Slider) bool { return s.ID == move.ID }); i >= 0 {
			kept = append(kept, move)
		}
	}
	m.whatIf.moves = kept
	return m.tryMoves()
}
