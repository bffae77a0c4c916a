package tui

import (
	"context"
	"errors"
	"maps"
	"strings"

	"afterpour/econ"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
)

// The curves that are no net against a slider; those go by the slider's id.
const (
	silverCurve = "silver against chloride"
	metalsCurve = "metals against pH"
)

// curvePoints is how many places a curve is worked out at.
const curvePoints = 33

// curves is the page of curves, one at a time.
type curves struct {
	roll  roll
	top   []line
	id    string // the one shown; "" for the first
	table bool

	found  map[string]curveFound // by id; replaced, never changed
	run    int
	cancel context.CancelFunc
	sought string // the one under way
}

// curveFound is a curve, or why the lot has none such.
type curveFound struct {
	curve econ.Curve
	err   error
}

// Curve works out one curve of the lot as it stands.
func (t trial) Curve(ctx context.Context, id string) (econ.Curve, error) {
	if id != silverCurve && id != metalsCurve {
		return econ.NetAgainst(ctx, t.WhatIf, id, nil, 0, 0, curvePoints)
	}
	req, err := t.Request()
	switch {
	case err != nil:
		return econ.Curve{}, err
	case id == silverCurve:
		return econ.SilverAgainstChloride(req, curvePoints)
	}
	return econ.MetalsAgainstPH(req, curvePoints)
}

// curveIDs lists the curves of a lot: the two of chemistry, then net against the
// size of the lot, the prices of the metals, the wage, and all other prices.
func curveIDs(e experiment) []string {
	ids := []string{silverCurve, metalsCurve}
	if e == nil {
		return ids
	}
	for rank := range lastRank + 1 {
		for _, s := range e.Sliders() {
			if (s.Quick || s.ID == econ.SliderSize) && curveRank(&s) == rank {
				ids = append(ids, s.ID)
			}
		}
	}
	return ids
}

// lastRank is that of the curves asked for least.
const lastRank = 3

// curveRank says how early a slider's curve comes.
func curveRank(s *econ.Slider) int {
	switch {
	case s.ID == econ.SliderSize:
		return 0
	case strings.HasPrefix(s.ID, "price/spot."):
		return 1
	case s.Group == econ.GroupWage:
		return 2
	}
	return lastRank
}

// place is the shown curve's place among all.
func (c curves) place(ids []string) int {
	for i, id := range ids {
		if id == c.id {
			return i
		}
	}
	return 0
}

// curvesKey is a key on the page.
func (m model) curvesKey(k keyMap, msg tea.KeyMsg) model {
	ids := curveIDs(m.studies[asEdited].experiment)
	direction := 0
	switch {
	case key.Matches(msg, k.AsTable):
		m.curves.table = !m.curves.table
	case key.Matches(msg, k.NextCurve):
		direction = 1
	case key.Matches(msg, k.PrevCurve):
		direction = -1
	}
	if direction != 0 {
		m.curves.id = ids[(m.curves.place(ids)+direction+len(ids))%len(ids)]
		m.curves.roll = roll{}
	}
	return m
}

// seekCurve begins to work out the curve shown, unless it is there or under way.
func (m model) seekCurve() (model, tea.Cmd) {
	e := m.studies[asEdited].experiment
	if m.screen != curvesScreen || e == nil {
		return m, nil
	}
	ids := curveIDs(e)
	id := ids[m.curves.place(ids)]
	if _, there := m.curves.found[id]; there || m.curves.sought == id {
		return m, nil
	}
	m = m.stopCurve()
	ctx, cancel := context.WithCancel(m.ctx)
	m.curves.cancel, m.curves.sought = cancel, id
	return m, drawCurve(ctx, e, id, m.curves.run)
}

// stopCurve ends what is under way.
func (m model) stopCurve() model {
	if m.curves.cancel != nil {
		m.curves.cancel()
	}
	m.curves.run++
	m.curves.cancel, m.curves.sought = nil, ""
	return m
}

// forgetCurves is for new figures, which have other curves.
func (m model) forgetCurves() model {
	m = m.stopCurve()
	m.curves.found = nil
	return m
}

// curveCame takes a curve in, if it is that of the current run.
func (m model) curveCame(msg curveMsg) model {
	if msg.run != m.curves.run || errors.Is(msg.err, context.Canceled) {
		return m
	}
	found := maps.Clone(m.curves.found)
	if found == nil {
		found = map[string]curveFound{}
	}
	found[msg.id] = curveFound{msg.curve, msg.err}
	m.curves.found, m.curves.sought = found, ""
	return m
}
