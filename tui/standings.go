package tui

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"afterpour/econ"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// standings are the plans by net value.
type standings struct {
	roll   roll
	top    []line   // verdict and heads of the columns, always in sight
	chosen []string // ids of the plans set abreast, by their letters
	all    bool     // plans folded into a better one of their kind are listed too
}

// lists says whether a plan has a place on the page. Those that differ from a
// better one only in what becomes of the rest are folded away unless chosen.
func (s standings) lists(p *econ.PricedPlan) bool {
	return s.all || p.FoldedInto == "" || len(p.Routes) == 0 || slices.Contains(s.chosen, p.ID)
}

// keep drops choices that are no plans any more.
func (s standings) keep(a *econ.Appraisal) standings {
	var kept []string
	for _, id := range s.chosen {
		if p := planByID(a, id); p != nil && p.Priced() {
			kept = append(kept, id)
		}
	}
	s.chosen = kept
	return s
}

// planByID finds a plan; nil if there is none of that id.
func planByID(a *econ.Appraisal, id string) *econ.PricedPlan {
	if a == nil {
		return nil
	}
	for i := range a.Plans {
		if a.Plans[i].ID == id {
			return &a.Plans[i]
		}
	}
	return nil
}

// choose sets a plan abreast or takes it back; false if four are chosen.
func (s standings) choose(id string) (standings, bool) {
	if i := slices.Index(s.chosen, id); i >= 0 {
		s.chosen = slices.Delete(slices.Clone(s.chosen), i, i+1)
		return s, true
	}
	if len(s.chosen) == len(letters) {
		return s, false
	}
	s.chosen = append(s.chosen[:len(s.chosen):len(s.chosen)], id)
	return s, true
}

// letter is the mark of a chosen plan, or a space.
func (s standings) letter(id string) string {
	if i := slices.Index(s.chosen, id); i >= 0 {
		return letters[i : i+1]
	}
	return " "
}

// lay sets the page out.
func (s standings) lay(l look, a *econ.Appraisal, o odds, width, height int) standings {
	s.top = l.verdictLines(a, o, width, max(2, height/4))
	room := max(1, width-cursorWidth)
	shown := slices.DeleteFunc(pointers(a.Plans), func(p *econ.PricedPlan) bool { return !p.Priced() || !s.lists(p) })
	longest := longestID(shown) + rankWidth
	figures, axis := fittingFigures(a, shown, longest, room), newMoneyAxis(a, shown)
	// One line a plan where its id, cut if need be, and an axis of some size fit
	// beside the figures; two lines where they do not.
	name := min(longest, room-figures.width-leastAxis-4)
	oneLine := name >= min(longest, rankWidth+leastID)
	if oneLine {
		axis.width = room - name - figures.width - 4
	} else {
		axis.width = max(10, room-figures.width-6)
	}
	axis.width = min(axis.width, 60)
	lead := strings.Repeat(" ", cursorWidth)
	if oneLine {
		lead += pad("", name+2, false)
	} else {
		lead += "   "
	}
	s.top = append(s.top,
		text(plain, lead).with(muted, axis.labels()).with(muted, "  ").join(figures.head),
		l.legend(a, width))
	s.roll = s.roll.size(width, height-len(s.top))
	var lines []line
	for i, p := range shown {
		lines = append(lines, s.planLines(l, a, p, name, oneLine, axis, figures.rows[i])...)
	}
	if len(shown) == 0 {
		lines = append(lines, text(plain, "No plan can be carried out and priced.").at("none", nil))
	}
	lines = append(lines, s.foldedLine(a, len(shown))...)
	lines = append(lines, l.blockedLines(a, s.roll.room())...)
	if s.roll.atFirst() { // whoever looks at the best plan goes on doing so
		s.roll = s.roll.fill(lines).end(-1)
	} else {
		s.roll = s.roll.fill(lines)
	}
	return s
}

// The least that the axis and a plan's id are given on one line.
const (
	leastAxis = 20
	leastID   = 30
)

// join adds the spans of another line.
func (l line) join(other line) line {
	for _, s := range other.spans {
		l = l.with(s.tone, s.text)
	}
	return l
}

