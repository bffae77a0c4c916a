package tui

import (
	"fmt"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/units"
	"afterpour/econ"

	"github.com/charmbracelet/x/ansi"
)

// residue is what stands in the vessel.
type residue struct {
	roll   roll
	vessel []line
	field  *saidField // of the lot, while it is typed
	foot   []line
}

// lay sets the page out: the vessel on the left, the facts beside it. Where
// both do not fit side by side, the figures go first.
func (r residue) lay(l look, a *econ.Appraisal, said []lot.Said, solids units.Volume, width, height int) residue {
	r.foot = nil
	if r.field != nil {
		r.foot = r.field.lines(l, width)
		height = max(1, height-len(r.foot))
	}
	metals := metalTable(a)
	beside := width - vesselWidth - vesselGap
	if metals.width() > beside-cursorWidth {
		metals.gap = 1
	}
	r.vessel = nil
	if metals.width() <= beside-cursorWidth {
		r.vessel = l.drawVessel(a.Report.Volume, solids, height)
		width = beside
	}
	r.roll = r.roll.size(width, height)
	room := r.roll.room()
	var lines []line
	lines = append(lines, l.metalLines(a, metals, room)...)
	lines = append(lines, l.liquorLines(a, room)...)
	lines = append(lines, r.saidLines(l, said)...)
	lines = append(lines, l.noteLines(a, room)...)
	r.roll = r.roll.fill(lines)
	return r
}

// vesselGap parts the drawing from the facts.
const vesselGap = 1

// view draws the vessel and the page side by side.
func (r residue) view(l look) []string {
	rows := r.roll.view(l)
	if r.vessel == nil {
		return rows
	}
	for i := range rows {
		drawn := ""
		if i < len(r.vessel) {
			drawn = l.draw(r.vessel[i], vesselWidth, false)
		}
		gap := strings.Repeat(" ", vesselWidth+vesselGap-ansi.StringWidth(drawn))
		rows[i] = strings.TrimRight(drawn+gap+rows[i], " ")
	}
	return rows
}

// metalTable is the metals: contained with doubt, dissolved, solid, worth at
// spot.
func metalTable(a *econ.Appraisal) table {
	t := table{
		sides:  []side{left, decimal, decimal, decimal, decimal},
		titles: []string{"", "contained g", "dissolved g", "solid g", a.Currency + " at spot"},
	}
	for i := range a.Metals {
		m := &a.Metals[i]
		report := reportOf(a, m.Metal)
		t.add(cell{strong, m.Metal}, cell{plain, gramsDoubt(m.Contained, m.SD)},
			cell{plain, gramsDoubt(m.Dissolved, report.DissolvedSD)}, cell{plain, gramsDoubt(m.Solid, report.SolidSD)},
			cell{plain, moneyOrNone(m.SpotValue)})
	}
	return t
}

// metalLines lists the metals, and below each in which solids it is and how it
// can be reached.
func (l look) metalLines(a *econ.Appraisal, t table, width int) []line {
	if len(t.rows) == 0 {
		return []line{text(plain, "No metal that this program knows of.").at("metals", nil)}
	}
	head, rows := t.lay()
	head.part = true
	lines := []line{head}
	for i := range rows {
		m := &a.Metals[i]
		lines = append(lines, rows[i].at(m.Metal, metalClaim(a, m)))
		lines = append(lines, l.metalNotes(a, m.Metal, width)...)
	}
	return lines
}

// reportOf finds what the lot says of a metal.
func reportOf(a *econ.Appraisal, metal string) *lot.MetalReport {
	for i := range a.Report.Metals {
		if a.Report.Metals[i].Metal == metal {
			return &a.Report.Metals[i]
		}
	}
	return &lot.MetalReport{}
}

// metalClaim says where the masses of a metal come from.
func metalClaim(a *econ.Appraisal, m *econ.MetalWorth) *claim {
	report := reportOf(a, m.Metal)
	c := &claim{
		label: m.Metal + " contained", value: gramsDoubt(m.Contained, m.SD) + " g",
		inputs: report.Inputs, inputID: m.PriceID,
	}
	c.why.Formula = report.Formula
	for _, e := range report.Estimates {
		fact := fmt.Sprintf("%s says %s: %s g, weight %s: %s", e.Label, e.Of, gramsDoubt(e.Mass, e.SD), percent(e.Weight), e.Formula)
		if e.Source != "" {
			fact += " (" + e.Source + ")"
		}
		c.facts = append(c.facts, fact)
	}
	if m.SpotValue != nil {
		c.facts = append(c.facts, fmt.Sprintf("contained mass at spot: %s %s. A buyer settles for less, and hands recover less.", money(*m.SpotValue), a.Currency))
	}
	for _, r := range reaches(a, m.Metal) {
		if r.reason != "" {
			c.facts = append(c.facts, fmt.Sprintf("%s reaches %s: %s", r.route, percent(r.share), r.reason))
		}
	}
	return c
}

// metalNotes are the lines below a metal: solids, reach, disagreement.
func (l look) metalNotes(a *econ.Appraisal, metal string, width int) []line {
	const indent = "    "
	var lines []line
	report := reportOf(a, metal)
	var solids []string
	for _, s := range report.SolidForms {
		solids = append(solids, fmt.Sprintf("%s g of %s", grams(s.Mass), s.Species))
	}
	if len(solids) > 0 {
		lines = append(lines, l.paragraph(muted, indent, "solid in "+strings.Join(solids, ", "), width)...)
	}
	var routes []string
	for _, r := range reaches(a, metal) {
		routes = append(routes, r.String())
	}
	if len(routes) > 0 {
		lines = append(lines, l.paragraph(muted, indent, "reached by "+strings.Join(routes, ", "), width)...)
	}
	if report.Disagree {
		lines = append(lines, l.paragraph(warn, "  ! ", fmt.Sprintf("statements disagree (p = %s), so the doubt is widened:", significant(report.P, 2)), width)...)
		for _, e := range report.Estimates {
			lines = append(lines, l.paragraph(plain, indent, fmt.Sprintf("%s, %s: %s g", e.Label, e.Of, gramsDoubt(e.Mass, e.SD)), width)...)
		}
	}
	return lines
}

