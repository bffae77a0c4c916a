package route

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// checkKind notes what the kind needs and the step lacks, and what does not
// resolve: reagents, species, hazards, words.
func (d *decoder) checkKind(t *input.Table, s *StepFile, kind stepKind) {
	for _, name := range kind.needs {
		_, figure := s.Figures[name]
		_, word := s.Words[name]
		has := figure || word ||
			name == "reagent" && s.Reagent != "" || name == "reaction" && (len(s.Reactions) > 0 || t.Has("reaction"))
		if !has {
			t.Problem("", "a step of kind "+quote(s.Kind)+" needs "+quote(name), "")
		}
	}
	if len(s.Out) < kind.outs {
		t.Problem("out", "this kind gives more than one stream", `such as out = ["chloride", "spent liquor"]`)
	}
	if most := kind.most(); len(s.Out) > most {
		t.Problem("out", fmt.Sprintf("a step of kind %s gives %d stream at most", quote(s.Kind), most), "leave the others out")
	}
	d.checkReagent(t, s)
	for _, id := range s.Cautions {
		if _, err := hazardByID(id); err != nil {
			t.Problem("cautions", plain(err), "an id of the hazard table")
		}
	}
	for _, word := range slices.Sorted(maps.Keys(s.Words)) {
		if message, hint := wrongWord(s.Kind, word, s.Words[word]); message != "" {
			t.Problem(word, message, hint)
		}
	}
	d.checkProduct(t, s)
}

// most is how many streams a kind can give.
func (k stepKind) most() int {
	if k.outs > 1 || k.fumes {
		return 2
	}
	return 1
}

// checkReagent notes a reagent that is unknown, or that the first reaction does
// not use.
func (d *decoder) checkReagent(t *input.Table, s *StepFile) {
	if s.Reagent == "" {
		return
	}
	if _, err := reagentByID(s.Reagent); err != nil {
		t.Problem("reagent", plain(err), "an id of the reagent catalogue")
		return
	}
	all, err := stock()
	if err != nil || len(s.Reactions) == 0 {
		return
	}
	g := all[s.Reagent]
	if s.Kind == "fuse" {
		if g, err = g.asSolid(); err != nil {
			t.Problem("reagent", plain(err), "a reagent that is a solid")
			return
		}
	}
	if _, ok := g.key(s.Reactions[0].Reaction); !ok {
		t.Problem("reagent", fmt.Sprintf("%s takes no part in %s", g.Name, s.Reactions[0].Text), "a reagent that gives what the first reaction uses up")
	}
}

// wordChoices are the words of which only some are known, by kind and word.
var wordChoices = map[string][]string{"add alone": {"acid"}, "dry by": {"air"}, "settle by": {"lift", "scrape"}}

// wrongWord says what is wrong with a word of a step.
func wrongWord(kind, word, value string) (message, hint string) {
	if known, ok := wordChoices[kind+" "+word]; ok && !slices.Contains(known, value) {
		return "only " + strings.Join(known, ", ") + " is known here, not " + quote(value), word + ` = "` + known[0] + `"`
	}
	switch word {
	case "ion":
		if _, err := substance.Find(value); err != nil {
			return plain(err), `a species of the registry, such as "H^+"`
		}
	case "metal":
		if _, ok := ionOf[value]; !ok {
			return "no cell is known for " + quote(value), "one of " + strings.Join(slices.Sorted(maps.Keys(ionOf)), ", ")
		}
	}
	return "", ""
}

// forms are the product forms that a buyer may take.
var forms = []string{"bar", "cement", "cathode", "salt", "sludge"}

// sells are the kinds of step that may yield a product; of the melting ones
// nothing else can come.
var sells = map[string]bool{"dry": false, "melt": true, "fuse": true}

func (d *decoder) checkProduct(t *input.Table, s *StepFile) {
	must, may := sells[s.Kind]
	switch {
	case s.Product == "" && must:
		t.Problem("", "a step of kind "+quote(s.Kind)+" yields a product", `product = "bar"`)
	case s.Product != "" && !may:
		t.Problem("product", "a step of kind "+quote(s.Kind)+" yields no product", "name it at a step of kind dry, melt or fuse")
	case s.Product != "" && !slices.Contains(forms, s.Product):
		t.Problem("product", "no form of product is called "+quote(s.Product), "one of "+strings.Join(forms, ", "))
	}
}

// checkRoute notes what does not go together in a route as a whole.
func (d *decoder) checkRoute(f *File, root *input.Table) {
	d.streams(f, root)
	if f.Treatment && f.Prepares {
		root.Problem("prepares", "a route either comes before the others or after them", "leave one of “treatment” and “prepares” out")
	}
	if !plainID(f.ID) && f.ID != "" {
		root.Problem("id", "an id is made of small letters, digits and hyphens", `id = "my-route"`)
	}
	product := slices.IndexFunc(f.Steps, func(s StepFile) bool { return s.Product != "" })
	if f.Wins() && len(f.Steps) > 0 && product < 0 {
		root.Problem("yields", "no step yields the product", `product = "bar" at its last step`)
	}
	if !f.Wins() && product >= 0 {
		f.Steps[product].table.Problem("product", "a route that only prepares or treats sells nothing", "leave “product” out")
	}
}

// plainID accepts ids that can stand in a plan's id and in a file name.
func plainID(id string) bool {
	return id != "" && len(id) <= 60 && strings.Trim(id, "abcdefghijklmnopqrstuvwxyz0123456789-") == ""
}

// streams notes a step that takes a stream no earlier step has given.
func (d *decoder) streams(f *File, root *input.Table) {
	known := map[string]bool{"vessel": true}
	for i := range f.Steps {
		s := &f.Steps[i]
		if !known[s.In] && s.In != "" {
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

// overWhole are the shares that may be more than everything: what is counted
// over something else.
var overWhole = []string{"excess", "moisture"}

// bounded notes a share over 100 %, and keeps the others within 0 to 100 % where
// their doubt would leave it.
func bounded(t *input.Table, key string, fig *input.Figure) {
	if slices.Contains(overWhole, key) {
		return
	}
	d := fig.Dist
	if !(d.Mean <= 1) || d.Shape == units.Uniform && !(d.High <= 1) {
		t.Problem("value", quote(key)+" is a share of the whole, and no more than 100 %", `value = "`+units.Fraction.Example()+`"`)
		return
	}
	if key == "efficiency" && !(d.Mean > 0) {
		t.Problem("value", "at an efficiency of 0 % nothing gets warm", `value = "40..60 %"`)
		return
	}
	if d.Shape != units.Exact && d.Shape != units.Uniform {
		fig.Dist = d.Bounded(0, 1)
	}
}
