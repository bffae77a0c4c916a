package econ

import (
	"strings"
	"testing"

	"afterpour/chem/route"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// Every look is that of a species of the registry, under its canonical name, and
// says what is seen.
func TestLooksAreOfSpecies(t *testing.T) {
	for name, l := range looks {
		id, err := substance.Find(name)
		if err != nil || id.Species().Name != name || l.name == "" || l.sight == "" {
			t.Errorf("%q is %v, %v: %+v", name, id, err, l)
		}
	}
}

// litreOf is a litre with so many grams of metals and mol/L of chloride.
func litreOf(chloride float64, metals map[string]float64) route.Portion {
	p := route.Portion{Liquid: units.Litre, Chloride: chloride}
	for _, symbol := range sortedKeys(metals) {
		p.Dissolved = append(p.Dissolved, route.Amount{Name: symbol, Mass: units.Mass(metals[symbol]) * units.Gram})
	}
	return p
}

func TestColour(t *testing.T) {
	for _, test := range []struct {
		p    route.Portion
		want string
	}{
		{litreOf(0, map[string]float64{"Cu": 20, "Ag": 10}), "deep blue"},
		{litreOf(3, map[string]float64{"Cu": 78}), "green"},
		{litreOf(0, map[string]float64{"Cu": 0.3}), "pale blue"},
		{litreOf(0, map[string]float64{"Cu": 0.01, "Zn": 20, "Ag": 15}), "colourless"},
		{litreOf(0, map[string]float64{"Ni": 5}), "green"},
		{litreOf(0, map[string]float64{"Cu": 0.2, "Fe": 40}), "greenish"},
		{litreOf(0, map[string]float64{"Fe": 40}), "greenish brown"},
		{litreOf(0, map[string]float64{"Au": 1}), "yellow-brown"},
		{route.Portion{}, ""},
	} {
		if got := colour(test.p); got != test.want {
			t.Errorf("%+v is %q, want %q", test.p.Dissolved, got, test.want)
		}
	}
}

// A sign is told only of what can be seen: a trace of gas or of a second solid
// is not.
func TestSigns(t *testing.T) {
	s := route.StepRecord{
		Kind: "add", In: "vessel", Out: []string{"vessel"},
		Reactions: []string{"Cu^2+ + 2 OH^- -> Cu(OH)2(s)", "2 Ag^+ + 2 OH^- -> Ag2O(s) + H2O(l)", "Cu(s) + 4 H^+ + 2 NO3^- -> Cu^2+ + 2 NO2(g) + 2 H2O(l)"},
		Before:    litreOf(0, map[string]float64{"Cu": 20}),
		Entries:   []route.Entry{{Kind: route.Gas, Item: "NO2", Amount: 0.01}},
	}
	after := litreOf(0, nil)
	after.Stream, after.Dry = "vessel", 100*units.Gram
	after.Solids = []route.Amount{{Name: "Cu(OH)2(s)", Mass: 99 * units.Gram}, {Name: "Ag2O(s)", Mass: units.Gram}}
	s.After = []route.Portion{after}
	got := strings.Join(new(sheetMaker).signs(&s), " ")
	if !strings.Contains(got, "pale blue gel") || !strings.Contains(got, "from deep blue to colourless") {
		t.Errorf("signs are %q", got)
	}
	if strings.Contains(got, "Silver oxide") || strings.Contains(got, "brown fume") {
		t.Errorf("signs of traces: %q", got)
	}
	s.Entries[0].Amount = 1
	if got := strings.Join(new(sheetMaker).signs(&s), " "); !strings.Contains(got, "red-brown fume") {
		t.Errorf("a gram of nitrogen dioxide shows no sign: %q", got)
	}
}

// A scrubber takes the fume: the step that gives it shows it all the same.
func TestSignsOfFume(t *testing.T) {
	s := route.StepRecord{Kind: "calcine", In: "dry salts", Out: []string{"calcine", "fume"}, Reactions: []string{"2 Cu^2+ + 4 NO3^- -> 2 CuO(s) + 4 NO2(g) + O2(g)"}}
	got := strings.Join(new(sheetMaker).signs(&s), " ")
	if !strings.Contains(got, "red-brown fume") || strings.Contains(got, "Oxygen") {
		t.Errorf("signs are %q", got)
	}
}
