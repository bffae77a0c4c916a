package econ

import (
	"fmt"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// Bounds of what an outturn may say, so that no file can drive a figure out of
// the range of numbers.
const (
	mostMass  = 1e6 // kg
	mostHours = 1e6
	mostPoint = 1e3 // per cent a percentage point
)

// DecodeOutturns reads a file of outturns strictly. The error is of type
// input.Problems and holds everything that is wrong with the file.
func DecodeOutturns(doc *input.Document) ([]Outturn, error) {
	root := doc.Root()
	var list []Outturn
	for i, t := range root.Tables("outturn") {
		d := outturnReader{t}
		o := d.outturn()
		o.File, o.Number = doc.Name(), i+1
		if o.Replaces > i {
			t.Problem("replaces", "an entry corrects an earlier one", fmt.Sprintf("a number from 1 to %d", i))
		}
		list = append(list, o)
	}
	root.Close()
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return list, nil
}

// outturnReader reads one table.
type outturnReader struct{ *input.Table }

func (d outturnReader) outturn() Outturn {
	o := Outturn{Position: d.Position("")}
	if d.Require("date", "date = 2026-11-30") {
		o.Date, _ = d.Date("date")
	}
	o.Plan = d.word("plan", `plan = "copper-cementation+dispose"`)
	if d.Has("note") {
		o.Note, _ = d.String("note")
	}
	if d.Has("confirmed") {
		o.Confirmed, _ = d.Bool("confirmed")
	}
	if d.Has("replaces") {
		n, ok := d.Int("replaces")
		if ok && (n < 1 || n > 1e6) {
			d.Problem("replaces", "entries are counted from 1", "replaces = 1")
			n = 0
		}
		o.Replaces = int(n)
	}
	o.HandsOn, o.Elapsed = d.hours("hands_on"), d.hours("elapsed")
	for _, t := range d.Tables("product") {
		o.Products = append(o.Products, outturnReader{t}.product())
	}
	for _, t := range d.Tables("used") {
		o.Used = append(o.Used, outturnReader{t}.use())
	}
	d.Close()
	return o
}

// word reads a short text that must be there.
func (d outturnReader) word(key, hint string) string {
	if !d.Require(key, hint) {
		return ""
	}
	text, ok := d.String(key)
	if ok && (strings.TrimSpace(text) == "" || len(text) > 500) {
		d.Problem(key, "a short text belongs here", hint)
	}
	return text
}

func (d outturnReader) product() OutturnProduct {
	p := OutturnProduct{
		Route:   d.word("route", `route = "copper-cementation"`),
		Product: d.word("product", `product = "silver-bar"`),
		Metal:   d.word("metal", `metal = "Ag"`),
		Mass:    d.mass("mass", `mass = "41.2 g"`), MetalMass: d.mass("metal_in_it", `metal_in_it = "40.6 g"`),
		Expected: d.some("expected", `expected = "41.0 g ± 0.5 g"`), Contained: d.some("contained", `contained = "44.4 g ± 0.3 g"`),
	}
	if d.Has("fineness") {
		p.Fineness = d.fineness("fineness")
	}
	if d.Has("losses") {
		if t, ok := d.Table.Table("losses"); ok {
			for _, key := range t.Keys() {
				v, _ := t.Float(key)
				if !(v >= -mostPoint && v <= mostPoint) {
					t.Problem(key, "out of the range of any loss", "per cent of the metal for a percentage point, about 1")
				}
				p.Losses = append(p.Losses, OutturnLoss{key, v})
			}
			t.Close()
		}
	}
	d.Close()
	return p
}

// mass reads a mass that may be nothing.
func (d outturnReader) mass(key, hint string) units.Dist {
	if !d.Require(key, hint) {
		return units.Dist{}
	}
	fig, ok := d.Figure(key, units.MassKind)
	if ok && !(fig.Dist.Mean >= 0 && fig.Dist.Mean <= mostMass && fig.Dist.SD <= mostMass) {
		d.Problem(key, "out of the range of any bench", hint)
	}
	return fig.Dist
}

// some reads a mass that must be more than nothing: others are measured by it.
func (d outturnReader) some(key, hint string) units.Dist {
	m := d.mass(key, hint)
	if d.Has(key) && m.Mean == 0 {
		d.Problem(key, "more than nothing was to be expected", hint)
	}
	return m
}

// fineness reads parts in a thousand, or a percentage.
func (d outturnReader) fineness(key string) float64 {
	fig, ok := d.Figure(key, units.Number, units.Fraction)
	if !ok {
		return 0
	}
	f, fault := finenessOf(fig.Kind, fig.Dist)
	if fault != "" {
		d.Problem(key, fault, key+" = 985")
	}
	return f
}

// finenessOf turns a number or a share into parts in a thousand.
func finenessOf(kind units.Kind, dist units.Dist) (parts float64, fault string) {
	parts = dist.Mean
	if kind == units.Fraction {
		parts *= pure
	}
	switch {
	case !(parts > 0 && parts <= pure):
		return parts, "fineness runs from 0 to 1000 parts in a thousand"
	case parts <= 1:
		return parts, "fineness is in parts in a thousand, or in % with the sign"
	}
	return parts, ""
}

// hours reads a time with what was expected.
func (d outturnReader) hours(key string) *OutturnHours {
	if !d.Has(key) {
		return nil
	}
	t, ok := d.Table.Table(key)
	if !ok {
		return nil
	}
	defer t.Close()
	in := outturnReader{t}
	h := &OutturnHours{Noted: in.time("noted"), Expected: in.time("expected")}
	if t.Has("shares") {
		if s, ok := t.Table("shares"); ok {
			for _, route := range s.Keys() {
				v, _ := s.Float(route)
				if !(v >= 0 && v <= 1) {
					s.Problem(route, "a share runs from 0 to 1", route+" = 1")
				}
				h.Shares = append(h.Shares, OutturnShare{route, v})
			}
			s.Close()
		}
	}
	return h
}

func (d outturnReader) time(key string) float64 {
	const hint = `"2.5 h"`
	if !d.Require(key, key+" = "+hint) {
		return 0
	}
	fig, ok := d.Figure(key, units.HoursKind)
	if ok && !(fig.Dist.Mean > 0 && fig.Dist.Mean <= mostHours) {
		d.Problem(key, "a time is more than nothing", key+" = "+hint)
	}
	return fig.Dist.Mean
}

func (d outturnReader) use() OutturnUse {
	u := OutturnUse{Reagent: d.word("reagent", `reagent = "copper-scrap"`)}
	if d.Require("amount", `amount = "40 g"`) {
		fig, ok := d.Figure("amount", units.MassKind, units.VolumeKind)
		if ok && !(fig.Dist.Mean >= 0 && fig.Dist.Mean <= mostMass) {
			d.Problem("amount", "out of the range of any bench", `amount = "40 g"`)
		}
		u.Kind, u.Used = fig.Kind, fig.Dist.Mean
	}
	if d.Require("expected", `expected = "14 g"`) {
		fig, ok := d.Figure("expected", units.MassKind, units.VolumeKind)
		if ok && fig.Kind != u.Kind && d.Has("amount") {
			d.Problem("expected", "amount and expected are both by mass or both by volume", "")
		}
		u.Expected = fig.Dist.Mean
	}
	d.Close()
	return u
}
