package route

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"afterpour/chem/data"
	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// poured is a stream made by hand: species by name, in mol. "H2O(l)" 55.3 is a
// litre of water.
type poured map[string]float64

func (p poured) stream(celsius float64) substance.Stream {
	s := substance.NewStream(units.Celsius(celsius))
	for name, mol := range p {
		s.Mol[substance.MustFind(name)] += mol
	}
	return s
}

// and returns a copy with further species.
func (p poured) and(more poured) poured {
	all := poured{}
	for _, list := range []poured{p, more} {
		for name, mol := range list {
			all[name] += mol
		}
	}
	return all
}

// litre is a litre of water.
var litre = poured{"H2O(l)": 55.3}

// jobOn returns a job on a vessel made by hand.
func jobOn(t testing.TB, lib *Library, vessel substance.Stream, bench Bench) Job {
	t.Helper()
	return Job{
		Inventory: lot.Inventory{Vessel: vessel, Volume: vessel.LiquidVolume()}, Values: lib.Figures().Central(), Bench: bench, Trace: true,
	}
}

// carriedOut runs a plan on a vessel made by hand.
func carriedOut(t testing.TB, lib *Library, job Job, id string) Outcome {
	t.Helper()
	parts := strings.Split(id, "+")
	o, err := lib.Simulate(context.Background(), job, NewPlan(parts[:len(parts)-1], parts[len(parts)-1]))
	if err != nil {
		t.Fatal(err)
	}
	return o
}

// said returns how severely a rule spoke up in an outcome: "" if not at all, and
// "stop" or "refuse" only where it blocks.
func said(o *Outcome, rule string) string {
	if o.Blocked != nil && strings.Contains(o.Blocked.Reason, o.Blocked.Severity) && o.Blocked.Rule == rule {
		return o.Blocked.Severity
	}
	for _, c := range o.Cautions() {
		if c.ID == rule {
			return c.Severity
		}
	}
	return ""
}

// library returns the built-in library with further routes of the test's own.
func library(t testing.TB, texts ...string) *Library {
	t.Helper()
	if len(texts) == 0 {
		lib, err := Builtin()
		if err != nil {
			t.Fatal(err)
		}
		return lib
	}
	var own []ownFile
	for i, text := range texts {
		doc, err := input.Parse(fmt.Sprintf("own-%d.toml", i), []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		f := ownFile{path: doc.Name(), doc: doc}
		f.id, _ = doc.Root().String("id")
		own = append(own, f)
	}
	lib, err := build(own)
	if err != nil {
		t.Fatal(err)
	}
	return lib
}

// TestRulesAndHazards: every rule is a row of the hazard table or tells about
// itself, and every row that stops or refuses has a rule, or a reason why not.
func TestRulesAndHazards(t *testing.T) {
	list, err := Rules()
	if err != nil {
		t.Fatal(err)
	}
	without := map[string]string{
		"copper-acetylene": "no route makes or uses acetylene; its torch is looked at by silver-acetylene",
		"cyanide-bleach":   "whatever is declared cyanide is refused by the rule cyanide before bleach comes up",
	}
	rows, err := data.Hazards()
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range rows {
		i := slices.IndexFunc(list, func(r Rule) bool { return r.ID == h.ID })
		if i < 0 && h.Severity != data.Warn && without[h.ID] == "" {
			t.Errorf("hazard %s (%s) has no rule", h.ID, h.Severity)
		}
		if i >= 0 && h.Severity == data.Refuse && !slices.ContainsFunc(list[i].Levels, func(l Level) bool { return l.Severity == SeverityRefuse }) {
			t.Errorf("hazard %s is to be refused, and its rule does not", h.ID)
		}
		for _, word := range h.Declared {
			if i >= 0 && !list[i].declaredBy("old "+strings.ToUpper(word)+" bath") {
				t.Errorf("hazard %s: declaring %q does not set its rule off", h.ID, word)
			}
		}
	}
	t.Logf("%d rules", len(list))
}

func TestRulesRefused(t *testing.T) {
	const head = "[[rule]]\nid = \"lead\"\ndo = \"x\"\n[[rule.level]]\n"
	for name, c := range map[string]struct{ text, want string }{
		"unknown hazard":     {"[[rule]]\nid = \"led\"\ndo = \"x\"\n[[rule.level]]\nseverity = \"caution\"\nat = \"add\"\nsource = \"x\"\n", "nearest is \"lead\""},
		"unknown severity":   {head + "severity = \"warn\"\nat = \"add\"\nsource = \"x\"\n", "no severity"},
		"unknown place":      {head + "severity = \"caution\"\nat = \"addd\"\nsource = \"x\"\n", "nearest is \"add\""},
		"no place":           {head + "severity = \"caution\"\nsource = \"x\"\n", "missing"},
		"no source":          {head + "severity = \"caution\"\nat = \"add\"\nsource = \" \"\n", "rests on"},
		"unknown reagent":    {head + "severity = \"caution\"\nat = \"add\"\nreagents = \"salt\"\nsource = \"x\"\n", "no reagent"},
		"blocks the carrier": {head + "severity = \"stop\"\nat = \"dispose\"\nsource = \"x\"\n", "stays open"},
		"refusal unlicensed": {head + "severity = \"refuse\"\nat = \"add\"\nsource = \"x\"\n", "who may take it"},
		"neither side":       {head + "severity = \"caution\"\nat = \"add\"\nwhen = [\"Pb over 1 g\"]\nsource = \"x\"\n", "above"},
		"unknown species":    {head + "severity = \"caution\"\nat = \"add\"\nwhen = [\"Pbb above 1 g\"]\nsource = \"x\"\n", "Pbb"},
		"wrong unit":         {head + "severity = \"caution\"\nat = \"add\"\nwhen = [\"Pb above 1 h\"]\nsource = \"x\"\n", "1 h"},
		"unknown gas":        {head + "severity = \"caution\"\nat = \"add\"\nwhen = [\"gas Xe above 1 g\"]\nsource = \"x\"\n", "Xe"},
		"twice":              {head + "severity = \"caution\"\nat = \"add\"\nsource = \"x\"\n" + head + "severity = \"caution\"\nat = \"add\"\nsource = \"x\"\n", "two rules"},
		"stop of no hazard":  {"[[rule]]\nid = \"own\"\nname = \"n\"\neffect = \"e\"\nsource = \"s\"\ndo = \"d\"\n[[rule.level]]\nseverity = \"stop\"\nat = \"add\"\nsource = \"x\"\n", "acknowledged"},
		"nothing to do":      {"[[rule]]\nid = \"lead\"\n[[rule.level]]\nseverity = \"caution\"\nat = \"add\"\nsource = \"x\"\n", "what to do"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := decodeRules("rules.toml", []byte(c.text))
			var problems input.Problems
			if !errors.As(err, &problems) {
				t.Fatalf("decodeRules gave %v", err)
			}
			if !strings.Contains(err.Error(), c.want) || problems[0].Position.Line == 0 {
				t.Errorf("got %v, want a problem with %q and its line", err, c.want)
			}
		})
	}
}
