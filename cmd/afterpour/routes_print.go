package main

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/route"
)

// routesJSON is the result of `routes --json`.
type routesJSON struct {
	SchemaVersion int         `json:"schema_version"`
	Routes        []routeJSON `json:"routes"`
}

type routeJSON struct {
	ID        string   `json:"id"`
	Title     string   `json:"title"`
	Summary   string   `json:"summary"`
	Takes     []string `json:"takes"`
	Brings    []string `json:"brings"`
	Yields    string   `json:"yields"`
	Prepares  bool     `json:"prepares"`
	Treatment bool     `json:"treatment"`
	User      bool     `json:"user"`
	File      string   `json:"file"` // "" for a built-in route
}

// fullRouteJSON is the result of `routes show --json`.
type fullRouteJSON struct {
	SchemaVersion int `json:"schema_version"`
	routeJSON
	Reaches    []string        `json:"reaches"`
	OutOfReach string          `json:"out_of_reach"`
	Anions     []string        `json:"anions"`
	Rest       []string        `json:"rest"`
	Steps      []routeStepJSON `json:"steps"`
}

type routeStepJSON struct {
	ID        string            `json:"id"`
	Title     string            `json:"title"`
	Kind      string            `json:"kind"`
	In        string            `json:"in"`
	Out       []string          `json:"out"`
	Reagent   string            `json:"reagent"`
	Reactions []string          `json:"reactions"`
	Figures   []routeFigureJSON `json:"figures"`
	Words     map[string]string `json:"words"`
	Closed    bool              `json:"closed"`
	Product   string            `json:"product"`
	Sale      string            `json:"sale"`
	Stop      string            `json:"stop"`
	Note      string            `json:"note"`
	Cautions  []string          `json:"cautions"`
	Watches   []watchJSON       `json:"watches"`
}

type routeFigureJSON struct {
	Key    string `json:"key"`
	Value  string `json:"value"`
	Source string `json:"source"`
	Why    string `json:"why"`
}

type watchJSON struct {
	Rule     string   `json:"rule"`
	Severity string   `json:"severity"`
	When     []string `json:"when"`
	Declared bool     `json:"declared"`
	Source   string   `json:"source"`
}

func newRouteJSON(f *route.File) routeJSON {
	return routeJSON{
		ID: f.ID, Title: f.Title, Summary: f.Summary, Takes: orEmpty(f.Takes), Brings: orEmpty(f.Brings), Yields: f.Yields,
		Prepares: f.Prepares, Treatment: f.Treatment, User: f.User, File: f.Path,
	}
}

func newFullRouteJSON(library *route.Library, f *route.File) fullRouteJSON {
	object := fullRouteJSON{
		SchemaVersion: schemaVersion, routeJSON: newRouteJSON(f), Reaches: orEmpty(f.Reaches()), OutOfReach: f.OutOfReach,
		Anions: orEmpty(f.Anions()), Rest: orEmpty(f.Rest()), Steps: []routeStepJSON{},
	}
	for i := range f.Steps {
		object.Steps = append(object.Steps, newRouteStepJSON(library, &f.Steps[i]))
	}
	return object
}

func newRouteStepJSON(library *route.Library, s *route.StepFile) routeStepJSON {
	object := routeStepJSON{
		ID: s.ID, Title: s.Title, Kind: s.Kind, In: s.In, Out: orEmpty(s.Out), Reagent: s.Reagent, Reactions: []string{},
		Figures: []routeFigureJSON{}, Words: s.Words, Closed: s.Closed, Product: s.Product, Sale: s.Sale, Stop: s.Stop, Note: s.Note,
		Cautions: orEmpty(s.Cautions), Watches: []watchJSON{},
	}
	for _, r := range s.Reactions {
		object.Reactions = append(object.Reactions, reactionText(r))
	}
	for _, f := range figuresOf(library, s) {
		object.Figures = append(object.Figures, routeFigureJSON{f.key, f.value, f.source, f.why})
	}
	for _, w := range s.Watches() {
		object.Watches = append(object.Watches, watchJSON{w.Rule, w.Severity, orEmpty(w.When), w.Declared, w.Source})
	}
	return object
}

func reactionText(r route.StepReaction) string {
	if r.AboveC > -273.15 {
		return fmt.Sprintf("%s above %g degC", r.Text, r.AboveC)
	}
	return r.Text
}

// stepFigure is a figure of a step as its file states it.
type stepFigure struct{ key, value, source, why string }

