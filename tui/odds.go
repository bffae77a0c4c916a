package tui

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strconv"

	"afterpour/econ"

	tea "github.com/charmbracelet/bubbletea"
)

// odds is the work on the odds of the figures shown.
type odds struct {
	run         int
	cancel      context.CancelFunc
	running     bool
	draws, most int
	err         error
}

// refinement works the odds of an appraisal out. It is econ.Refine, save in
// tests of the screen alone.
type refinement func(context.Context, *econ.Appraisal, econ.Effort, func(econ.Progress)) (*econ.Appraisal, error)

// refineOdds begins with the odds, or goes on with them.
func (m model) refineOdds() (model, tea.Cmd) {
	a := m.appraisal()
	if a == nil || a.Settled {
		return m, nil
	}
	m = m.stopOdds()
	ctx, cancel := context.WithCancel(m.ctx)
	m.odds = odds{run: m.odds.run, cancel: cancel, running: true, draws: a.Draws}
	return m, refine(ctx, m.world, a, m.odds.run)
}

// stopOdds ends the work; what came of it so far stays. A late result is of an
// old run and is dropped.
func (m model) stopOdds() model {
	if m.odds.cancel != nil {
		m.odds.cancel()
	}
	m.odds = odds{run: m.odds.run + 1, draws: m.odds.draws, most: m.odds.most}
	return m
}

// refined takes odds in, if they are those of the current run.
func (m model) refined(msg refinedMsg) (model, tea.Cmd) {
	if msg.run != m.odds.run || !m.odds.running {
		return m, nil
	}
	if a := msg.progress.Appraisal; a != nil {
		m.odds.draws, m.odds.most = msg.progress.Draws, msg.progress.Most
		m.studies[asEdited].appraisal = a
		if !m.log.dirty() {
			m.studies[asSaved].appraisal = a
		}
	}
	if msg.done {
		m = m.stopOdds()
		if msg.err != nil && !errors.Is(msg.err, context.Canceled) {
			m.odds.err = msg.err
			m.notice = notice{warn, "The odds could not be worked out: " + messageOf(msg.err)}
		}
	}
	return m, msg.next
}

// toggleOdds stops the work on the odds, or takes it up again.
func (m model) toggleOdds() (model, tea.Cmd) {
	if !m.odds.running {
		return m.refineOdds()
	}
	m = m.stopOdds()
	m.notice = notice{plain, fmt.Sprintf("The odds stay at %s.", plural(m.odds.draws, "draw", "draws"))}
	return m, nil
}

// oddsState says how far the odds are.
func (o odds) state(a *econ.Appraisal) string {
	switch {
	case o.running && a.Draws == 0:
		return "odds are being worked out"
	case o.running:
		return fmt.Sprintf("%d draws, of at most %d", o.draws, o.most)
	case a.Draws == 0:
		return ""
	case a.Settled:
		return fmt.Sprintf("%d draws, steady", a.Draws)
	}
	return fmt.Sprintf("%d draws, not yet steady", a.Draws)
}

// verdictOdds are the odds of the verdict in a sentence; empty without them.
func verdictOdds(a *econ.Appraisal) string {
	p := planByID(a, a.Verdict.Plan)
	switch {
	case a.Verdict.PPositive == nil || p == nil || p.Odds == nil:
		return ""
	case len(p.Routes) == 0:
		return "Odds of being the best: " + percent(p.Odds.PBest) + "."
	}
	return fmt.Sprintf("Odds of a gain: %s; of being the best: %s.", percent(*a.Verdict.PPositive), percent(p.Odds.PBest))
}

// oddsOf are a plan's odds on one row, what is asked most first.
func oddsOf(o *econ.Odds) string {
	low, middle, high := threeOf(o)
	return fmt.Sprintf("gain odds %s, best %s, net %s / %s / %s", percent(o.PPositive), percent(o.PBest), low, middle, high)
}

// threeOf are the net that one draw in ten stays below, one in two, and nine in
// ten, in the step in which they are steady.
func threeOf(o *econ.Odds) (low, middle, high string) {
	step := econ.ShownStep((o.P90 - o.P10).Float())
	return stepped(o.P10, step), stepped(o.P50, step), stepped(o.P90, step)
}

// stepped writes an amount to a step of a power of ten, at least a cent.
func stepped(m econ.Money, step float64) string {
	if !(step >= 0.01) {
		return money(m)
	}
	places := max(0, -int(math.Round(math.Log10(step))))
	return strconv.FormatFloat(math.Round(m.Float()/step)*step+0, 'f', places, 64)
}

// planOdds are the odds of a plan with what they rest on.
func (l look) planOdds(a *econ.Appraisal, p *econ.PricedPlan, width int) []line {
	o := p.Odds
	if o == nil {
		return nil
	}
	low, middle, high := threeOf(o)
	row := text(muted, "net in 10, 50, 90 % of draws below ").with(strong, low+" / "+middle+" / "+high).with(muted, " "+a.Currency)
	rest := fmt.Sprintf("odds of a gain %s, of being the best %s; %d draws", percent(o.PPositive), percent(o.PBest), o.Draws)
	if o.Fails > 0 {
		rest += fmt.Sprintf("; cannot be carried out in %s of them", percent(o.Fails))
	}
	lines := append([]line{row}, l.paragraph(plain, "", rest, width)...)
	if o.Equal {
		lines = append(lines, l.paragraph(warn, l.signs.equal+" ", fmt.Sprintf("Not to be told apart from the plan ranked first: it does better in %s of the draws.", percent(o.Ahead)), width)...)
	}
	return lines
}

// standingsMessage are the odds and the id of the plan in the row of the cursor.
func (m model) standingsMessage(a *econ.Appraisal) line {
	key := m.standings.roll.current().key
	p := planByID(a, key)
	if p == nil || p.Odds == nil {
		return text(muted, key)
	}
	return text(strong, oddsOf(p.Odds)).with(muted, "  "+key)
}
