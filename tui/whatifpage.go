package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"afterpour/econ"

	"github.com/charmbracelet/x/ansi"
)

// groupTitles head the groups of sliders.
var groupTitles = map[string]string{
	econ.GroupLot: "The lot", econ.GroupContent: "Content, as a multiple of what it is", econ.GroupPrice: "Prices",
	econ.GroupWage: "Own labour", econ.GroupStated: "What is stated of the lot",
}

// lay sets the page out: the advice as it stands and as it would be, the best
// plans, and the figures that can be moved.
func (w whatIf) lay(l look, base *econ.Appraisal, e experiment, width, height int) whatIf {
	room := width - cursorWidth
	w.top = w.headLines(l, base, width, height)
	w.roll = w.roll.size(width, height-len(w.top))
	if e == nil {
		w.roll = w.roll.fill([]line{text(plain, "Nothing can be moved.").at("none", nil)})
		return w
	}
	var lines []line
	group := ""
	sliders := e.Sliders()
	for i := range sliders {
		s := &sliders[i]
		if s.Group != group {
			group = s.Group
			if head := l.head(groupTitles[group]); len(lines) == 0 {
				lines = append(lines, head[1:]...)
			} else {
				lines = append(lines, head...)
			}
		}
		lines = append(lines, w.sliderLines(l, base, s, room)...)
	}
	w.roll = w.roll.fill(lines)
	return w
}

// headLines are the part always in sight: the advice and the best plans.
func (w whatIf) headLines(l look, base *econ.Appraisal, width, height int) []line {
	a := w.shown(base)
	now, tone := advice(a), strong
	if a.Verdict.Action != base.Verdict.Action || a.Verdict.Plan != base.Verdict.Plan {
		now, tone = "! "+now, warn
	}
	switch {
	case w.problem != "":
		now, tone = "! "+w.problem, warn
	case len(w.moves) == 0:
		now, tone = "the same: left and right move the figure in the row", muted
	}
	lines := []line{
		text(muted, "as it stands  ").with(plain, advice(base)),
		text(muted, "what if       ").with(tone, now),
		text(plain, ""),
	}
	lines = append(lines, w.planRows(l, base, a, width, max(3, (height-9)/3))...)
	return append(lines, text(muted, fmt.Sprintf("  %s as it stands  %s what if  %s the decision turns", l.signs.baseline, l.signs.knob, l.signs.turn)))
}

// planRows are the best plans as they would stand, each with where it stands.
func (w whatIf) planRows(l look, base, a *econ.Appraisal, width, most int) []line {
	t := table{
		sides:  []side{right, right, left, decimal, decimal, decimal},
		titles: []string{"place", "was", "plan", "net " + a.Currency, "was", "change"},
	}
	count := 0
	for i := range a.Plans {
		p := &a.Plans[i]
		if !p.Priced() || p.FoldedInto != "" && len(p.Routes) > 0 || count == most {
			continue
		}
		count++
		was, net, change := none, none, none
		if q := planByID(base, p.ID); q != nil && q.Priced() {
			was, net, change = fmt.Sprint(placeOf(base, q)), money(q.Net), signed(p.Net-q.Net)
		}
		mark := " "
		if p.ID == a.Verdict.Plan {
			mark = "*"
		}
		tone := plain
		if was != fmt.Sprint(placeOf(a, p)) {
			tone = warn
		}
		t.add(cell{plain, fmt.Sprint(placeOf(a, p))}, cell{tone, was}, cell{strong, mark + " " + cutMiddle(p.ID, max(20, width-48))},
			cell{strong, money(p.Net)}, cell{plain, net}, cell{plain, change})
	}
	head, rows := t.lay()
	return append([]line{head}, rows...)
}

