package econ

import (
	"fmt"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// Chain answers where a figure comes from: the figure itself first, then step by
// step what it rests on, down to what was typed. Screen, text and JSON show the
// same chain.
type Chain struct {
	What  string `json:"what"`
	Links []Link `json:"links"`
}

// Link is one figure of a chain. A link one level further in is what the last
// one above it rests on. Each input stands once in a chain: at the statement or
// the step that it belongs to, else at the last link that uses it.
type Link struct {
	Level   int        `json:"level"` // 0: the figure asked about
	What    string     `json:"what"`
	Value   *float64   `json:"value"` // in Unit; null where there is none to give
	Unit    string     `json:"unit"`
	Text    string     `json:"text"` // the value as people write it, with its doubt if it has one
	Formula string     `json:"formula"`
	Reason  string     `json:"reason"`
	Sources []string   `json:"sources"`
	Inputs  []WhyInput `json:"inputs"`

	// What its inputs are dealt out by: all that it rests on; the route step that
	// it is about, as the ids of the step's figures begin; how near to what was
	// typed it stands.
	rests input.Set
	step  string
	grip  grip
}

// grip says which link shows an input of the lot, of those that rest on it.
type grip uint8

const (
	loose     grip = iota // a figure of a plan: it rests on nearly everything
	vessel                // what stands in the vessel
	statement             // a statement about one metal or the acid
)

// WhyInput is a named input at the end of a chain.
type WhyInput struct {
	ID     string  `json:"id"`
	Text   string  `json:"text"`  // as typed; for a figure that stands in no file, its value
	Taken  string  `json:"taken"` // the value and doubt that are reckoned with, where the text does not say both
	Value  float64 `json:"value"` // in Unit
	Unit   string  `json:"unit"`  // the base unit of its kind
	Origin string  `json:"origin"`
	Source string  `json:"source"`
	File   string  `json:"file"`
	Line   int     `json:"line"` // from 1; 0 where it stands in no file
	Column int     `json:"column"`
}

// The levels of a link.
const (
	itself = iota
	restsOn
	behindThat
)

// reasons builds a chain.
type reasons struct {
	a     *Appraisal
	chain Chain
}

func (a *Appraisal) because(what string) *reasons { return &reasons{a: a, chain: Chain{What: what}} }

// add appends a link with a value.
func (r *reasons) add(level int, what string, value float64, unit, text string, why route.Why) *Link {
	r.chain.Links = append(r.chain.Links, Link{
		Level: level, What: what, Value: &value, Unit: unit, Text: text,
		Formula: why.Formula, Reason: why.Reason, Sources: append([]string{}, why.Sources...), rests: why.Inputs,
	})
	return &r.chain.Links[len(r.chain.Links)-1]
}

// say appends a link of words alone.
func (r *reasons) say(level int, what string, why route.Why) *Link {
	l := r.add(level, what, 0, "", "", why)
	l.Value = nil
	return l
}

// money appends an amount of money.
func (r *reasons) money(level int, what string, m Money, why route.Why) *Link {
	return r.add(level, what, m.Float(), r.a.Currency, r.a.money(m), why)
}

// mass appends a mass, with its doubt if sd is more than 0.
func (r *reasons) mass(level int, what string, m, sd units.Mass, why route.Why) *Link {
	text := units.Format(units.MassKind, float64(m))
	if sd > 0 {
		text = units.FormatDist(units.MassKind, units.NormalDist(float64(m), float64(sd)))
	}
	return r.add(level, what, m.Grams(), "g", text, why)
}

// done deals the inputs out and returns the chain.
func (r *reasons) done() Chain {
	links := r.chain.Links
	at := make([]input.Set, len(links))
	var all input.Set
	for i := range links {
		all = all.Union(links[i].rests)
	}
	for _, ref := range all.Refs() {
		i := r.holder(ref)
		at[i] = at[i].With(ref)
	}
	for i := range links {
		links[i].Inputs = []WhyInput{}
		for _, ref := range at[i].Refs() {
			links[i].Inputs = append(links[i].Inputs, r.a.whyInput(ref))
		}
		links[i].rests = nil
	}
	return r.chain
}

// holder is the link that shows an input.
func (r *reasons) holder(ref input.Ref) int {
	id := r.a.Figures.Get(ref).ID
	best, rank := 0, -1
	for i := range r.chain.Links {
		l := &r.chain.Links[i]
		if !l.rests.Has(ref) {
			continue
		}
		mine := int(l.grip)
		if l.step != "" && strings.HasPrefix(id, l.step) {
			mine = int(statement) + 1
		}
		if mine >= rank {
			best, rank = i, mine
		}
	}
	return best
}

// whyInput is an input as a reader needs to see it.
func (a *Appraisal) whyInput(ref input.Ref) WhyInput {
	f := a.Figures.Get(ref)
	in := WhyInput{
		ID: f.ID, Text: asText(f), Value: f.Dist.Mean, Unit: f.Kind.BaseUnit(),
		Origin: f.Origin.String(), Source: f.Source, File: f.File, Line: f.Position.Line, Column: f.Position.Column,
	}
	if taken := units.FormatDist(f.Kind, f.Dist); taken != in.Text && f.Dist.Shape != units.Exact && !saysDoubt(f.Text) {
		in.Taken = taken
		if isPrice(f.ID) {
			in.Taken = takenPrice(f)
		}
	}
	return in
}

// saysDoubt tells whether a text gives its doubt itself.
func saysDoubt(text string) bool {
	return strings.Contains(text, "±") || strings.Contains(text, "..") || strings.Contains(text, "+/-") || strings.Contains(text, "+-")
}

// takenPrice is a price with its doubt in the unit it was typed for.
func takenPrice(f input.Figure) string {
	if f.Kind == units.Fraction {
		return units.FormatDist(f.Kind, f.Dist)
	}
	per, size := perUnit(f.Kind, f.Text)
	if per != "" {
		per = " / " + per
	}
	return priceText(f.Dist.Mean*size) + " ± " + priceText(f.Dist.SD*size) + per
}

// WhyInput is the chain of an input: what was typed, where, and how it is taken.
func (a *Appraisal) WhyInput(ref input.Ref) Chain {
	f := a.Figures.Get(ref)
	r := a.because(f.ID)
	r.add(itself, f.ID, f.Dist.Mean, f.Kind.BaseUnit(), units.FormatDist(f.Kind, f.Dist), route.Why{
		Reason: f.Source, Inputs: input.Set{}.With(ref),
	})
	return r.done()
}

// WhyOf is the chain of any figure of which the program has kept what it rests
// on.
func (a *Appraisal) WhyOf(what string, value float64, unit, text string, why route.Why) Chain {
	r := a.because(what)
	r.add(itself, what, value, unit, text, why)
	r.vessel(restsOn, why.Inputs)
	return r.done()
}

// vessel ends a chain with what stands in the vessel, where the figure rests on
// the lot at all.
func (r *reasons) vessel(level int, rests input.Set) {
	lots := r.within(rests, "lot/")
	if lots == nil {
		return
	}
	if last := len(r.chain.Links) - 1; last >= 0 {
		level = min(level, r.chain.Links[last].Level+1)
	}
	report := &r.a.Report
	text := units.Format(units.VolumeKind, float64(report.Volume))
	if report.VolumeSD > 0 {
		text = units.FormatDist(units.VolumeKind, units.NormalDist(float64(report.Volume), float64(report.VolumeSD)))
	}
	link := r.add(level, "what stands in the vessel", report.Volume.Litres(), "L", text, route.Why{
		Formula: "what went in, less what was taken out, and what was measured, at equilibrium", Inputs: lots,
	})
	link.grip = vessel
}

// String writes the chain as text, one level of indentation for each level.
func (c Chain) String() string {
	var b strings.Builder
	for i := range c.Links {
		c.Links[i].write(&b)
	}
	return b.String()
}

func (l *Link) write(b *strings.Builder) {
	indent := strings.Repeat("  ", l.Level)
	line := func(label, text string) {
		if text != "" {
			b.WriteString(indent + label + text + "\n")
		}
	}
	head := l.What
	if l.Text != "" {
		head += ": " + l.Text
	}
	line("", head)
	line("  worked out as ", l.Formula)
	line("  because ", l.Reason)
	for i := range l.Inputs {
		line("  from ", l.Inputs[i].String())
	}
	for _, s := range l.Sources {
		line("  source: ", s)
	}
}

// String writes an input on one line: its id, what was typed, how it is taken,
// where it stands and who says so.
func (in *WhyInput) String() string {
	text := in.ID + " = " + in.Text
	if in.Taken != "" {
		text += ", taken as " + in.Taken
	}
	where := in.Origin
	if in.File != "" && in.Line > 0 {
		where += fmt.Sprintf(", %s:%d", in.File, in.Line)
	}
	text += " (" + where + ")"
	if in.Source != "" {
		text += ": " + in.Source
	}
	return text
}