// reach is how much of a metal a route gets at when it comes first.
type reach struct {
	route   string
	share   float64
	reason  string
	blocked bool // every plan that begins with it is blocked
}

// String is the reach for a list.
func (r reach) String() string {
	s := r.route + " " + percent(r.share)
	if r.blocked {
		s += " (blocked)"
	}
	return s
}

// reaches lists the routes that take a metal, in the order of the plans that
// begin with them.
func reaches(a *econ.Appraisal, metal string) []reach {
	var list []reach
	place := map[string]int{}
	for i := range a.Plans {
		p := &a.Plans[i]
		if p.Outcome == nil || len(p.Routes) == 0 {
			continue
		}
		if at, known := place[p.Routes[0]]; known {
			list[at].blocked = list[at].blocked && !p.Priced()
			continue
		}
		for _, r := range p.Outcome.Reach {
			if r.Route == p.Routes[0] && r.Metal == metal {
				place[r.Route] = len(list)
				list = append(list, reach{r.Route, r.Share, r.Reason, !p.Priced()})
				break
			}
		}
	}
	return list
}

// liquorLines tell of the liquor: volume, free acid, pH.
func (l look) liquorLines(a *econ.Appraisal, width int) []line {
	r, acid := &a.Report, &a.Report.Acid
	lines := l.head("Liquor")
	lines = append(lines, text(muted, pad("liquid", 13, false)).with(plain, doubt(r.Volume.Litres(), r.VolumeSD.Litres())+" L").
		at("liquid", &claim{label: "liquid", value: doubt(r.Volume.Litres(), r.VolumeSD.Litres()) + " L", inputID: "lot/vessel.liquid"}))
	name, amount, strength := "free acid", acid.FreeMol, float64(acid.Concentration)
	if amount < 0 {
		name, amount, strength = "alkali left", -amount, -strength
	}
	row := text(muted, pad(name, 13, false)).with(plain, doubt(amount, acid.SD)+" mol").with(plain, "   "+doubt(strength, float64(acid.ConcentrationSD))+" mol/L")
	lines = append(lines, row.at("acid", acidClaim(acid)))
	lines = append(lines, text(muted, pad("pH", 13, false)).with(plain, significant(r.PH, 2)).at("pH", &claim{label: "pH", value: significant(r.PH, 2), inputs: acid.Inputs, inputID: "lot/vessel.ph"}))
	if acid.HighMol > acid.LowMol {
		lines = append(lines, l.paragraph(muted, "    ", fmt.Sprintf("from the sources alone %s to %s mol: whether the metal dissolved to nitrogen dioxide or to nitric oxide is not known",
			significant(acid.LowMol, 3), significant(acid.HighMol, 3)), width)...)
	}
	if acid.Disagree {
		lines = append(lines, l.paragraph(warn, "  ! ", "statements about the acid disagree, so the doubt is widened:", width)...)
		for _, e := range acid.Estimates {
			lines = append(lines, l.paragraph(plain, "    ", fmt.Sprintf("%s: %s mol", e.Label, doubt(e.Mol, e.SD)), width)...)
		}
	}
	return lines
}

func acidClaim(acid *lot.AcidReport) *claim {
	c := &claim{label: "free acid", value: doubt(acid.FreeMol, acid.SD) + " mol", inputs: acid.Inputs}
	for _, e := range acid.Estimates {
		fact := fmt.Sprintf("%s: %s mol, weight %s: %s", e.Label, doubt(e.Mol, e.SD), percent(e.Weight), e.Formula)
		if e.Source != "" {
			fact += " (" + e.Source + ")"
		}
		c.facts = append(c.facts, fact)
	}
	return c
}

// noteLines are the notes on the lot and what it leaves to assumption.
func (l look) noteLines(a *econ.Appraisal, width int) []line {
	var lines []line
	if len(a.Report.Notes)+len(a.Notes) > 0 {
		lines = append(lines, l.head("Notes")...)
	}
	for i, n := range a.Report.Notes {
		t, lead := plain, "  "
		if n.Kind == lot.Conflict || n.Kind == lot.Caution {
			t, lead = warn, "! "
		}
		p := l.paragraph(t, lead, string(n.Kind)+": "+n.Text, width)
		p[0] = p[0].at(fmt.Sprint("note", i), &claim{label: string(n.Kind), value: n.Text, inputs: n.Inputs})
		lines = append(lines, p...)
	}
	for i, n := range a.Notes {
		p := l.paragraph(plain, "  ", n, width)
		p[0] = p[0].at(fmt.Sprint("remark", i), nil)
		lines = append(lines, p...)
	}
	if len(a.Report.Assumed) == 0 {
		return lines
	}
	lines = append(lines, l.head("Assumed, because the lot does not say")...)
	for _, ref := range a.Report.Assumed {
		f := a.Figures.Get(ref)
		value := units.FormatDist(f.Kind, f.Dist)
		lines = append(lines, text(accent, "  "+strings.TrimPrefix(f.ID, "lot/")).with(plain, "  "+value).
			at(f.ID, &claim{label: f.ID, value: value, inputs: []input.Ref{ref}}))
	}
	return lines
}