// sliderLines are a figure that can be moved, and where the decision turns.
func (w whatIf) sliderLines(l look, base *econ.Appraisal, s *econ.Slider, room int) []line {
	value := w.value(s)
	moved := value != s.Value
	limit, known := w.limits[limitKey(s.ID, w.moves)]
	tone := plain
	if moved {
		tone = strong
	}
	row := text(tone, pad(cutMiddle(s.Label, sliderName), sliderName, false))
	if f := w.field; f != nil && f.slider.ID == s.ID {
		row = row.with(plain, strings.Repeat(" ", max(0, 8-ansi.StringWidth(f.input.Value())))).join(l.fieldLine(f.input, 9))
	} else {
		row = row.with(tone, pad(sliderText(s, value), 9, true))
	}
	row = row.with(muted, " "+pad(ansi.Truncate(strings.TrimSuffix(s.Unit, " of contained metal"), sliderUnit, ""), sliderUnit, false)+" ")
	var marks []float64
	if known {
		marks = turningAt(&limit)
	}
	size := min(max(8, room-ansi.StringWidth(row.String())-sliderWas), 48)
	row = row.join(l.track(s, value, marks, size))
	if moved {
		row = row.with(muted, " was "+sliderText(s, s.Value))
	}
	var c *claim
	if _, ok := base.Figures.ByID(s.ID); ok {
		c = &claim{label: s.Label, value: sliderText(s, s.Value) + " " + s.Unit, inputID: s.ID}
	}
	lines := []line{row.at(s.ID, c)}
	switch {
	case known && moved:
		lines = append(lines, l.paragraph(muted, "    "+l.signs.turn+" ", limitText(&limit), room)...)
	case w.sought != "" && strings.HasPrefix(w.sought, s.ID+"\n"):
		lines = append(lines, text(muted, "    looking for where the decision turns"+l.signs.more))
	}
	return lines
}

// Widths of a slider's row: its name, its unit, and where it was.
const (
	sliderName = 27
	sliderUnit = 10
	sliderWas  = 14
)

// sliderText writes a value of a slider without its unit.
func sliderText(_ *econ.Slider, value float64) string { return significant(value, 4) }

// track draws a slider: where the figure stands, where it is put, and where the
// decision turns.
func (l look) track(s *econ.Slider, value float64, marks []float64, size int) line {
	at := func(v float64) int {
		share := (v - s.From) / (s.To - s.From)
		return min(max(0, int(math.Round(share*float64(size-1)))), size-1)
	}
	cells := slices.Repeat([]span{{muted, l.signs.between}}, size)
	for _, v := range marks {
		if v >= s.From && v <= s.To {
			cells[at(v)] = span{warn, l.signs.turn}
		}
	}
	cells[at(s.Value)] = span{plain, l.signs.baseline}
	cells[at(value)] = span{accent, l.signs.knob}
	return line{spans: merged(cells)}
}

// turningAt are the places where the decision turns.
func turningAt(limit *econ.Threshold) []float64 {
	var marks []float64
	if w := limit.Work; !w.Never && !w.Always {
		marks = append(marks, w.At)
	}
	for _, o := range []*econ.Overtaking{limit.Below, limit.Above} {
		if o != nil {
			marks = append(marks, o.At)
		}
	}
	return marks
}

// limitText says where the decision turns along a slider.
func limitText(limit *econ.Threshold) string {
	s := &limit.Slider
	between := fmt.Sprintf("from %s to %s %s", sliderText(s, limit.From), sliderText(s, limit.To), s.Unit)
	var parts []string
	switch w := limit.Work; {
	case w.Never:
		parts = append(parts, "working it up gains nowhere "+between)
	case w.Always:
		parts = append(parts, "working it up gains everywhere "+between)
	case w.Upwards:
		parts = append(parts, fmt.Sprintf("working it up gains above %s %s", sliderText(s, w.At), s.Unit))
	default:
		parts = append(parts, fmt.Sprintf("working it up gains below %s %s", sliderText(s, w.At), s.Unit))
	}
	if o := limit.Below; o != nil {
		parts = append(parts, fmt.Sprintf("below %s the best is %s", sliderText(s, o.At), o.To))
	}
	if o := limit.Above; o != nil {
		parts = append(parts, fmt.Sprintf("above %s the best is %s", sliderText(s, o.At), o.To))
	}
	return strings.Join(parts, "; ")
}
