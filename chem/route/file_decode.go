package route

import (
	"errors"
	"fmt"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// DecodeFile reads a route file strictly: unknown keys, unknown reagents and
// streams, unbalanced reactions and figures without a source are all problems
// with file, line and column. Its figures are added to figs.
func DecodeFile(doc *input.Document, figs *input.Figures) (*File, error) {
	root := doc.Root()
	d := decoder{figs: figs, file: doc.Name()}
	f := &File{text: doc.Data()}
	d.head(f, root)
	d.route = f.ID
	for _, t := range root.Tables("step") {
		f.Steps = append(f.Steps, d.step(t))
	}
	if len(f.Steps) == 0 {
		root.Problem("", "a route needs at least one [[step]]", "")
	}
	d.checkRoute(f, root)
	root.Close()
	return f, doc.Err()
}

// head reads the keys above the steps.
func (d *decoder) head(f *File, root *input.Table) {
	if root.Has("treatment") {
		f.Treatment, _ = root.Bool("treatment")
	}
	if root.Has("prepares") {
		f.Prepares, _ = root.Bool("prepares")
	}
	require(root, "id", "title")
	if !f.Treatment {
		require(root, "takes", "reaches", "out_of_reach")
	}
	if f.Wins() {
		require(root, "yields")
	}
	f.ID, _ = root.String("id")
	f.Title, _ = root.String("title")
	f.Summary, _ = root.String("summary")
	f.Takes, _ = root.Strings("takes")
	f.Yields, _ = root.String("yields")
	f.rest, _ = root.StringList("rest")
	if root.Has("brings") {
		f.Brings, _ = root.Strings("brings")
	}
	f.OutOfReach, _ = root.String("out_of_reach")
	f.reaches = d.species(root, "reaches")
	if root.Has("anions") {
		f.anions = d.species(root, "anions")
	}
	metals(root, "takes", f.Takes)
	metals(root, "brings", f.Brings)
}

// metals notes symbols that are none.
func metals(root *input.Table, key string, symbols []string) {
	for _, symbol := range symbols {
		if _, err := substance.ElementBySymbol(symbol); err != nil {
			root.Problem(key, plain(err), `a metal by its symbol, such as "Ag"`)
		}
	}
}

// decoder carries what the steps of one file share.
type decoder struct {
	figs  *input.Figures
	file  string
	route string
	seen  map[string]bool
}

// species reads a list of species names.
func (d *decoder) species(t *input.Table, key string) []substance.SpeciesID {
	names, _ := t.Strings(key)
	var ids []substance.SpeciesID
	for _, name := range names {
		id, err := substance.Find(name)
		if err != nil {
			t.Problem(key, plain(err), `species of the registry, such as "Ag^+" or "AgCl(s)"`)
			continue
		}
		ids = append(ids, id)
	}
	return ids
}

func (d *decoder) step(t *input.Table) StepFile {
	s := StepFile{Figures: map[string]Quantity{}, Words: map[string]string{}, Consumables: map[string]Quantity{}, table: t}
	require(t, "id", "kind", "in")
	s.ID, _ = t.String("id")
	s.Kind, _ = t.String("kind")
	s.In, _ = t.String("in")
	d.unique(&s, t)
	optional(t, "title", &s.Title)
	optional(t, "reagent", &s.Reagent)
	optional(t, "stop", &s.Stop)
	optional(t, "note", &s.Note)
	optional(t, "product", &s.Product)
	optional(t, "sale", &s.Sale)
	if t.Has("cautions") {
		s.Cautions, _ = t.Strings("cautions")
	}
	if t.Has("closed") {
		s.Closed, _ = t.Bool("closed")
	}
	if t.Has("out") {
		s.Out, _ = t.Strings("out")
	}
	if len(s.Out) == 0 {
		s.Out = []string{s.In}
	}
	kind, ok := kinds[s.Kind]
	if !ok { // which keys it may have depends on the kind
		if s.Kind != "" {
			t.Problem("kind", "no step kind is called "+quote(s.Kind), "one of "+strings.Join(kindNames(), ", "))
		}
		return s
	}
	d.parts(t, &s, kind)
	t.Close()
	d.checkKind(t, &s, kind)
	return s
}

func (d *decoder) parts(t *input.Table, s *StepFile, kind stepKind) {
	s.HandsOn = d.span(t, s.ID, "hands_on")
	s.Wait = d.span(t, s.ID, "wait")
	for _, f := range kind.figures {
		if t.Has(f.name) {
			s.Figures[f.name] = d.quantity(t, s.ID, f.name, f.kind)
		}
	}
	for _, name := range kind.words {
		if t.Has(name) {
			text, _ := t.String(name)
			s.Words[name] = text
		}
	}
	if t.Has("reaction") {
		d.reactions(t, s)
	}
	if t.Has("consumables") {
		if c, ok := t.Table("consumables"); ok {
			for _, item := range c.Keys() {
				s.Consumables[item] = d.quantity(c, s.ID, item, units.CountKind)
			}
			c.Close()
		}
	}
}

// unique notes a step id that the file has used before: ids name inputs.
func (d *decoder) unique(s *StepFile, t *input.Table) {
	if d.seen == nil {
		d.seen = map[string]bool{}
	}
	if d.seen[s.ID] {
		t.Problem("id", "two steps are called "+quote(s.ID), "give each step an id of its own")
	}
	d.seen[s.ID] = true
}

// reactions reads `reaction`: one string, a list of strings, or a list of
// tables with `run` and `above` (a temperature).
func (d *decoder) reactions(t *input.Table, s *StepFile) {
	list, _ := t.StringList("reaction")
	for _, text := range list {
		r := StepReaction{AboveC: -300}
		text, above, conditional := strings.Cut(text, " above ")
		if conditional {
			_, dist, err := units.Parse(above, units.TemperatureKind)
			if err != nil {
				t.Problem("reaction", plain(err), `"… above 250 degC"`)
			}
			if s.Kind != "calcine" {
				t.Problem("reaction", "a reaction has a temperature only in a step of kind “calcine”", "leave “above …” out")
			}
			r.AboveC = units.Temperature(dist.Mean).Celsius()
		}
		reaction, err := substance.ParseReaction(text)
		if err != nil {
			t.Problem("reaction", plain(err), "a reaction balanced in every element and in charge")
			continue
		}
		r.Reaction = reaction
		s.Reactions = append(s.Reactions, r)
	}
}

// quantity reads a figure: a table of value, source and perhaps why.
func (d *decoder) quantity(t *input.Table, step, key string, kinds ...units.Kind) Quantity {
	q := noQuantity
	inner, ok := t.Table(key)
	if !ok {
		return q
	}
	defer inner.Close()
	q.Source, _ = inner.String("source")
	optional(inner, "why", &q.Why)
	if strings.TrimSpace(q.Source) == "" {
		inner.Problem("source", "every figure of a route says where it comes from", `a published source, "common practice" or "assumption" with its why`)
	}
	inner.Require("value", `value = "`+kinds[0].Example()+`"`)
	fig, ok := inner.Figure("value", kinds...)
	if !ok {
		return q
	}
	if fig.Kind == units.Fraction {
		bounded(inner, key, &fig)
	}
	q.Kind = fig.Kind
	q.Ref = d.add(fig, step, key, q.Source)
	return q
}

func (d *decoder) add(fig input.Figure, step, key, source string) input.Ref {
	fig.ID = "route/" + d.route + "/" + step + "/" + key
	fig.Origin = input.RouteFile
	fig.Source, fig.File = source, d.file
	return d.figs.Add(fig)
}

// span reads a time such as "10 min + 2 min/L": terms joined by "+".
func (d *decoder) span(t *input.Table, step, key string) Span {
	s := Span{noQuantity, noQuantity, noQuantity}
	if !t.Has(key) {
		return s
	}
	inner, ok := t.Table(key)
	if !ok {
		return s
	}
	defer inner.Close()
	source, _ := inner.String("source")
	why := ""
	optional(inner, "why", &why)
	if strings.TrimSpace(source) == "" {
		inner.Problem("source", "every figure of a route says where it comes from", `"common practice", or a published source`)
	}
	inner.Require("value", `value = "10 min + 2 min/L"`)
	text, ok := inner.String("value")
	if !ok {
		return s
	}
	for _, term := range strings.Split(text, " + ") {
		kind, dist, err := units.Parse(term, units.HoursKind, units.HoursPerVolumeKind, units.HoursPerMassKind)
		if err != nil {
			inner.Problem("value", plain(err), `a time such as "10 min + 2 min/L"`)
			continue
		}
		fig := input.Figure{Kind: kind, Dist: dist, Text: term, Position: inner.Position("value")}
		q := Quantity{Kind: kind, Source: source, Why: why}
		switch kind {
		case units.HoursPerVolumeKind:
			q.Ref = d.add(fig, step, key+" per litre", source)
			s.PerLitre = q
		case units.HoursPerMassKind:
			q.Ref = d.add(fig, step, key+" per kilogram", source)
			s.PerKilogram = q
		default:
			q.Ref = d.add(fig, step, key, source)
			s.Fixed = q
		}
	}
	return s
}

// require notes every key of the list that a table lacks.
func require(t *input.Table, keys ...string) {
	for _, key := range keys {
		t.Require(key, "")
	}
}

func optional(t *input.Table, key string, into *string) {
	if t.Has(key) {
		*into, _ = t.String(key)
	}
}

func quote(s string) string { return "“" + s + "”" }

// plain says what is wrong without naming the package that found it.
func plain(err error) string {
	var parse *units.ParseError
	if errors.As(err, &parse) {
		return parse.Message
	}
	text := err.Error()
	for _, prefix := range []string{"route: ", "substance: ", "units: "} {
		text = strings.TrimPrefix(text, prefix)
	}
	return text
}

// nearest quotes a word, with the nearest of those known if one is near.
func nearest(word string, known []string) string {
	if near := input.Nearest(word, known); near != "" {
		return fmt.Sprintf("%q; the nearest is %q", word, near)
	}
	return fmt.Sprintf("%q", word)
}
