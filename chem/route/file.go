package route

import (
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// File is one route as data: who it is for, and its steps in order.
type File struct {
	ID, Title string
	Summary   string
	Takes     []string // metals it recovers, by symbol
	Brings    []string // metals that come along with them
	Yields    string   // id of the sale that its product is made for
	rest      []string // streams that are handed on to the next route
	// Treatment marks a route that wins nothing: it readies what is left for a
	// carrier, and comes last in a plan.
	Treatment bool
	// OutOfReach says why metal in other forms than reaches stays behind.
	OutOfReach string
	Steps      []StepFile

	reaches []substance.SpeciesID // forms of the metals that the route can take
	anions  []substance.SpeciesID // at least one of these must be in the liquor, if any is named
}

// StepFile is one step as it stands in a route file. Which fields a kind
// reads is said in that kind's own file.
type StepFile struct {
	ID, Kind, Title string
	In              string
	Out             []string
	Reagent         string
	Reactions       []StepReaction
	HandsOn         Span
	Wait            Span
	Figures         map[string]Quantity
	Words           map[string]string
	Stop, Note      string
	Cautions        []string
	Product         string // form of the product this step yields
	Sale            string // sale id, where it differs from the route's
	Consumables     map[string]Quantity
	table           *input.Table
}

// StepReaction is a reaction of a step with the temperature above which it
// runs; AboveC is -300 where temperature does not matter.
type StepReaction struct {
	substance.Reaction
	AboveC float64
}

// Quantity is a figure of a route file: a named input and where it comes from.
type Quantity struct {
	Ref    input.Ref
	Kind   units.Kind
	Source string
	Why    string
}

// Span is a time that may grow with the liquid and the solid in hand:
// fixed + perLitre·V + perKilogram·m. Missing terms have Ref NoRef.
type Span struct {
	Fixed, PerLitre, PerKilogram Quantity
}

var noQuantity = Quantity{Ref: input.NoRef}

// DecodeFile reads a route file strictly: unknown keys, unknown reagents and
// streams, unbalanced reactions and figures without a source are all problems
// with file, line and column. Its figures are added to figs.
func DecodeFile(doc *input.Document, figs *input.Figures) (*File, error) {
	root := doc.Root()
	d := decoder{figs: figs}
	f := &File{}
	if root.Has("treatment") {
		f.Treatment, _ = root.Bool("treatment")
	}
	require(root, "id", "title")
	if !f.Treatment {
		require(root, "takes", "yields", "reaches", "out_of_reach")
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
	d.route = f.ID
	for _, symbol := range append(append([]string{}, f.Takes...), f.Brings...) {
		if _, err := substance.ElementBySymbol(symbol); err != nil {
			root.Problem("takes", err.Error(), `a metal by its symbol, such as "Ag"`)
		}
	}
	for _, t := range root.Tables("step") {
		f.Steps = append(f.Steps, d.step(t))
	}
	if len(f.Steps) == 0 {
		root.Problem("", "a route needs at least one [[step]]", "")
	}
	d.streams(f, root)
	root.Close()
	return f, doc.Err()
}

// decoder carries what the steps of one file share.
type decoder struct {
	figs  *input.Figures
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
			t.Problem(key, err.Error(), `species of the registry, such as "Ag^+" or "AgCl(s)"`)
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
	if t.Has("out") {
		s.Out, _ = t.Strings("out")
	}
	if len(s.Out) == 0 {
		s.Out = []string{s.In}
	}
	kind, ok := kinds[s.Kind]
	if !ok {
		t.Problem("kind", "no step kind is called "+quote(s.Kind), "one of "+strings.Join(kindNames(), ", "))
		t.Close()
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
				t.Problem("reaction", err.Error(), `"… above 250 degC"`)
			}
			r.AboveC = units.Temperature(dist.Mean).Celsius()
		}
		reaction, err := substance.ParseReaction(text)
		if err != nil {
			t.Problem("reaction", err.Error(), "a reaction balanced in every element and in charge")
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
	fig, ok := inner.Figure("value", kinds...)
	if !ok {
		return q
	}
	q.Kind = fig.Kind
	q.Ref = d.add(fig, step, key, q.Source)
	return q
}

func (d *decoder) add(fig input.Figure, step, key, source string) input.Ref {
	fig.ID = "route/" + d.route + "/" + step + "/" + key
	fig.Origin = input.RouteFile
	fig.Source = source
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
	text, ok := inner.String("value")
	if !ok {
		return s
	}
	for _, term := range strings.Split(text, " + ") {
		kind, dist, err := units.Parse(term, units.HoursKind, units.HoursPerVolumeKind, units.HoursPerMassKind)
		if err != nil {
			inner.Problem("value", err.Error(), `a time such as "10 min + 2 min/L"`)
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

// checkKind notes what the kind needs and the step lacks.
func (d *decoder) checkKind(t *input.Table, s *StepFile, kind stepKind) {
	for _, name := range kind.needs {
		_, figure := s.Figures[name]
		_, word := s.Words[name]
		has := figure || word ||
			name == "reagent" && s.Reagent != "" || name == "reaction" && len(s.Reactions) > 0
		if !has {
			t.Problem("", "a step of kind "+quote(s.Kind)+" needs "+quote(name), "")
		}
	}
	if len(s.Out) < kind.outs {
		t.Problem("out", "this kind gives more than one stream", `such as out = ["chloride", "spent liquor"]`)
	}
	if s.Reagent != "" {
		if _, err := reagentByID(s.Reagent); err != nil {
			t.Problem("reagent", err.Error(), "an id of the reagent catalogue")
		}
	}
	for _, id := range s.Cautions {
		if _, err := hazardByID(id); err != nil {
			t.Problem("cautions", err.Error(), "an id of the hazard table")
		}
	}
}

// streams notes a step that takes a stream no earlier step has given.
func (d *decoder) streams(f *File, root *input.Table) {
	known := map[string]bool{"vessel": true}
	for i := range f.Steps {
		s := &f.Steps[i]
		if !known[s.In] {
			s.table.Problem("in", "no earlier step gives the stream "+quote(s.In), `the lot itself is "vessel"`)
		}
		for _, out := range s.Out {
			known[out] = true
		}
	}
	for _, name := range f.rest {
		if !known[name] {
			root.Problem("rest", "no step gives the stream "+quote(name), "")
		}
	}
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
