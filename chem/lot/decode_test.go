package lot

import (
	"errors"
	"strings"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// decode reads a text that may be wrong.
func decode(t testing.TB, text string) (*Lot, *input.Figures, input.Problems) {
	t.Helper()
	figs := &input.Figures{}
	doc, err := input.Parse("lot.toml", []byte(text))
	if err == nil {
		var l *Lot
		if l, err = Decode(doc, figs); err == nil {
			return l, figs, nil
		}
	}
	var problems input.Problems
	if !errors.As(err, &problems) || len(problems) == 0 {
		t.Fatalf("error is %T %v, want input.Problems", err, err)
	}
	return nil, figs, problems
}

// The lot of the plan of the program, with every section and key.
const everyKey = `title = "Contact strip, jars 3 and 4"
date  = 2026-11-02
declared = ["cyanide", "mercury"]
acknowledged = ["nitric_metal"]
lots_per_year = 6

[vessel]
liquid      = "3.2 L ± 5 %"
temperature = "20 degC"
ph          = "0.3 ± 0.3"

[[dissolved]]
what   = "silver-plated brass contacts"
mass   = "410 g ± 2 g"
share  = { Ag = "8.0 % ± 1 %", Cu = "64 %", Zn = "rest" }
extent = "100 %"
by     = "nitric acid"

[[dissolved]]
what      = "spoon"
mass      = "30 g"
grade     = "sterling 925"
extent    = "90 %"
remainder = "in vessel"

[[added]]
what     = "nitric acid"
strength = "68 %"
amount   = "1.6 L"

[[added]]
what     = "hydrochloric acid"
strength = "6 mol/L"
amount   = "13,5 mL ± 10 %"

[[added]]
what     = "sodium chloride"
strength = "100 %"
amount   = "2 g"

[[plated]]
metal     = "silver"
area      = "850 cm2"
thickness = "37 um ± 25 %"

[[taken]]
metal = "Au"
mass  = "3.1 g"

[[measured]]
metal = "Ag"
in    = "liquid"
value = "4.9 g/L ± 4 %"
by    = "AAS"

[[measured]]
metal = "Ag"
in    = "solid"
value = "61 %"

[[titrated]]
of      = "Ag"
sample  = "10.00 mL"
titrant = "0.1000 mol/L"
used    = "4.55 mL ± 0.05 mL"
ratio   = 1

[[titrated]]
of      = "acid"
sample  = "1.00 mL"
titrant = "0.1 mol/L"
used    = "7 mL"

[[solid]]
compound = "AgCl"
wet_mass = "38 g"
moisture = "30 %"
purity   = "86 %"
`

func TestDecodeEveryKey(t *testing.T) {
	l, figs, problems := decode(t, everyKey)
	if problems != nil {
		t.Fatal(problems)
	}
	if l.Title != "Contact strip, jars 3 and 4" || l.Date.Format("2006-01-02") != "2026-11-02" {
		t.Errorf("title and date: %q %v", l.Title, l.Date)
	}
	if len(l.Declared) != 2 || l.Declared[1] != "mercury" || len(l.Acknowledged) != 1 || l.Acknowledged[0] != "nitric-metal" {
		t.Errorf("declared %v, acknowledged %v", l.Declared, l.Acknowledged)
	}
	counts := []int{len(l.Dissolved), len(l.Added), len(l.Plated), len(l.Taken), len(l.Measured), len(l.Titrated), len(l.Solids)}
	for i, want := range []int{2, 3, 1, 1, 2, 2, 1} {
		if counts[i] != want {
			t.Errorf("section %d has %d entries, want %d", i, counts[i], want)
		}
	}
	if l.Dissolved[0].Shares[2].Element != "Zn" || !l.Dissolved[0].Shares[2].Rest {
		t.Errorf("the rest: %+v", l.Dissolved[0].Shares)
	}
	if l.Dissolved[1].Grade != "sterling-925" || !l.Dissolved[1].InVessel || l.Plated[0].Metal != "Ag" {
		t.Errorf("grade, remainder or metal: %+v %+v", l.Dissolved[1], l.Plated)
	}
	for _, id := range []string{"lot/vessel.liquid", "lot/dissolved[0].share.Ag", "lot/added[1].amount", "lot/titrated[0].used", "lot/lots_per_year"} {
		if _, ok := figs.ByID(id); !ok {
			t.Errorf("no figure is called %s", id)
		}
	}
	if fig := figs.Get(l.Added[1].Amount); fig.Origin != input.Typed || fig.Position.Line != 34 {
		t.Errorf("figure of the second amount: %+v", fig)
	}
}

// Each text has one thing wrong; the message must say where and what would be right.
func TestDecodeProblems(t *testing.T) {
	head := "title = \"x\"\n"
	piece := head + "[[dissolved]]\nmass = \"10 g\"\n"
	cases := map[string]struct {
		text       string
		line       int
		key, words string // words: parts of message and hint, separated by |
	}{
		"no title":            {"date = 2026-11-02\n", 1, "", "title|Contact strip"},
		"empty title":         {"title = \" \"\n", 1, "title", "empty"},
		"unknown key":         {head + "[vessel]\nliqud = \"3 L\"\n", 3, "vessel.liqud", "unknown key|liquid"},
		"unknown table":       {head + "[[disolved]]\nmass = \"1 g\"\n", 2, "disolved", "unknown key|dissolved"},
		"wrong unit":          {head + "[vessel]\nliquid = \"3 kg\"\n", 3, "vessel.liquid", "volume"},
		"no unit":             {head + "[vessel]\nliquid = \"3\"\n", 3, "vessel.liquid", "unit|3.2 L"},
		"not a number":        {head + "[vessel]\nliquid = nan\n", 3, "vessel.liquid", ""},
		"text nan":            {head + "[vessel]\nliquid = \"nan L\"\n", 3, "vessel.liquid", ""},
		"negative mass":       {head + "[[dissolved]]\nmass = \"-10 g\"\ngrade = \"sterling\"\n", 3, "dissolved[0].mass", "negative"},
		"ambiguous comma":     {head + "[[dissolved]]\nmass = \"1,234 g\"\ngrade = \"sterling\"\n", 3, "dissolved[0].mass", "1234|1.234"},
		"too heavy":           {head + "[[dissolved]]\nmass = \"1e9 kg\"\ngrade = \"sterling\"\n", 3, "dissolved[0].mass", "more than a bench lot can hold|unit"},
		"no mass":             {head + "[[dissolved]]\ngrade = \"sterling\"\n", 2, "dissolved[0]", "mass is missing|410 g"},
		"no composition":      {piece, 2, "dissolved[0]", "made of|grade"},
		"grade and share":     {piece + "grade = \"sterling\"\nshare = { Ag = \"90 %\" }\n", 5, "dissolved[0].share", "both|one"},
		"unknown grade":       {piece + "grade = \"sterlin\"\n", 4, "dissolved[0].grade", "sterlin|sterling"},
		"share over 100 %":    {piece + "share = { Ag = \"108 %\" }\n", 4, "dissolved[0].share.Ag", "more than 100 %"},
		"shares over 100 %":   {piece + "share = { Ag = \"60 %\", Cu = \"60 %\" }\n", 4, "dissolved[0].share", "120 %|rest"},
		"two rests":           {piece + "share = { Ag = \"rest\", Cu = \"rest\" }\n", 4, "dissolved[0].share.Cu", "only one"},
		"element twice":       {piece + "share = { Ag = \"10 %\", silver = \"10 %\" }\n", 4, "dissolved[0].share.silver", "twice"},
		"no element":          {piece + "share = { Xx = \"10 %\" }\n", 4, "dissolved[0].share.Xx", "not an element"},
		"near element":        {piece + "share = { silvr = \"10 %\" }\n", 4, "dissolved[0].share.silvr", "silver"},
		"empty share":         {piece + "share = {}\n", 4, "dissolved[0].share", "empty"},
		"unknown agent":       {piece + "grade = \"sterling\"\nby = \"nitric acd\"\n", 5, "dissolved[0].by", "nitric acd|nitric acid"},
		"extent":              {piece + "grade = \"sterling\"\nextent = \"110 %\"\n", 5, "dissolved[0].extent", "100 %"},
		"remainder":           {piece + "grade = \"sterling\"\nremainder = \"in jar\"\n", 5, "dissolved[0].remainder", "in vessel"},
		"unknown reagent":     {head + "[[added]]\nwhat = \"nitrik acid\"\namount = \"1 L\"\n", 3, "added[0].what", "nitrik|nitric acid"},
		"metal as reagent":    {head + "[[added]]\nwhat = \"copper scrap\"\namount = \"1 kg\"\n", 3, "added[0].what", "metal|[[dissolved]]"},
		"strength over all":   {head + "[[added]]\nwhat = \"nitric acid\"\nstrength = \"168 %\"\namount = \"1 L\"\n", 4, "added[0].strength", "100 %"},
		"strength beyond":     {head + "[[added]]\nwhat = \"nitric acid\"\nstrength = \"99.9 %\"\namount = \"1 L\"\n", 4, "added[0].strength", "density|mol/L"},
		"volume of a salt":    {head + "[[added]]\nwhat = \"sodium chloride\"\nstrength = \"100 %\"\namount = \"1 L\"\n", 5, "added[0].amount", "90 g"},
		"no amount":           {head + "[[added]]\nwhat = \"water\"\n", 2, "added[0]", "amount is missing"},
		"metal unknown":       {head + "[[measured]]\nmetal = \"unobtainium\"\nvalue = \"1 g/L\"\n", 3, "measured[0].metal", "not an element"},
		"not a metal":         {head + "[[measured]]\nmetal = \"Na\"\nvalue = \"1 g/L\"\n", 3, "measured[0].metal", "not a metal"},
		"in what":             {head + "[[measured]]\nmetal = \"Ag\"\nin = \"sludge\"\nvalue = \"1 g/L\"\n", 4, "measured[0].in", "liquid"},
		"assay without solid": {head + "[[measured]]\nmetal = \"Ag\"\nin = \"solid\"\nvalue = \"10 %\"\n", 4, "measured[0].in", "[[solid]]"},
		"unit of an assay":    {head + "[[measured]]\nmetal = \"Ag\"\nin = \"liquid\"\nvalue = \"10 %\"\n", 5, "measured[0].value", ""},
		"no sample":           {head + "[[titrated]]\nof = \"Ag\"\nsample = \"0 mL\"\ntitrant = \"0.1 mol/L\"\nused = \"1 mL\"\n", 4, "titrated[0].sample", "more than zero"},
		"ratio":               {head + "[[titrated]]\nof = \"acid\"\nsample = \"1 mL\"\ntitrant = \"0.1 mol/L\"\nused = \"1 mL\"\nratio = -1\n", 7, "titrated[0].ratio", "more than zero"},
		"unknown compound":    {head + "[[solid]]\ncompound = \"AgC1\"\nwet_mass = \"1 g\"\n", 3, "solid[0].compound", "AgCl"},
		"moisture":            {head + "[[solid]]\ncompound = \"AgCl\"\nwet_mass = \"1 g\"\nmoisture = \"130 %\"\n", 5, "solid[0].moisture", "100 %"},
		"temperature":         {head + "[vessel]\ntemperature = \"900 degC\"\n", 3, "vessel.temperature", ""},
		"pH":                  {head + "[vessel]\nph = 40\n", 3, "vessel.ph", "no liquor"},
		"too many statements": {head + strings.Repeat("[[added]]\nwhat = \"water\"\namount = \"1 mL\"\n", 301), 2, "added", "300|several lots"},
		"empty word":          {head + "declared = [\"\"]\n", 2, "declared", "empty"},
		"unknown hazard":      {head + "acknowledged = [\"nitric-metl\"]\n", 2, "acknowledged", "nitric-metal"},
		"date with time":      {head + "date = 2026-11-02T10:00:00Z\n", 2, "date", "2026-11-20"},
		"one table":           {head + "[dissolved]\nmass = \"1 g\"\n", 2, "dissolved", "[[dissolved]]"},
		"empty file":          {"", 0, "", ""},
		"binary file":         {"\x00\x01\xff\xfe", 0, "", ""},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			_, _, problems := decode(t, c.text)
			if problems == nil {
				t.Fatalf("no problem was found in\n%s", c.text)
			}
			p := problems[0]
			if c.line > 0 && p.Position.Line != c.line {
				t.Errorf("line %d, want %d: %v", p.Position.Line, c.line, p)
			}
			if c.key != "" && p.Key != c.key {
				t.Errorf("key %q, want %q", p.Key, c.key)
			}
			for word := range strings.SplitSeq(c.words, "|") {
				if !strings.Contains(p.Message+" "+p.Hint, word) {
					t.Errorf("%q does not speak of %q", p.Message+" / "+p.Hint, word)
				}
			}
			if len(problems) > 1 {
				t.Errorf("one mistake gives %d problems:\n%v", len(problems), problems)
			}
		})
	}
}

