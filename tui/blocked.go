package tui

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"afterpour/chem/route"
	"afterpour/econ"
)

// blockedLines list the blocked plans, those with one reason together.
func (l look) blockedLines(a *econ.Appraisal, width int) []line {
	groups := blockedGroups(a)
	if len(groups) == 0 {
		return nil
	}
	lines := l.head("Blocked")
	for _, g := range groups {
		p := g.plans[0]
		where := strings.Join(g.routes, ", ")
		if p.Blocked.Step != "" {
			where += ", at " + p.Blocked.Step
		}
		rows := l.paragraph(strong, "x ", fmt.Sprintf("%s (%s)", where, plural(len(g.plans), "plan", "plans")), width)
		rows[0] = rows[0].at(p.ID, nil)
		lines = append(lines, rows...)
		lines = append(lines, l.paragraph(plain, "  ", blockReason(p.Blocked), width)...)
	}
	return lines
}

// blockReason says why a plan is blocked, and what of it the user can lift.
func blockReason(b *route.Block) string {
	reason := b.Reason + unreachable(b.Unreachable)
	if b.Rule != "" && b.Severity == route.SeverityStop {
		reason += fmt.Sprintf(" [whoever has read this and goes on writes acknowledged = [%q] into the lot]", b.Rule)
	}
	return reason
}

// blockedGroup is the plans that are blocked at the same step for one reason.
type blockedGroup struct {
	routes []string
	plans  []*econ.PricedPlan
}

// blockedGroups puts plans together that are blocked for the same reason. The
// figures in a reason differ a little with what was done before, so they do not
// count.
func blockedGroups(a *econ.Appraisal) []blockedGroup {
	var groups []blockedGroup
	place := map[string]int{}
	for i := range a.Plans {
		p := &a.Plans[i]
		if p.Priced() {
			continue
		}
		reason := p.Blocked.Step + "\n" + strings.Map(func(r rune) rune {
			if r == '.' || '0' <= r && r <= '9' {
				return -1
			}
			return r
		}, p.Blocked.Reason)
		at, known := place[reason]
		if !known {
			at = len(groups)
			place[reason] = at
			groups = append(groups, blockedGroup{})
		}
		g := &groups[at]
		g.plans = append(g.plans, p)
		if at := blockedAt(p); !slices.Contains(g.routes, at) {
			g.routes = append(g.routes, at)
		}
	}
	return groups
}

// blockedAt is the route that blocks a plan, or the plan where no route does.
func blockedAt(p *econ.PricedPlan) string {
	if p.Blocked.Route != "" {
		return p.Blocked.Route
	}
	return p.ID
}

func unreachable(shares map[string]float64) string {
	metals := make([]string, 0, len(shares))
	for metal := range shares {
		metals = append(metals, metal)
	}
	sort.Strings(metals)
	var parts []string
	for _, metal := range metals {
		parts = append(parts, percent(shares[metal])+" of the "+metal)
	}
	if len(parts) == 0 {
		return ""
	}
	return " [out of reach: " + strings.Join(parts, ", ") + "]"
}
