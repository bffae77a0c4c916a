package lot

import (
	"fmt"
	"math"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// Decode reads a lot file strictly and registers each of its figures as
// "lot/" and its path. A figure without a doubt gets the default of its kind
// of measurement and the origin Assumed. The error is of type input.Problems
// and holds everything that is wrong with the file.
func Decode(doc *input.Document, figs *input.Figures) (*Lot, error) {
	table, err := doubts()
	if err != nil {
		return nil, err
	}
	root := doc.Root()
	d := &decoder{doc: doc, figs: figs, doubts: table, lot: &Lot{}}
	d.top(root)
	d.vessel(root)
	statements := 0
	for _, section := range []struct {
		key  string
		read func(*input.Table)
	}{
		{"dissolved", d.dissolved},
		{"added", d.added},
		{"plated", d.plated},
		{"taken", d.taken},
		{"measured", d.measured},
		{"titrated", d.titrated},
		{"solid", d.solid},
	} {
		tables := root.Tables(section.key)
		if statements += len(tables); statements > mostStatements {
			root.Problem(section.key, fmt.Sprintf("more than %d statements in one lot", mostStatements), "add up what is alike, or describe several lots")
			break
		}
		for _, t := range tables {
			section.read(t)
			t.Close()
		}
	}
	root.Close()
	d.crossCheck(root)
	if err := doc.Err(); err != nil {
		return nil, err
	}
	return d.lot, nil
}

// mostStatements bounds the tables that describe one lot: what was put into a
// jar and measured of it is a few dozen statements, and the time to work out
// their doubts grows with the square of their number.
const mostStatements = 300

// decoder carries what the sections share.
type decoder struct {
	doc    *input.Document
	figs   *input.Figures
	doubts map[string]doubt
	lot    *Lot
}

// is reports whether a key holds a word, without objecting to anything else.
func (d *decoder) is(t *input.Table, key, word string) bool {
	span, ok := d.doc.Span(t.Path() + "." + key)
	if !ok || span.Start < 0 || span.End > len(d.doc.Data()) || span.Start > span.End {
		return false
	}
	return fold(strings.Trim(string(d.doc.Data()[span.Start:span.End]), `"'`)) == word
}

// need notes each key that the table lacks, with an example of it.
func need(t *input.Table, keysAndExamples ...string) bool {
	complete := true
	for i := 0; i+1 < len(keysAndExamples); i += 2 {
		if key := keysAndExamples[i]; !t.Has(key) {
			complete = false
			t.Problem("", fmt.Sprintf("%s is missing here", key), fmt.Sprintf("for example %s = %s", key, keysAndExamples[i+1]))
		}
	}
	return complete
}

// text reads an optional string; ok only where the key holds one that is not blank.
func text(t *input.Table, key string) (string, bool) {
	if !t.Has(key) {
		return "", false
	}
	s, ok := t.String(key)
	if ok && strings.TrimSpace(s) == "" {
		t.Problem(key, key+" is empty", "write something, or leave the key out")
		return "", false
	}
	return strings.TrimSpace(s), ok
}

// figure reads an optional quantity; where its text gives no doubt, it takes
// the default of the measurement named by doubtID.
func (d *decoder) figure(t *input.Table, key, doubtID string, kinds ...units.Kind) input.Ref {
	return d.figureBy(t, key, func(units.Kind) string { return doubtID }, kinds...)
}

// figureBy is figure where the kind that was written decides how it was measured.
func (d *decoder) figureBy(t *input.Table, key string, doubtID func(units.Kind) string, kinds ...units.Kind) input.Ref {
	fig, ok := t.Figure(key, kinds...)
	if !ok || !d.plausible(t, key, &fig) {
		return input.NoRef
	}
	fig.ID = "lot/" + fig.ID
	if !statesDoubt(fig.Text) {
		d.assumeDoubt(&fig, doubtID(fig.Kind))
	}
	return d.add(fig)
}

// figureOr is figure, with the value of the row missingID where the key is absent.
func (d *decoder) figureOr(t *input.Table, key, doubtID, missingID string, kinds ...units.Kind) input.Ref {
	if t.Has(key) {
		return d.figure(t, key, doubtID, kinds...)
	}
	row := d.doubts[missingID]
	return d.assume(t, key, kinds[0], *row.Value, row)
}

// assume registers a figure that the file does not give.
func (d *decoder) assume(t *input.Table, key string, kind units.Kind, value float64, row doubt) input.Ref {
	path := key
	if t.Path() != "" {
		path = t.Path() + "." + key
	}
	fig := input.Figure{ID: "lot/" + path, Kind: kind, File: d.doc.Name(), Origin: input.Assumed, Source: row.sentence(kind, value)}
	fig.Dist = spread(kind, value, row.sd(value))
	fig.Text = units.FormatDist(kind, fig.Dist)
	return d.add(fig)
}

func (d *decoder) assumeDoubt(fig *input.Figure, doubtID string) {
	value := fig.Dist.Mean
	row := d.doubts[doubtID]
	if value == 0 && strings.HasPrefix(doubtID, "assay") {
		row = d.doubts["nothing-found-"+strings.ReplaceAll(fig.Kind.BaseUnit(), "/", "-per-")]
	}
	sd := row.sd(value)
	if sd == 0 { // a count or a ratio: exact as it was typed
		return
	}
	fig.Dist = spread(fig.Kind, value, sd)
	fig.Origin = input.Assumed
	fig.Source = row.sentence(fig.Kind, value)
}

func (d *decoder) add(fig input.Figure) input.Ref {
	ref := d.figs.Add(fig)
	d.lot.figs = append(d.lot.figs, ref)
	return ref
}

// spread is a value with a standard uncertainty, within what its kind allows.
func spread(kind units.Kind, value, sd float64) units.Dist {
	dist := units.Exactly(value)
	if sd > 0 {
		dist = units.NormalDist(value, sd)
	}
	switch kind {
	case units.Number:
		return dist
	case units.Fraction:
		return dist.Bounded(0, 1)
	}
	return dist.Bounded(0, math.Inf(1))
}

// largest is the most that a bench lot can hold of each kind, in base units. It
// keeps a slip of the unit, or a hostile file, out of the arithmetic.
var largest = map[units.Kind]float64{
	units.MassKind:              1e5,
	units.VolumeKind:            1e6,
	units.AreaKind:              1e4,
	units.LengthKind:            1,
	units.ConcentrationKind:     60,
	units.MassConcentrationKind: 1e4,
	units.TemperatureKind:       500,
	units.Fraction:              1,
	units.Number:                1e6,
	units.CountKind:             1e6,
}

// plausible notes a figure outside what a bench lot can hold.
func (d *decoder) plausible(t *input.Table, key string, fig *input.Figure) bool {
	most, bounded := largest[fig.Kind]
	dist := fig.Dist
	inside := dist.Mean <= most && dist.SD <= most && dist.Mean >= -most
	if dist.Shape == units.Uniform {
		inside = inside && dist.High <= most*(1+sumSlack)
	}
	if !bounded || inside {
		if fig.Kind == units.Fraction {
			fig.Dist = dist.Bounded(0, 1)
		}
		return true
	}
	if fig.Kind == units.Fraction {
		t.Problem(key, fmt.Sprintf("%s is more than 100 %%", fig.Text), `a share from "0 %" to "100 %"`)
		return false
	}
	t.Problem(key, fmt.Sprintf("%s is more than a bench lot can hold (%s)", fig.Text, units.Format(fig.Kind, most)),
		"check the unit; for example "+fig.Kind.Example())
	return false
}

// positive notes a figure that is not above zero: it is divided by.
func (d *decoder) positive(t *input.Table, key string, ref input.Ref) {
	if ref == input.NoRef {
		return
	}
	if fig := d.figs.Get(ref); !(fig.Dist.Mean > 0) {
		t.Problem(key, key+" must be more than zero", "for example "+fig.Kind.Example())
	}
}