// All mistakes of a file are told at once, in the order of the file.
func TestDecodeTellsAll(t *testing.T) {
	_, _, problems := decode(t, `title = "x"
[vessel]
liquid = "3 kg"
[[dissolved]]
mass = "-1 g"
grade = "sterlng"
[[added]]
what = "nitrc acid"
strength = "300 %"
amount = "1 A"
colour = "blue"
[[solid]]
compound = "Nope"
`)
	want := []string{"vessel.liquid", "dissolved[0].mass", "dissolved[0].grade", "added[0].what", "added[0].strength", "added[0].amount", "added[0].colour", "solid[0]", "solid[0].compound"}
	if len(problems) != len(want) {
		t.Fatalf("%d problems, want %d:\n%v", len(problems), len(want), problems)
	}
	for i, key := range want {
		if problems[i].Key != key {
			t.Errorf("problem %d is about %q, want %q", i, problems[i].Key, key)
		}
	}
}

// A figure without doubt gets the default of its measurement, and says so.
func TestDecodeDefaults(t *testing.T) {
	l, figs, problems := decode(t, everyKey)
	if problems != nil {
		t.Fatal(problems)
	}
	cases := map[string]struct {
		ref  input.Ref
		kind units.Kind
		sd   float64
	}{
		"strength of a label": {l.Added[0].Strength, units.Fraction, 0.0068},
		"cylinder":            {l.Added[0].Amount, units.VolumeKind, 0.016},
		"balance":             {l.Dissolved[1].Mass, units.MassKind, 0.00015},
		"minor share":         {l.Dissolved[0].Shares[1].Ref, units.Fraction, 0.005},
		"nominal alloy":       {l.Dissolved[1].Shares[0].Ref, units.Fraction, 0.005},
		"extent":              {l.Dissolved[1].Extent, units.Fraction, 0.018},
		"room temperature":    {l.Vessel.Temperature, units.TemperatureKind, 1},
		"sample":              {l.Titrated[0].Sample, units.VolumeKind, 5e-5},
		"burette":             {l.Titrated[1].Used, units.VolumeKind, 5e-5},
		"moisture":            {l.Solids[0].Moisture, units.Fraction, 0.03},
		"purity":              {l.Solids[0].Purity, units.Fraction, 0.03},
	}
	for name, c := range cases {
		fig := figs.Get(c.ref)
		if fig.Kind != c.kind || fig.Origin != input.Assumed || fig.Source == "" {
			t.Errorf("%s: %+v", name, fig)
		}
		near(t, name, fig.Dist.SD, c.sd, 1e-9)
	}
	if fig := figs.Get(l.Vessel.Liquid); fig.Origin != input.Typed {
		t.Errorf("a figure with its own doubt is called %v", fig.Origin)
	}
	for _, ref := range []input.Ref{l.Titrated[0].Ratio, l.LotsPerYear, l.Dissolved[0].Extent} {
		if fig := figs.Get(ref); fig.Origin != input.Typed || fig.Dist.SD != 0 {
			t.Errorf("exact as typed: %+v", fig)
		}
	}
	if fig := figs.Get(l.Titrated[1].Ratio); fig.Origin != input.Assumed {
		t.Errorf("ratio not stated: %+v", fig)
	}
	if fig := figs.Get(l.Dissolved[0].Extent); fig.Dist.SD != 0 {
		t.Errorf("all of the piece has a doubt: %+v", fig.Dist)
	}
}

// A pH below 1 is an activity with a doubt of at least 0.3.
func TestDecodeStrongPH(t *testing.T) {
	for text, want := range map[string]float64{"0.3 ± 0.1": 0.3, "0.3 ± 0.5": 0.5, "0.3": 0.5, "2.0 ± 0.1": 0.1, "0.2..0.4": 0.3} {
		l, figs, problems := decode(t, "title = \"x\"\n[vessel]\nph = \""+text+"\"\n")
		if problems != nil {
			t.Fatal(problems)
		}
		near(t, "doubt of pH "+text, figs.Get(l.Vessel.PH).Dist.SD, want, 1e-9)
	}
}
