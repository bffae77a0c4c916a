package tui

import (
	"context"
	"errors"
	"fmt"

	"afterpour/econ"

	tea "github.com/charmbracelet/bubbletea"
)

// drivers is what the doubt of one plan's gain comes from, once it was asked.
type drivers struct {
	run    int
	cancel context.CancelFunc
	plan   string            // asked about
	found  *econ.Sensitivity // nil while it is worked out
}

// sensing works out what the doubt of a plan's gain comes from. It is
// econ.Drivers, save in tests of the screen alone.
type sensing func(ctx context.Context, a *econ.Appraisal, plan string) (*econ.Sensitivity, error)

// askDrivers begins to work out what the doubt of the plan's gain comes from.
func (m model) askDrivers() (model, tea.Cmd) {
	p := m.plan.shown(m.appraisal())
	m = m.dropDrivers()
	ctx, cancel := context.WithCancel(m.ctx)
	m.drivers.cancel, m.drivers.plan = cancel, p.ID
	m.notice = notice{muted, "Working out what the doubt comes from" + m.look.signs.more}
	return m, sense(ctx, m.world, m.appraisal(), p.ID, m.drivers.run)
}

// dropDrivers ends the work and forgets what came of it.
func (m model) dropDrivers() model {
	if m.drivers.cancel != nil {
		m.drivers.cancel()
	}
	m.drivers = drivers{run: m.drivers.run + 1}
	return m
}

// sensed takes the answer in, if it is that of the current run.
func (m model) sensed(msg sensedMsg) model {
	if msg.run != m.drivers.run || errors.Is(msg.err, context.Canceled) {
		return m
	}
	if msg.err != nil {
		m = m.dropDrivers()
		m.notice = notice{warn, "What the doubt comes from could not be worked out: " + messageOf(msg.err)}
		return m
	}
	m.drivers.found, m.notice = msg.found, notice{}
	m = m.lay()
	m.plan.roll = m.plan.roll.upTo("driver ").headed(driverHead)
	return m
}

// canAskDrivers says whether there is anything to ask.
func (m model) canAskDrivers() bool {
	a := m.appraisal()
	if m.screen != planScreen || a == nil {
		return false
	}
	p := m.plan.shown(a)
	return p != nil && p.Priced() && len(p.Routes) > 0 && m.drivers.plan != p.ID
}

// Drivers below leastShare of the variance are told of together, and at most
// mostDrivers are listed.
const (
	leastShare  = 0.005
	mostDrivers = 12
)

// driverLines list what the doubt of a plan's gain comes from, the most first.
func (l look) driverLines(a *econ.Appraisal, p *econ.PricedPlan, d drivers, width int) []line {
	if d.found == nil || d.plan != p.ID {
		return nil
	}
	s := d.found
	lines := append(l.head("What the doubt of the gain comes from"),
		l.paragraph(muted, "", fmt.Sprintf("Gain %s %s %s %s. Share: of the variance that stays when all else is known. Alone: what knowing it alone would take away. Gain with it low, high: at its 10 and 90 %% mark.",
			signed(p.Gain), l.signs.plusless, money(s.SD), a.Currency), width)...)
	t := table{
		sides:  []side{left, right, right, decimal, decimal, left},
		titles: []string{"", "share", "alone", "gain low", "high", ""},
	}
	var shown []*econ.Driver
	for i := range s.Drivers {
		n := &s.Drivers[i]
		if len(shown) == mostDrivers || n.Total < leastShare && !n.Turns {
			continue
		}
		shown = append(shown, n)
		turns := ""
		if n.Turns {
			turns = "! can turn it"
		}
		t.add(cell{plain, driverName(n)}, cell{strong, percent(max(0, n.Total))}, cell{plain, percent(max(0, n.First))},
			cell{plain, money(n.Low)}, cell{plain, money(n.High)}, cell{warn, turns})
	}
	head, rows := t.lay()
	lines = append(lines, head)
	for i, n := range shown {
		lines = append(lines, rows[i].at("driver "+n.ID, &claim{label: n.ID, value: string(n.Kind), inputID: n.ID}))
	}
	if more := len(s.Drivers) - len(shown); more > 0 {
		lines = append(lines, text(muted, fmt.Sprintf("%s less than %s each", plural(more, "more figure matters", "more figures matter"), percent(leastShare))))
	}
	return lines
}

// driverName is a figure's id, cut where it would leave no room for the rest.
func driverName(n *econ.Driver) string { return cutMiddle(n.ID, driverWidth) }

const (
	driverWidth = 30
	driverHead  = 5 // lines from the head of the part to its first row
)

// cutMiddle shortens a long id, of which both ends say most.
func cutMiddle(s string, most int) string {
	r := []rune(s)
	if len(r) <= most {
		return s
	}
	tail := most / 2
	return string(r[:most-tail-2]) + ".." + string(r[len(r)-tail:])
}
