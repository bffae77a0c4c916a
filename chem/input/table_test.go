package input

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"afterpour/chem/units"
)

const typed = `text = "x"
texts = ["a", "b"]
whole = 5
real = 1.5
yes = true
date = 2026-11-20
moment = 2026-11-20T10:00:00Z
mass = "410 g ± 2 g"
ph = 0.3
share = 0.08
infinite = inf
negative = -0.5
spaced = "1 234,5  g"
[table]
key = 1
[[list]]
key = 1
[[list]]
key = 2
`

func TestGetters(t *testing.T) {
	d := parseSample(t, typed)
	r := d.Root()
	day := time.Date(2026, 11, 20, 0, 0, 0, 0, time.UTC)
	check := func(what string, got, want any, ok bool) {
		t.Helper()
		if !reflect.DeepEqual(got, want) || !ok {
			t.Errorf("%s = %v, %v; want %v", what, got, ok, want)
		}
	}
	text, ok := r.String("text")
	check("String", text, "x", ok)
	texts, ok := r.Strings("texts")
	check("Strings", texts, []string{"a", "b"}, ok)
	whole, ok := r.Int("whole")
	check("Int", whole, int64(5), ok)
	real, ok := r.Float("real")
	check("Float", real, 1.5, ok)
	real, ok = r.Float("whole")
	check("Float of a whole number", real, 5.0, ok)
	yes, ok := r.Bool("yes")
	check("Bool", yes, true, ok)
	date, ok := r.Date("date")
	check("Date", date, day, ok)
	table, ok := r.Table("table")
	check("Table", table.Path(), "table", ok)
	check("Tables", r.Tables("list")[1].Path(), "list[1]", true)
	check("Keys", r.Keys()[:3], []string{"text", "texts", "whole"}, true)
	check("Position", r.Position("real"), Position{4, 8}, true)
	if d.Err() != nil {
		t.Errorf("values of the right kind gave %v", d.Err())
	}
	if _, ok := r.String("absent"); ok || d.Err() != nil || r.Has("absent") || !r.Has("text") {
		t.Errorf("an absent key gave %v", d.Err())
	}
	if r.Tables("absent") != nil {
		t.Error("an absent array of tables is not nil")
	}
}

func TestFigure(t *testing.T) {
	d := parseSample(t, typed)
	r := d.Root()
	got, ok := r.Figure("mass", units.MassKind)
	want := Figure{
		ID: "mass", Kind: units.MassKind, Dist: units.NormalDist(0.41, 0.002).Bounded(0, got.Dist.High), Text: "410 g ± 2 g",
		File: "sample.toml", Position: Position{8, 8},
	}
	if !ok || !reflect.DeepEqual(got, want) {
		t.Errorf("Figure = %+v, want %+v", got, want)
	}
	if f, ok := r.Figure("ph", units.Number); !ok || f.Kind != units.Number || f.Dist.Mean != 0.3 || f.Text != "0.3" {
		t.Errorf("Figure of a bare number = %+v, %v", f, ok)
	}
	if f, ok := r.Figure("share", units.ConcentrationKind, units.Fraction); !ok || f.Kind != units.Fraction {
		t.Errorf("Figure of a bare share = %+v, %v", f, ok)
	}
	if f, ok := r.Figure("spaced", units.MassKind); !ok || f.Text != "1 234,5  g" {
		t.Errorf("Figure with no-break spaces = %+v, %v", f, ok)
	}
	for key, says := range map[string]string{
		"infinite": "finite", "negative": "negative", "whole": "no unit", "text": "number was expected", "yes": "in quotes", "table": "not a table",
	} {
		before := len(d.problems)
		if f, ok := r.Figure(key, units.MassKind, units.Fraction); ok && key != "whole" {
			t.Errorf("Figure(%q) = %+v, want none", key, f)
		}
		if key == "whole" { // a bare number is no mass
			r.Figure(key, units.MassKind)
		}
		if len(d.problems) != before+1 || !strings.Contains(d.problems[before].Error(), says) {
			t.Errorf("Figure(%q) noted %v, want %q", key, d.problems[before:], says)
		}
	}
}

func TestProblemAndClose(t *testing.T) {
	d := parseSample(t, "title = \"x\"\n[vessel]\nliquid = \"1 L\"\ncolour = 1\n")
	r := d.Root()
	v, _ := r.Table("vessel")
	v.String("liquid")
	v.Problem("liquid", "is \x1b[31mred", "")
	v.Problem("", "something is missing", "add it")
	r.Problem("none", "is not there", "")
	v.Close()
	r.Close()
	want := `sample.toml:1:1: none: is not there
    title = "x"
    ^
sample.toml:1:1: title: unknown key
    title = "x"
    ^
    hint: known here: vessel
sample.toml:2:2: vessel: something is missing
    [vessel]
     ^
    hint: add it
sample.toml:3:10: vessel.liquid: is ` + "\uFFFD" + `[31mred
    liquid = "1 L"
             ^
sample.toml:4:1: vessel.colour: unknown key
    colour = 1
    ^
    hint: known here: liquid`
	if got := d.Err().Error(); got != want {
		t.Errorf("got:\n%s\nwant:\n%s", got, want)
	}
}

func TestProblemsAreShownOnce(t *testing.T) {
	d := parseSample(t, "title = 5\n")
	d.Root().String("title")
	d.Root().String("title")
	if got := d.Err().(Problems); len(got) != 1 {
		t.Errorf("the same problem is listed %d times", len(got))
	}
}
