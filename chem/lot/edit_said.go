package lot

import (
	"fmt"
	"math"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// Said is one value of a lot file, as it is typed and as it was understood.
type Said struct {
	Path  string // as Edit takes it
	Part  string // of the file: "vessel", "dissolved 1: contacts"; "" for the top
	Key   string // within the part
	Text  string // as typed; "" where the file leaves it out
	Taken string // as understood, "410 g ± 2 g, about 0.5 %"; "" for what is no figure
}

// askable are values that a lot may leave out and that a person is likely to
// learn later.
var askable = []struct{ path, part, key string }{
	{"vessel.liquid", "vessel", "liquid"},
	{"vessel.temperature", "vessel", "temperature"},
	{"vessel.ph", "vessel", "ph"},
	{"declared", "", "declared"},
	{"acknowledged", "", "acknowledged"},
	{"lots_per_year", "", "lots_per_year"},
}

// AllSaid lists every value of a lot file in the order of the file, then those
// that it leaves out and could have. The register is the one that Decode filled
// from it.
func AllSaid(doc *input.Document, figs *input.Figures) []Said {
	w := saidWalk{doc: doc, figs: figs, seen: map[string]bool{}}
	w.table(doc.Root(), "")
	for _, a := range askable {
		if !w.seen[a.path] {
			w.list = append(w.list, Said{Path: a.path, Part: a.part, Key: a.key})
		}
	}
	return w.list
}

type saidWalk struct {
	doc  *input.Document
	figs *input.Figures
	seen map[string]bool
	list []Said
}

// sections are the arrays of tables of a lot file.
var sections = map[string]bool{
	"dissolved": true, "added": true, "plated": true, "taken": true, "measured": true, "titrated": true, "solid": true,
}

func (w *saidWalk) table(t *input.Table, part string) {
	for _, key := range t.Keys() {
		path := key
		if t.Path() != "" {
			path = t.Path() + "." + key
		}
		if text, ok := Typed(w.doc, path); ok {
			w.seen[path] = true
			w.list = append(w.list, Said{Path: path, Part: part, Key: within(part, path), Text: text, Taken: taken(w.figs, path)})
			continue
		}
		if t.Path() == "" && sections[key] {
			for i, entry := range t.Tables(key) {
				w.table(entry, fmt.Sprintf("%s %d", key, i+1))
			}
			continue
		}
		if inner, ok := t.Table(key); ok {
			if part == "" {
				w.table(inner, key)
			} else {
				w.table(inner, part)
			}
		}
	}
}

// within is a path without what its part says already.
func within(part, path string) string {
	if part == "" {
		return path
	}
	if _, rest, ok := strings.Cut(path, "."); ok {
		return rest
	}
	return path
}

// taken says how a figure was understood.
func taken(figs *input.Figures, path string) string {
	ref, ok := figs.ByID("lot/" + path)
	if !ok {
		return ""
	}
	f := figs.Get(ref)
	return Echo(f.Kind, f.Dist)
}

// Echo writes a quantity with its doubt, absolute and as a share: "410 g ± 2 g,
// about 0.5 %". A quantity without doubt, a share, and a temperature have the
// one form alone.
func Echo(kind units.Kind, dist units.Dist) string {
	text := units.FormatDist(kind, dist)
	if !(dist.SD > 0) || dist.Mean == 0 || dist.Shape == units.Uniform {
		return text
	}
	switch kind {
	case units.Fraction, units.TemperatureKind, units.Number:
		return text
	}
	percent := 100 * dist.SD / math.Abs(dist.Mean)
	if !(percent < 1000) {
		return text
	}
	return fmt.Sprintf("%s, about %.2g %%", text, percent)
}

// Read makes an edit as Edit does and says how its text is understood: a figure
// with its doubt, anything else as it is typed. Errors are those of Edit.
func Read(name string, data []byte, path, text string) (string, error) {
	changed, _, err := Edit(name, data, path, text)
	if err != nil {
		return "", err
	}
	doc, err := input.Parse(name, changed)
	if err != nil {
		return "", err
	}
	figs := new(input.Figures)
	if _, err := Decode(doc, figs); err != nil {
		return "", err
	}
	if echo := taken(figs, path); echo != "" {
		return echo, nil
	}
	return text, nil
}
