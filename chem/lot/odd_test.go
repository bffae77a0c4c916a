package lot

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/input"
)

// Values that are legal and extreme, by the kind of their key.
var oddValues = map[string][]string{
	"mass":     {"0 g", "1e-9 g", "100000 kg", "410 g ± 2 g", "1 g ± 100 kg", "5..6 g", "3 ozt", "20 g ± 0 g"},
	"volume":   {"0 L", "1e-9 mL", "1000000 L", "3.2 L ± 5 %", "1 mL ± 1000 L", "2..3 L", "1 gal"},
	"share":    {"0 %", "100 %", "50 % ± 50 %", "1e-6 %", "10..20 %", "0.3"},
	"strength": {"68 %", "10 %", "0.5 %", "6 mol/L", "0 mol/L", "60 mol/L", "100 g/L"},
	"molar":    {"0 mol/L", "0.1 mol/L", "60 mol/L", "1e-9 mol/L", "0.1 mol/L ± 60 mol/L"},
	"assay":    {"0 g/L", "4.9 g/L ± 4 %", "10000 g/L", "1 g/L ± 9000 g/L", "1e-9 g/L", "20..30 g/L", "0.5 mol/L"},
	"ph":       {"-2", "0.3 ± 0.3", "7", "15.9 ± 8", "2..3"},
	"celsius":  {"-20 degC", "20 degC", "119 degC", "20 degC ± 100 degC"},
	"metal":    {"Ag", "Cu", "Au", "Sn", "Fe", "Zn", "Pb", "silver", "Hg", "Pt", "P"},
	"agent":    {"nitric acid", "hydrochloric acid + peroxide", "iron(III) chloride", "copper(II) chloride", "aqua regia", "sulfuric acid", "hot strong sulfuric acid"},
	"reagent":  {"nitric acid", "hydrochloric acid", "water", "soda ash", "ammonia", "iron(III) chloride", "copper(II) chloride", "hydrogen peroxide", "sulfuric acid", "calcium carbonate", "silver nitrate", "sodium chloride", "lye"},
	"compound": {"AgCl", "Ag", "Cu(OH)2", "SnO2", "PbCl2", "CuCl", "Ag2O", "Cu2O", "NaCl", "Hg"},
	"area":     {"0 cm2", "850 cm2", "10000 m2"},
	"length":   {"0 um", "37 um ± 25 %", "1 m"},
}

// leftOut are the keys that a lot can do without.
var leftOut = []string{"liquid", "temperature", "ph", "extent", "by", "strength", "moisture", "purity"}

// odd draws a value for a key and writes the line.
func odd(t *rapid.T, key, kind string) string {
	if slices.Contains(leftOut, key) && rapid.IntRange(0, 3).Draw(t, key+"?") == 0 {
		return ""
	}
	return fmt.Sprintf("%s = %q\n", key, rapid.SampledFrom(oddValues[kind]).Draw(t, key))
}

func oddPiece(t *rapid.T) string {
	shares := rapid.SampledFrom([]string{
		"grade = \"sterling\"\n", "grade = \"ag-cdo 90/10\"\n", "share = { Ag = \"rest\" }\n",
		"share = { Ag = \"8 % ± 9 %\", Sn = \"30 %\", Zn = \"rest\" }\n", "share = { Fe = \"60 %\", Pb = \"20 %\", P = \"1 %\", Au = \"5 %\" }\n",
		"share = { Cu = \"100 %\", Ag = \"0 %\" }\n", "share = { Hg = \"50 %\", Pt = \"10 %\", C = \"rest\" }\n",
	}).Draw(t, "shares")
	s := "[[dissolved]]\n" + odd(t, "mass", "mass") + shares + odd(t, "extent", "share") + odd(t, "by", "agent")
	if rapid.Bool().Draw(t, "stands") {
		s += "remainder = \"in vessel\"\n"
	}
	return s
}

func oddLot(t *rapid.T) string {
	var b strings.Builder
	b.WriteString("title = \"x\"\n")
	if rapid.Bool().Draw(t, "vessel") {
		b.WriteString("[vessel]\n" + odd(t, "liquid", "volume") + odd(t, "temperature", "celsius") + odd(t, "ph", "ph"))
	}
	sections := []func() string{
		func() string { return oddPiece(t) },
		func() string {
			return "[[added]]\n" + odd(t, "what", "reagent") + odd(t, "strength", "strength") + odd(t, "amount", rapid.SampledFrom([]string{"mass", "volume"}).Draw(t, "by"))
		},
		func() string {
			return "[[plated]]\n" + odd(t, "metal", "metal") + odd(t, "area", "area") + odd(t, "thickness", "length")
		},
		func() string { return "[[taken]]\n" + odd(t, "metal", "metal") + odd(t, "mass", "mass") },
		func() string { return "[[measured]]\n" + odd(t, "metal", "metal") + odd(t, "value", "assay") },
		func() string {
			return "[[measured]]\n" + odd(t, "metal", "metal") + "in = \"solid\"\n" + odd(t, "value", "share")
		},
		func() string {
			return "[[titrated]]\nof = \"acid\"\n" + odd(t, "sample", "volume") + odd(t, "titrant", "molar") + odd(t, "used", "volume")
		},
		func() string {
			return "[[titrated]]\n" + odd(t, "of", "metal") + odd(t, "sample", "volume") + odd(t, "titrant", "molar") + odd(t, "used", "volume")
		},
		func() string {
			return "[[solid]]\n" + odd(t, "compound", "compound") + odd(t, "wet_mass", "mass") + odd(t, "moisture", "share") + odd(t, "purity", "share")
		},
	}
	for range rapid.IntRange(0, 6).Draw(t, "entries") {
		b.WriteString(sections[rapid.IntRange(0, len(sections)-1).Draw(t, "section")]())
	}
	return b.String()
}

// Any legal lot, however odd, gives a sound report and sound inventories at
// any values within the bounds of its figures.
func TestSoundOfOddLots(t *testing.T) {
	decoded := 0
	rapid.Check(t, func(rt *rapid.T) {
		q := quiet{t, rt}
		text := oddLot(rt)
		doc, err := input.Parse("lot.toml", []byte(text))
		if err != nil {
			rt.Fatalf("%v\n%s", err, text)
		}
		figs := &input.Figures{}
		l, err := Decode(doc, figs)
		var problems input.Problems
		if errors.As(err, &problems) {
			_ = problems.Error()
			return
		}
		decoded++
		m, err := l.Model(figs)
		if err != nil {
			rt.Fatalf("a lot that decodes has no model: %v\n%s", err, text)
		}
		b := built{lot: l, figs: figs, model: m, values: figs.Central()}
		b.report, b.inv = m.Report(b.values), m.Inventory(b.values)
		checkSound(q, b)
		for range 5 {
			for i := range b.values {
				b.values[i] = figs.Get(input.Ref(i)).Dist.Quantile(rapid.Float64Range(0, 1).Draw(rt, "p"))
			}
			checkInventory(q, m.Inventory(b.values))
		}
		if rt.Failed() {
			rt.Logf("%s", text)
		}
	})
	t.Logf("%d odd lots were legal", decoded)
	if decoded == 0 {
		t.Error("no odd lot was legal")
	}
}