// figuresOf lists the figures of a step: first its own, then times, then what it
// uses up.
func figuresOf(library *route.Library, s *route.StepFile) []stepFigure {
	var list []stepFigure
	add := func(key string, q route.Quantity) {
		if q.Ref != input.NoRef && q.Source != "" {
			list = append(list, stepFigure{key, library.Figures().Get(q.Ref).Text, q.Source, q.Why})
		}
	}
	for _, key := range slices.Sorted(maps.Keys(s.Figures)) {
		add(key, s.Figures[key])
	}
	for _, span := range []struct {
		key string
		route.Span
	}{{"hands_on", s.HandsOn}, {"wait", s.Wait}} {
		add(span.key, span.Fixed)
		add(span.key, span.PerLitre)
		add(span.key, span.PerKilogram)
	}
	for _, key := range slices.Sorted(maps.Keys(s.Consumables)) {
		add(key, s.Consumables[key])
	}
	return list
}

// routesText lists the routes, a line or two each.
func routesText(routes []route.File) string {
	var text page
	rows := [][]string{}
	own := false
	for i := range routes {
		f := &routes[i]
		mark := ""
		if f.User {
			mark, own = "*", true
		}
		rows = append(rows, []string{f.ID + mark, purpose(f), f.Title})
	}
	text.table("", []align{left, left, left}, rows)
	if own {
		text.blank()
		text.text("", "* a route of your own")
	}
	return text.String()
}

// purpose says in two words what a route is for.
func purpose(f *route.File) string {
	switch {
	case f.Treatment:
		return "treats what is left"
	case f.Prepares:
		return "prepares " + strings.Join(f.Takes, ", ")
	}
	return "wins " + strings.Join(f.Takes, ", ")
}

// fullRouteText shows a route with everything that its file says.
func fullRouteText(library *route.Library, f *route.File) string {
	var text page
	text.text("", "%s: %s", f.ID, f.Title)
	if f.User {
		text.text("  ", "your own route, from %s", f.Path)
	}
	if f.Summary != "" {
		text.text("  ", "%s", f.Summary)
	}
	facts := []struct{ name, value string }{
		{"wins", strings.Join(f.Takes, ", ")},
		{"brings along", strings.Join(f.Brings, ", ")},
		{"reaches", strings.Join(f.Reaches(), ", ")},
		{"leaves", f.OutOfReach},
		{"needs one of", strings.Join(f.Anions(), ", ")},
		{"sold as", f.Yields},
		{"hands on", strings.Join(f.Rest(), ", ")},
	}
	for _, fact := range facts {
		if fact.value != "" {
			text.text(fmt.Sprintf("  %-12s  ", fact.name), "%s", fact.value)
		}
	}
	for i := range f.Steps {
		text.routeStep(library, i+1, &f.Steps[i])
	}
	if len(f.Steps) > 0 {
		text.heading("Looked at in every step")
		text.watches(f.Steps[0].Watches(), true)
	}
	return text.String()
}

func (p *page) routeStep(library *route.Library, number int, s *route.StepFile) {
	title := s.Title
	if title == "" {
		title = s.ID
	}
	p.blank()
	p.text(fmt.Sprintf("%2d. ", number), "%s [%s, %s]", title, s.ID, s.Kind)
	p.text("      ", "%s -> %s", s.In, strings.Join(s.Out, ", "))
	if s.Closed {
		p.text("      ", "in a closed vessel")
	}
	if s.Reagent != "" {
		p.text("      ", "reagent: %s", s.Reagent)
	}
	for _, r := range s.Reactions {
		p.text("      ", "%s", reactionText(r))
	}
	for _, key := range slices.Sorted(maps.Keys(s.Words)) {
		p.text("      ", "%s: %s", key, s.Words[key])
	}
	for _, f := range figuresOf(library, s) {
		p.text("      ", "%s", f)
	}
	p.routeStepEnd(s)
}

// String is the figure with its source, and why where the file says so.
func (f stepFigure) String() string {
	basis := f.source
	if f.why != "" {
		basis += "; " + f.why
	}
	return fmt.Sprintf("%s = %s (%s)", f.key, f.value, basis)
}

// routeStepEnd shows what a step gives, when it is done and what to beware of.
func (p *page) routeStepEnd(s *route.StepFile) {
	if s.Product != "" {
		p.text("      ", "yields: %s", strings.TrimSpace(s.Product+" "+s.Sale))
	}
	if s.Stop != "" {
		p.text("    = ", "done when %s", s.Stop)
	}
	if s.Note != "" {
		p.text("      ", "%s", s.Note)
	}
	for _, id := range s.Cautions {
		p.text("    ! ", "always: %s", id)
	}
	p.watches(s.Watches(), false)
}

// watches shows the thresholds that are looked at in every step, or those that
// are not.
func (p *page) watches(list []route.Watch, everywhere bool) {
	for _, w := range list {
		when := strings.Join(w.When, " and ")
		switch {
		case w.Everywhere != everywhere:
			continue
		case when == "" && w.Declared:
			when = "the lot declares it"
		case when == "":
			when = "always"
		case w.Declared:
			when += ", or the lot declares it"
		}
		p.text("    ! ", "%s %s: %s", w.Severity, w.Rule, when)
	}
}