// rankWidth is the room for the letter, the rank and the mark of the verdict
// before the id of a plan.
const rankWidth = 8

func longestID(plans []*econ.PricedPlan) int {
	longest := 0
	for _, p := range plans {
		longest = max(longest, ansi.StringWidth(p.ID))
	}
	return longest
}

// foldedLine says how many plans are folded away.
func (s standings) foldedLine(a *econ.Appraisal, shown int) []line {
	priced := len(pricedIDs(a))
	if shown == priced {
		return nil
	}
	return []line{text(muted, fmt.Sprintf("        %s that only end otherwise than one above", plural(priced-shown, "more plan", "more plans")))}
}

// placeOf is a plan's place among all, as the command line counts it too.
func placeOf(a *econ.Appraisal, p *econ.PricedPlan) int {
	for i := range a.Plans {
		if a.Plans[i].ID == p.ID {
			return i + 1
		}
	}
	return 0
}

// planLines is a plan: its letter, rank and id, its place on the money axis and
// its figures.
func (s standings) planLines(l look, a *econ.Appraisal, p *econ.PricedPlan, name int, oneLine bool, axis moneyAxis, figures line) []line {
	mark := " "
	if p.ID == a.Verdict.Plan {
		mark = "*"
	}
	equal := " "
	if p.Odds != nil && p.Odds.Equal {
		equal = l.signs.equal
	}
	row := text(accent, s.letter(p.ID)+" ").with(muted, pad(strconv.Itoa(placeOf(a, p)), 3, true)).with(accent, equal+mark+" ")
	if !oneLine {
		id := strings.Split(ansi.Wrap(p.ID, s.roll.room()-rankWidth, "+-"), "\n")
		lines := []line{row.with(strong, id[0]).at(p.ID, asking(ofPlan(p, "gain"), ofPlan(p)))}
		for _, more := range id[1:] {
			lines = append(lines, text(strong, strings.Repeat(" ", rankWidth)+more))
		}
		return append(lines, text(plain, "   ").join(axis.row(l.signs, p.Net, p.Odds)).with(plain, "  ").join(figures))
	}
	row = row.with(strong, pad(ansi.Truncate(p.ID, name-rankWidth, l.signs.more), name-rankWidth+2, false))
	return []line{row.join(axis.row(l.signs, p.Net, p.Odds)).with(plain, "  ").join(figures).at(p.ID, asking(ofPlan(p, "gain"), ofPlan(p)))}
}

// planTable is the figures of the priced plans, in columns.
type planTable struct {
	head  line
	rows  []line
	width int
}

// fittingFigures are the figures with as many columns of odds as leave one line
// a plan, else two lines with a good axis; without any where neither fits.
func fittingFigures(a *econ.Appraisal, plans []*econ.PricedPlan, longest, room int) planTable {
	most := 0
	if a.Draws > 0 {
		most = 2
	}
	for n := most; n > 0; n-- {
		t := planFigures(a, plans, n)
		if left := room - t.width - 4; left >= min(longest, rankWidth+leastID)+leastAxis || n == 1 && left >= leastAxis+10 {
			return t
		}
	}
	return planFigures(a, plans, 0)
}

// planFigures are the figures with so many columns of odds: of a gain, of being
// the best.
func planFigures(a *econ.Appraisal, plans []*econ.PricedPlan, chances int) planTable {
	t := table{
		sides:  []side{decimal, decimal, decimal, decimal, decimal, decimal},
		titles: []string{"net " + a.Currency, "gain", "no labour", "hands h", "elapsed h", "per h"},
	}
	t.sides = append(t.sides, []side{right, right}[:chances]...)
	t.titles = append(t.titles, []string{"gain odds", "best"}[:chances]...)
	for _, p := range plans {
		row := []cell{
			{strong, money(p.Net)},
			{moneyTone(p.Gain), signed(p.Gain)},
			{plain, money(p.NetWithoutLabour)},
			{plain, hours(p.HandsOnH)},
			{plain, hours(p.ElapsedH)},
			{plain, moneyOrNone(p.PerHour)},
		}
		t.add(append(row, chancesOf(p)[:chances]...)...)
	}
	head, rows := t.lay()
	return planTable{head, rows, ansi.StringWidth(head.String())}
}

