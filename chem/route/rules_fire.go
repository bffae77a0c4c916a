package route

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// watched rule: the levels of a rule that can fire at a step.
type watchedRule struct {
	rule   *Rule
	levels []*Level
}

// watch works out once, when a route is loaded, which levels can fire at each of
// its steps.
func (f *File) watch(list []Rule) {
	for i := range f.Steps {
		s := &f.Steps[i]
		s.at = s.fixed(f)
		s.watched = nil
		for j := range list {
			w := watchedRule{rule: &list[j]}
			for k := range list[j].Levels {
				l := &list[j].Levels[k]
				if l.at&(s.at|s.perhaps()) != 0 && (len(l.Reagents) == 0 || slices.Contains(l.Reagents, s.Reagent)) {
					w.levels = append(w.levels, l)
				}
			}
			if len(w.levels) > 0 {
				s.watched = append(s.watched, w)
			}
		}
	}
}

// standingOrders is what a lot says about the rules, by their index.
type standingOrders struct {
	declared     []string // the words that hit, "" for none
	acknowledged []bool
}

// orders matches what a job declares and acknowledges with the rules. A word
// hits a rule if one of the rule's words stands in it: "copper cyanide bath"
// declares cyanide.
func orders(list []Rule, declared, acknowledged []string) standingOrders {
	o := standingOrders{declared: make([]string, len(list)), acknowledged: make([]bool, len(list))}
	for i := range list {
		for _, said := range declared {
			if list[i].declaredBy(said) {
				o.declared[i] = said
			}
		}
		for _, id := range acknowledged {
			o.acknowledged[i] = o.acknowledged[i] || strings.EqualFold(id, list[i].ID)
		}
	}
	return o
}

func (r *Rule) declaredBy(said string) bool {
	for _, word := range r.Declared {
		if strings.Contains(strings.ToLower(said), strings.ToLower(word)) {
			return true
		}
	}
	return false
}

// firing is a level that fired, with what was measured.
type firing struct {
	rule     *Rule
	level    *Level
	here     string // what was found, in words; empty outside a traced run
	declared string // the word of the lot that set it off
}

// look returns the first of the levels that fires in these places.
func (j *Job) look(p *probe, w *watchedRule, at situation, after bool) (firing, bool) {
	said := j.orders.declared[w.rule.index]
	for _, l := range w.levels {
		if l.at&at == 0 || l.after != after || !j.Trace && !l.severe() {
			continue
		}
		if l.onSay && said != "" {
			return firing{rule: w.rule, level: l, declared: said}, true
		}
		if len(l.When) == 0 && len(w.rule.Declared) > 0 || !l.met(p) {
			continue
		}
		f := firing{rule: w.rule, level: l}
		if j.Trace {
			f.here = l.found(p)
		}
		return f, true
	}
	return firing{}, false
}

func (l *Level) severe() bool { return l.Severity == SeverityStop || l.Severity == SeverityRefuse }

func (l *Level) met(p *probe) bool {
	for i := range l.When {
		if !p.holds(&l.When[i]) {
			return false
		}
	}
	return true
}

// found says what was measured against each threshold.
func (l *Level) found(p *probe) string {
	parts := make([]string, 0, len(l.When))
	for i := range l.When {
		c := &l.When[i]
		side := "from"
		if c.below {
			side = "below"
		}
		parts = append(parts, fmt.Sprintf("%s %s (%s %s)", c.what, c.write(p.value(c)), side, c.write(c.bound)))
	}
	return strings.Join(parts, ", ")
}

// write prints a value of what the condition looks at. A warming is a difference
// of temperatures, which knows no zero.
func (c *Condition) write(v float64) string {
	if c.measure == ofWarming {
		return fmt.Sprintf("%.0f K", v)
	}
	return short(c.kind, v)
}

// short prints a measured value to three digits.
func short(kind units.Kind, v float64) string {
	if kind == units.TemperatureKind {
		return units.Format(kind, math.Round(v))
	}
	if v > 0 {
		step := math.Pow(10, math.Floor(math.Log10(v))-2)
		v = math.Round(v/step) * step
	}
	return units.Format(kind, v)
}

// before looks at the rules that can be judged before the step is carried out.
// A refusal blocks at once; the rest waits to see whether the step is skipped.
func (r *run) before() ([]firing, *Block) {
	if len(r.step.watched) == 0 {
		return nil, nil
	}
	var fired []firing
	p := newProbe(r, r.in().stream)
	at := r.step.at | r.job.Bench.on(r.step.Kind)
	for i := range r.step.watched {
		f, ok := r.job.look(p, &r.step.watched[i], at, false)
		if !ok {
			continue
		}
		if f.level.Severity == SeverityRefuse {
			r.caution(f)
			return nil, f.block()
		}
		fired = append(fired, f)
	}
	return fired, nil
}

// after takes in what was found before the step, and looks at the rules that
// need what it booked. Every stop that is not acknowledged goes into the block.
func (r *run) after(fired []firing) *Block {
	p := newProbe(r, r.slot(r.step.Out[0]).stream)
	at := r.step.at | r.job.Bench.on(r.step.Kind)
	for i := range r.step.watched {
		w := &r.step.watched[i]
		f, ok := r.job.look(p, w, at, true)
		if !ok {
			continue
		}
		if k := slices.IndexFunc(fired, func(g firing) bool { return g.rule == f.rule }); k < 0 {
			fired = append(fired, f)
		} else if f.level.severe() && !fired[k].level.severe() {
			fired[k] = f
		}
	}
	var block *Block
	for _, f := range fired {
		r.caution(f)
		if f.level.Severity == SeverityStop && !r.job.orders.acknowledged[f.rule.index] {
			block = block.with(f.block())
		}
	}
	return block
}

