package route

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"afterpour/chem/data"
	"afterpour/chem/input"
)

// How hard a caution bites.
const (
	SeverityNote    = "note"    // said once on the sheet
	SeverityCaution = "caution" // shown at the step, before its danger
	SeverityStop    = "stop"    // the plan waits until the rule is acknowledged in the lot
	SeverityRefuse  = "refuse"  // the plan is not priced; only disposal by a licensed carrier stays open
)

// Rule is a caution as data. It fires on what is in the stream at a step, on the
// reagent that is about to be added, on what the step does, on the ending, or on
// what the lot declares, against thresholds that each say what they rest on.
type Rule struct {
	ID       string // of the hazard row, and what a lot acknowledges
	Name     string
	Effect   string
	Do       string // what to do about it
	Licensed string // who may take what is refused
	Source   string // of the effect
	Declared []string
	Levels   []Level // the first that fires counts, so the most severe comes first
	once     bool    // said at its first step only
	index    int
}

// Level is one threshold of a rule: how severe it is, where it is looked for,
// and what must hold. Without conditions it fires wherever it is looked for, or,
// in a rule with declared words, only where the lot says one of them.
type Level struct {
	Severity string
	At       []string // situations: step kinds, or words of situationWords
	Reagents []string // reagents about to be added; any if empty
	When     []Condition
	Do       string // instead of the rule's
	Source   string
	Why      string

	at     situation
	onSay  bool // fires without its conditions where the lot declares it
	after  bool // needs what the step has booked
	origin input.Position
}

//go:embed rules.toml
var ruleText []byte

// Rules returns the rules in the order in which they are looked at. Do not
// change them. An error means that the program was built with a faulty table.
func Rules() ([]Rule, error) { return rules() }

var rules = sync.OnceValues(func() ([]Rule, error) { return decodeRules("rules.toml", ruleText) })

// mostRules is what a state remembers by one bit each.
const mostRules = 64

// decodeRules reads a table of rules strictly.
func decodeRules(name string, text []byte) ([]Rule, error) {
	doc, err := input.Parse(name, text)
	if err != nil {
		return nil, err
	}
	root := doc.Root()
	var list []Rule
	for _, t := range root.Tables("rule") {
		rule := decodeRule(t)
		rule.index = len(list)
		if slices.ContainsFunc(list, func(other Rule) bool { return other.ID == rule.ID }) {
			t.Problem("id", "two rules are called "+quote(rule.ID), "one rule with several levels")
		}
		list = append(list, rule)
	}
	if len(list) > mostRules {
		root.Problem("", fmt.Sprintf("there are %d rules, and %d is the most", len(list), mostRules), "")
	}
	root.Close()
	return list, doc.Err()
}

func decodeRule(t *input.Table) Rule {
	require(t, "id", "level")
	r := Rule{}
	r.ID, _ = t.String("id")
	optional(t, "do", &r.Do)
	optional(t, "licensed", &r.Licensed)
	if t.Has("once") {
		r.once, _ = t.Bool("once")
	}
	if t.Has("declared") {
		r.Declared, _ = t.Strings("declared")
	}
	r.describe(t)
	for _, l := range t.Tables("level") {
		r.Levels = append(r.Levels, r.decodeLevel(l))
	}
	t.Close()
	return r
}

// describe takes name, effect and source from the hazard table, or from the rule
// itself where it is about no hazard.
func (r *Rule) describe(t *input.Table) {
	if t.Has("name") {
		require(t, "effect", "source")
		r.Name, _ = t.String("name")
		r.Effect, _ = t.String("effect")
		r.Source, _ = t.String("source")
		return
	}
	h, err := hazardRow(r.ID)
	if err != nil {
		t.Problem("id", plain(err), "a row of the hazard table, or a rule with name, effect and source")
		return
	}
	r.Name, r.Effect, r.Source = h.Name, h.Effect, h.Cite()
	for _, word := range h.Declared {
		if !slices.Contains(r.Declared, word) {
			r.Declared = append(r.Declared, word)
		}
	}
}

func (r *Rule) decodeLevel(t *input.Table) Level {
	require(t, "severity", "at", "source")
	l := Level{origin: t.Position("severity")}
	l.Severity, _ = t.String("severity")
	l.At, _ = t.StringList("at")
	l.Source, _ = t.String("source")
	optional(t, "why", &l.Why)
	optional(t, "do", &l.Do)
	if t.Has("reagents") {
		l.Reagents, _ = t.StringList("reagents")
	}
	for _, word := range l.At {
		bit, err := situationOf(word)
		if err != nil {
			t.Problem("at", plain(err), "one of "+strings.Join(situationNames(), ", "))
		}
		l.at |= bit
	}
	for _, id := range l.Reagents {
		if _, err := reagentByID(id); err != nil {
			t.Problem("reagents", plain(err), "ids of the reagent catalogue")
		}
	}
	if t.Has("when") {
		texts, _ := t.StringList("when")
		for _, text := range texts {
			c, err := parseCondition(text)
			if err != nil {
				t.Problem("when", plain(err), `such as "H^+ above 3 mol/L" or "solid Zn + solid Fe above 1 g"`)
			}
			l.When = append(l.When, c)
			l.after = l.after || c.measure.booked()
		}
	}
	r.checkLevel(t, &l)
	t.Close()
	return l
}

// checkLevel notes what does not go together in a level.
func (r *Rule) checkLevel(t *input.Table, l *Level) {
	severe := l.Severity == SeverityStop || l.Severity == SeverityRefuse
	switch {
	case !severe && l.Severity != SeverityCaution && l.Severity != SeverityNote:
		t.Problem("severity", "no severity is called "+quote(l.Severity), "note, caution, stop or refuse")
	case severe && l.at&atDispose != 0:
		t.Problem("at", "disposal by a licensed carrier stays open", "leave “dispose” out")
	case !severe && l.at&atLot != 0:
		t.Problem("at", "the lot as it stands is looked at for stops and refusals only", "name a step kind")
	case l.Severity == SeverityRefuse && (l.after || r.Licensed == ""):
		t.Problem("severity", "a refusal must be known before the step, and say who may take it", "licensed = …")
	case strings.TrimSpace(l.Source) == "":
		t.Problem("source", "every threshold says what it rests on", `a published source, "derived", or "assumption" with its why`)
	case l.Do == "" && r.Do == "":
		t.Problem("", "the rule does not say what to do", "do = …")
	}
	if _, err := hazardRow(r.ID); severe && err != nil {
		t.Problem("severity", "only a row of the hazard table can be acknowledged", "")
	}
	l.onSay = severe && len(r.Declared) > 0
}

// hazardRow finds a row of the hazard table.
func hazardRow(id string) (data.Hazard, error) {
	rows, err := data.Hazards()
	if err != nil {
		return data.Hazard{}, err
	}
	known := make([]string, 0, len(rows))
	for _, h := range rows {
		if h.ID == id {
			return h, nil
		}
		known = append(known, h.ID)
	}
	return data.Hazard{}, fmt.Errorf("route: no hazard is called %s", nearest(id, known))
}