// chancesOf are a plan's odds of a gain and of being the best.
func chancesOf(p *econ.PricedPlan) []cell {
	if p.Odds == nil {
		return []cell{{muted, none}, {muted, none}}
	}
	return []cell{{strong, percent(p.Odds.PPositive)}, {plain, percent(p.Odds.PBest)}}
}

// verdictLines say what to do and why, in at most so many lines of reason.
func (l look) verdictLines(a *econ.Appraisal, o odds, width, most int) []line {
	lines := l.paragraph(strong, "", a.Headline()+".", width)
	why := l.paragraph(plain, "", a.Verdict.Why, width)
	if len(why) > most {
		why = why[:most]
		why[most-1] = text(plain, ansi.Truncate(why[most-1].String(), width-2, "")+l.signs.more)
	}
	lines = append(lines, why...)
	if chances, state := verdictOdds(a), o.state(a); state != "" {
		lines = append(lines, text(strong, strings.TrimLeft(chances+"  ", " ")).with(muted, state))
	}
	if len(a.Stale) > 0 {
		lines = append(lines, text(warn, fmt.Sprintf("! %s stale: see Prices.", plural(len(a.Stale), "price used here is", "prices used here are"))))
	}
	return append(lines, text(plain, ""))
}

// advice is the headline for where there is one row: the figure before the plan,
// whose id may be long.
func advice(a *econ.Appraisal) string {
	v := a.Verdict
	p := planByID(a, v.Plan)
	switch {
	case v.PoolLots > 0:
		return fmt.Sprintf("%s %s, then %s", v.Action, plural(v.PoolLots, "like lot", "like lots"), v.Plan)
	case p == nil || !p.Priced():
		return v.Action
	case len(p.Routes) > 0:
		if v.PPositive != nil {
			return fmt.Sprintf("%s, gain %s %s, odds %s, by %s", v.Action, signed(v.Gain), a.Currency, percent(*v.PPositive), v.Plan)
		}
		return fmt.Sprintf("%s, gain %s %s, by %s", v.Action, signed(v.Gain), a.Currency, v.Plan)
	}
	return fmt.Sprintf("%s, net %s %s", v.Action, money(p.Net), a.Currency)
}

// legend explains the signs of the page.
func (l look) legend(a *econ.Appraisal, width int) line {
	s := l.signs
	row := text(muted, s.net+" net  "+s.zero+" zero  ")
	if a.Baseline != "" {
		row = row.with(muted, fmt.Sprintf("%s baseline: %s, %s  ", s.baseline, a.Baseline, money(a.BaselineNet))).
			with(muted, s.above+" gain  "+s.below+" loss  ")
	}
	if a.Draws > 0 && width >= ansi.StringWidth(row.String())+50 {
		row = row.with(muted, fmt.Sprintf("%s%s%s 10-50-90 %%  ", s.ends[0], s.median, s.ends[1]))
	}
	row = row.with(muted, "* verdict")
	if a.Draws > 0 {
		row = row.with(muted, "  "+s.equal+" equal")
	}
	return row
}

// planHere is the plan in the row of the cursor of the standings.
func (m model) planHere() *econ.PricedPlan {
	if m.screen != standingsScreen {
		return nil
	}
	return planByID(m.appraisal(), m.standings.roll.current().key)
}

// standingsKey is a key in the standings.
func (m model) standingsKey(k keyMap, msg tea.KeyMsg) (model, tea.Cmd) {
	switch {
	case key.Matches(msg, k.Open):
		m.plan.id = m.planHere().ID
		m.plan.roll = roll{}
		return m.open(planScreen), nil
	case key.Matches(msg, k.Choose):
		var ok bool
		if m.standings, ok = m.standings.choose(m.planHere().ID); !ok {
			m.notice = notice{warn, "Four plans are set abreast already: take one back first."}
		}
	case key.Matches(msg, k.All):
		m.standings.all = !m.standings.all
	case key.Matches(msg, k.ClearChoice):
		m.standings.chosen = nil
	case key.Matches(msg, k.Odds):
		return m.toggleOdds()
	}
	return m, nil
}