// with puts a further stop into a block.
func (b *Block) with(other *Block) *Block {
	if b == nil {
		return other
	}
	b.Reason += " And: " + other.Reason
	return b
}

// caution puts a firing on the step's record.
func (r *run) caution(f firing) {
	bit := uint64(1) << f.rule.index
	if !r.job.Trace || f.rule.once && r.said&bit != 0 {
		return
	}
	r.said |= bit
	if f.level.Severity == SeverityNote {
		r.note("%s", f.text())
		r.say(f.brief())
		return
	}
	c := r.job.cautionOf(f)
	r.rec.Cautions = slices.DeleteFunc(r.rec.Cautions, func(other Caution) bool { return other.ID == c.ID })
	r.rec.Cautions = append(r.rec.Cautions, c)
}

func (j *Job) cautionOf(f firing) Caution {
	return Caution{
		ID: f.rule.ID, Severity: f.level.Severity, Text: f.text(), Brief: f.brief(), Source: f.rule.Source + "; threshold: " + f.level.basis(),
		Acknowledged: f.level.Severity == SeverityStop && j.orders.acknowledged[f.rule.index],
	}
}

func (l *Level) basis() string {
	if l.Why == "" {
		return l.Source
	}
	return l.Source + ", " + l.Why
}

// text says what can happen, what was found, and what to do.
func (f firing) text() string {
	text := f.rule.Name + ": " + f.rule.Effect
	switch {
	case f.declared != "":
		text += fmt.Sprintf(" The lot declares %q.", f.declared)
	case f.here != "" && f.level.Severity != SeverityNote:
		text += " Here: " + f.here + "."
	}
	return text + f.do()
}

// brief says what can happen and what to do, without what was found.
func (f firing) brief() string {
	return f.rule.Name + ": " + f.rule.Effect + f.do()
}

func (f firing) do() string {
	switch {
	case f.level.Do != "":
		return " " + f.level.Do
	case f.rule.Do != "":
		return " " + f.rule.Do
	}
	return ""
}

// block says why the plan waits, or is not worked up at all.
func (f firing) block() *Block {
	b := &Block{Rule: f.rule.ID, Severity: f.level.Severity}
	if f.level.Severity == SeverityRefuse {
		b.Reason = "refused: " + f.text() + " Who may take it: " + f.rule.Licensed
		return b
	}
	b.Reason = fmt.Sprintf("stopped: %s To go on all the same, write %q into the lot's list “acknowledged”.", f.text(), f.rule.ID)
	return b
}

// ruleBook is the table of rules with those about endings and the lot picked
// out.
type ruleBook struct {
	list []Rule
	at   map[situation][]watchedRule
}

var theRules = sync.OnceValues(func() (ruleBook, error) {
	list, err := rules()
	if err != nil {
		return ruleBook{}, err
	}
	b := ruleBook{list: list, at: map[situation][]watchedRule{}}
	for _, at := range []situation{atLot, atHold, atSell, atDispose} {
		for i := range list {
			w := watchedRule{rule: &list[i]}
			for k := range list[i].Levels {
				if l := &list[i].Levels[k]; l.at&at != 0 && len(l.Reagents) == 0 {
					w.levels = append(w.levels, l)
				}
			}
			if len(w.levels) > 0 {
				b.at[at] = append(b.at[at], w)
			}
		}
	}
	return b, nil
})

// judge looks at one stream in one place outside a step.
func (j *Job) judge(s substance.Stream, at situation) (fired []firing, block *Block) {
	p := newProbe(nil, s)
	for i := range j.rules.at[at] {
		w := &j.rules.at[at][i]
		f, ok := j.look(p, w, at, false)
		if !ok {
			continue
		}
		fired = append(fired, f)
		if f.level.Severity == SeverityRefuse || f.level.Severity == SeverityStop && !j.orders.acknowledged[w.rule.index] {
			block = block.with(f.block())
		}
	}
	return fired, block
}

// close looks at what is left at an ending, jar by jar, and puts what it finds
// on the outcome. Slag, and what was lost on the way, stand in no jar.
func (j *Job) close(out *Outcome, s *state, ending string) {
	at := endingPlaces[ending]
	if out.Blocked != nil || at == 0 {
		return
	}
	for _, jar := range append(slices.Clone(s.kept), s.slots...) {
		if jar.stream.Mass() <= 0 || jar.name == "slag" || jar.name == "lost" {
			continue
		}
		fired, block := j.judge(jar.stream, at)
		if block != nil && out.Blocked == nil {
			block.Step = ending
			out.Blocked = block
		}
		for _, f := range fired {
			if !j.Trace || f.level.Severity == SeverityNote {
				continue
			}
			if c := j.cautionOf(f); !slices.ContainsFunc(out.Closing, func(o Caution) bool { return o.ID == c.ID }) {
				out.Closing = append(slices.Clone(out.Closing), c)
			}
		}
	}
}

// Watch is a threshold that is looked at in a step.
type Watch struct {
	Rule, Severity string
	When           []string // all of it; empty: always, or where the lot declares it
	Declared       bool     // a word of the lot sets it off too
	Everywhere     bool     // looked at in every step of every route
	Source         string
}

// Watches lists the thresholds that are looked at in the step, on some bench.
func (s *StepFile) Watches() []Watch {
	var list []Watch
	for _, w := range s.watched {
		for _, l := range w.levels {
			watch := Watch{Rule: w.rule.ID, Severity: l.Severity, Declared: l.onSay, Everywhere: l.at&atAnyStep != 0 && len(l.Reagents) == 0, Source: l.basis()}
			for _, c := range l.When {
				watch.When = append(watch.When, c.Text)
			}
			list = append(list, watch)
		}
	}
	return list
}
