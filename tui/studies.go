package tui

import (
	"context"
	"errors"

	tea "github.com/charmbracelet/bubbletea"
)

// begin numbers a new run in a role; what still runs in that role is cancelled.
func (m model) begin(as role) (model, context.Context) {
	if as == asEdited {
		m = m.stopOdds().dropDrivers().stopWhatIf().stopCurve()
	}
	s := &m.studies[as]
	if s.cancel != nil {
		s.cancel()
	}
	ctx, cancel := context.WithCancel(m.ctx)
	s.run++
	s.cancel, s.pending = cancel, true
	return m, ctx
}

// start begins a run in a role with the prices of a book.
func (m model) start(as role, book []byte) (model, tea.Cmd) {
	m, ctx := m.begin(as)
	return m, appraise(ctx, m.world, m.ground, m.basis(), m.book.name, book, as, m.studies[as].run)
}

// basis is the result that a new run can build on: none while the figures shown
// are those of another lot.
func (m model) basis() judged {
	if m.lotTurned {
		return judged{}
	}
	return m.studies[asEdited].judged
}

// startAnew begins a run that takes nothing from earlier ones: the lot is
// another.
func (m model) startAnew(as role, book []byte) (model, tea.Cmd) {
	m, ctx := m.begin(as)
	return m, appraise(ctx, m.world, m.ground, judged{}, m.book.name, book, as, m.studies[as].run)
}

// runCommand is the first run, before there is anything to cancel.
func (m model) runCommand(as role, book []byte) tea.Cmd {
	return appraise(m.ctx, m.world, m.ground, judged{}, m.book.name, book, as, m.studies[as].run)
}

// appraised takes a result in, if it is that of the current run.
func (m model) appraised(msg appraisedMsg) (model, tea.Cmd) {
	s := &m.studies[msg.role]
	if msg.run != s.run || errors.Is(msg.err, context.Canceled) {
		return m, nil
	}
	if s.cancel != nil {
		s.cancel()
	}
	s.pending, s.err, s.cancel = false, msg.err, nil
	if msg.err != nil {
		return m.notAppraised(msg), nil
	}
	s.judged = msg.judged
	if msg.role == asEdited {
		m.lotTurned = false
	}
	if msg.role == asEdited && !m.log.dirty() {
		m.studies[asSaved] = study{run: m.studies[asSaved].run + 1, judged: msg.judged}
	}
	if msg.role == asEdited {
		m.standings = m.standings.keep(msg.appraisal)
		m.plan = m.plan.keep(msg.appraisal)
		return m.followUp()
	}
	return m, nil
}

// followUp begins what goes on from new figures: their odds, and what the moves
// of the what-if page bring now.
func (m model) followUp() (model, tea.Cmd) {
	m, cmd := m.forgetCurves().rebase()
	if m.world.draws < 0 {
		return m, cmd
	}
	m, odds := m.refineOdds()
	return m, tea.Batch(cmd, odds)
}

// notAppraised says why there are no new figures; what is shown stays.
func (m model) notAppraised(msg appraisedMsg) model {
	if f := m.prices.field; msg.role == asTyped && f != nil {
		changed := *f
		changed.candidate, changed.problem = false, problemText(msg.err)
		m.prices.field = &changed
		return m
	}
	m.notice = notice{warn, "This could not be worked out: " + messageOf(msg.err)}
	return m
}
