package econ

import (
	"bytes"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/units"

	"pgregory.net/rapid"
)

// fullOutturn says something under every key.
func fullOutturn() Outturn {
	return Outturn{
		Date: time.Date(2026, 11, 30, 0, 0, 0, 0, time.UTC), Plan: "copper-cementation+dispose", Note: `the "second" jar\`, Confirmed: true, Replaces: 1,
		HandsOn: &OutturnHours{Noted: 2.5, Expected: 1.87, Shares: []OutturnShare{{"copper-cementation", 1}}},
		Elapsed: &OutturnHours{Noted: 30, Expected: 26.6},
		Products: []OutturnProduct{{
			Route: "copper-cementation", Product: "silver-bar", Metal: "Ag", Mass: units.NormalDist(0.0412, 0.0001), Fineness: 985,
			MetalMass: units.NormalDist(0.040582, 0.000098), Expected: units.NormalDist(0.041, 0.0005), Contained: units.NormalDist(0.0444, 0.0003),
			Losses: []OutturnLoss{{"settle/loss", 1.01}, {"wash silver/loss", 4.02}, {"reduce/reach", -1.2}},
		}},
		Used: []OutturnUse{{"copper-scrap", units.MassKind, 0.04, 0.0135}, {"sulfuric-acid", units.VolumeKind, 0.012, 0.011}},
	}
}

func decodeOutturns(t testing.TB, text []byte) ([]Outturn, error) {
	t.Helper()
	doc, err := input.Parse("lot.outturn.toml", text)
	if err != nil {
		return nil, err
	}
	return DecodeOutturns(doc)
}

// TestOutturnReadsBack writes entries and reads them back: everything is there, and
// what was there before stays, byte for byte.
func TestOutturnReadsBack(t *testing.T) {
	first := fullOutturn()
	first.Replaces = 0
	text, err := AppendOutturn("lot.outturn.toml", "Contact\x1bstrip\nx = 1", nil, first)
	if err != nil {
		t.Fatal(err)
	}
	for _, old := range [][]byte{text, bytes.TrimRight(text, "\n"), bytes.ReplaceAll(text, []byte("\n"), []byte("\r\n"))} {
		more, err := AppendOutturn("lot.outturn.toml", "x", old, fullOutturn())
		if err != nil {
			t.Fatal(err)
		}
		list, err := decodeOutturns(t, append(bytes.Clone(old), more...))
		if err != nil {
			t.Fatal(err)
		}
		if len(list) != 2 || list[1].Number != 2 || list[1].File != "lot.outturn.toml" {
			t.Fatalf("read back %+v", list)
		}
		got, want := list[1], fullOutturn()
		got.File, got.Number, got.Position = "", 0, input.Position{}
		roundTrip(t, &got)
		roundTrip(t, &want)
		if !reflect.DeepEqual(got, want) {
			t.Errorf("read back\n%+v, want\n%+v", got, want)
		}
	}
}

// roundTrip takes the bounds off quantities, which reading adds, and rounds to the six
// digits that are written.
func roundTrip(t testing.TB, o *Outturn) {
	t.Helper()
	round := func(v float64) float64 {
		if v == 0 {
			return 0
		}
		scale := math.Pow(10, 5-math.Floor(math.Log10(math.Abs(v))))
		return math.Round(v*scale) / scale
	}
	for i := range o.Products {
		p := &o.Products[i]
		for _, d := range []*units.Dist{&p.Mass, &p.MetalMass, &p.Expected, &p.Contained} {
			*d = units.NormalDist(round(d.Mean), round(d.SD))
		}
	}
	for i := range o.Used {
		o.Used[i].Used, o.Used[i].Expected = round(o.Used[i].Used), round(o.Used[i].Expected)
	}
}

// TestOutturnReadsBackProperty does so for entries of any size.
func TestOutturnReadsBackProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		o := fullOutturn()
		o.Replaces = 0
		o.Note = rapid.String().Draw(t, "note")
		o.Plan = rapid.StringMatching(`[a-z+-]{1,40}`).Draw(t, "plan")
		size := math.Pow(10, rapid.Float64Range(-5, 3).Draw(t, "size"))
		p := &o.Products[0]
		p.Mass, p.MetalMass = units.NormalDist(size, size/50), units.NormalDist(size/2, size/90)
		p.Expected, p.Contained = units.NormalDist(size/3, 0), units.NormalDist(size/1.5, size/3)
		text, err := AppendOutturn("f", "lot", nil, o)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := input.Parse("f", text)
		if err != nil {
			t.Fatal(err)
		}
		list, err := DecodeOutturns(doc)
		if err != nil {
			t.Fatal(err)
		}
		got := list[0].Products[0]
		for what, pair := range map[string][2]float64{
			"mass": {got.Mass.Mean, p.Mass.Mean}, "its doubt": {got.Mass.SD, p.Mass.SD}, "metal": {got.MetalMass.Mean, p.MetalMass.Mean},
			"expected": {got.Expected.Mean, p.Expected.Mean}, "contained": {got.Contained.SD, p.Contained.SD},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-5*pair[1]+1e-11 {
				t.Errorf("%s is read as %g, written as %g", what, pair[0], pair[1])
			}
		}
		if list[0].Note != o.Note || list[0].Plan != o.Plan {
			t.Errorf("read %q of %q and %q of %q", list[0].Note, o.Note, list[0].Plan, o.Plan)
		}
	})
}

// TestBrokenOutturns reads files that are wrong, each with what must be said of it and
// where.
func TestBrokenOutturns(t *testing.T) {
	const good = "[[outturn]]\ndate = 2026-11-30\nplan = \"p+dispose\"\n"
	const product = good + "[[outturn.product]]\nroute = \"r\"\nproduct = \"silver-bar\"\nmetal = \"Ag\"\nmass = \"40 g\"\nmetal_in_it = \"39 g\"\nexpected = \"41 g\"\ncontained = \"44 g\"\n"
	if _, err := decodeOutturns(t, []byte(product)); err != nil {
		t.Fatalf("the good file: %v", err)
	}
	for name, test := range map[string]struct{ text, key, says string }{
		"no date":             {"[[outturn]]\nplan = \"p\"\n", "outturn[0]", "missing"},
		"no plan":             {"[[outturn]]\ndate = 2026-11-30\n", "outturn[0]", "missing"},
		"empty plan":          {"[[outturn]]\ndate = 2026-11-30\nplan = \" \"\n", "outturn[0].plan", "short text"},
		"date as text":        {"[[outturn]]\ndate = \"yesterday\"\nplan = \"p\"\n", "outturn[0].date", "date"},
		"unknown key":         {good + "silver = 1\n", "outturn[0].silver", "unknown"},
		"key at the top":      {"x = 1\n" + good, "x", "unknown"},
		"corrects the future": {good + "replaces = 2\n", "outturn[0].replaces", "earlier"},
		"corrects itself":     {good + "replaces = 1\n", "outturn[0].replaces", "earlier"},
		"corrects nothing":    {good + "replaces = 0\n", "outturn[0].replaces", "counted from 1"},
		"no hours":            {good + "hands_on = { noted = \"0 h\", expected = \"1 h\" }\n", "outturn[0].hands_on.noted", "more than nothing"},
		"hours of mass":       {good + "hands_on = { noted = \"2 g\", expected = \"1 h\" }\n", "outturn[0].hands_on.noted", ""},
		"share over one":      {good + "hands_on = { noted = \"2 h\", expected = \"1 h\", shares = { r = 1.5 } }\n", "outturn[0].hands_on.shares.r", "share"},
		"mass of volume":      {strings.Replace(product, "40 g", "40 mL", 1), "outturn[0].product[0].mass", ""},
		"mass negative":       {strings.Replace(product, "40 g", "-40 g", 1), "outturn[0].product[0].mass", ""},
		"mass of a ship":      {strings.Replace(product, "40 g", "40000000 kg", 1), "outturn[0].product[0].mass", "range"},
		"nothing expected":    {strings.Replace(product, "41 g", "0 g", 1), "outturn[0].product[0].expected", "nothing"},
		"nothing contained":   {strings.Replace(product, "44 g", "0 g", 1), "outturn[0].product[0].contained", "nothing"},
		"fineness over":       {product + "fineness = 1001\n", "outturn[0].product[0].fineness", "1000"},
		"fineness as share":   {product + "fineness = 0.985\n", "outturn[0].product[0].fineness", "thousand"},
		"loss not a number":   {product + "losses = { \"settle/loss\" = nan }\n", "outturn[0].product[0].losses", ""},
		"loss too large":      {product + "losses = { \"settle/loss\" = 1e9 }\n", "outturn[0].product[0].losses", "range"},
		"used of two kinds":   {good + "[[outturn.used]]\nreagent = \"x\"\namount = \"1 g\"\nexpected = \"1 mL\"\n", "outturn[0].used[0].expected", "both"},
		"not toml":            {"[[outturn\n", "", ""},
	} {
		_, err := decodeOutturns(t, []byte(test.text))
		var problems input.Problems
		if !errors.As(err, &problems) {
			t.Errorf("%s: error %v, want problems", name, err)
			continue
		}
		p := problems[0]
		if p.Position.Line == 0 || !strings.HasPrefix(p.Key, test.key) || !strings.Contains(p.Message, test.says) {
			t.Errorf("%s: %d:%d: %s: %s; want %s: …%s", name, p.Position.Line, p.Position.Column, p.Key, p.Message, test.key, test.says)
		}
	}
}

// A faulty file gets no further entry.
func TestAppendToBrokenFile(t *testing.T) {
	if _, err := AppendOutturn("f", "lot", []byte("x = 1\n"), fullOutturn()); err == nil {
		t.Error("an entry is added to a faulty file")
	}
	o := fullOutturn()
	if _, err := AppendOutturn("f", "lot", nil, o); err == nil {
		t.Error("the first entry corrects an earlier one")
	}
}

func FuzzDecodeOutturns(f *testing.F) {
	o := fullOutturn()
	o.Replaces = 0
	text, err := AppendOutturn("f", "lot", nil, o)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text)
	f.Add([]byte("[[outturn]]\ndate = 2026-11-30\nplan = \"p\"\n[[outturn.product]]\nmass = \"1..2 g\"\n"))
	f.Add([]byte("outturn = [{}, {product = [{losses = {\"\" = 1}}]}]\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		list, err := decodeOutturns(t, text)
		if err != nil {
			_ = err.Error()
			return
		}
		l := Learn(routeFigures(), list)
		for _, fig := range l.figures {
			if fig.dist.Check() != nil {
				t.Errorf("%s has become %+v", fig.id, fig.dist)
			}
		}
		for _, s := range l.Sentences() {
			if strings.Contains(s, "NaN") {
				t.Errorf("says %q", s)
			}
		}
		if more, err := AppendOutturn("f", "lot", text, o); err == nil {
			if again, err := decodeOutturns(t, append(bytes.Clone(text), more...)); err != nil || len(again) != len(list)+1 {
				t.Errorf("with an entry more it holds %d entries: %v", len(again), err)
			}
		}
	})
}

func TestOutturnNames(t *testing.T) {
	for lot, want := range map[string]string{"strip.toml": "strip.outturn.toml", "a/b.c.toml": "a/b.c.outturn.toml", "strip": "strip.outturn.toml"} {
		if got := OutturnName(lot); got != want || !IsOutturn(got) {
			t.Errorf("OutturnName(%q) = %q, want %q", lot, got, want)
		}
	}
	for _, name := range []string{"strip.toml", ".outturn.toml", "strip.outturn.toml~", "outturn.toml"} {
		if IsOutturn(name) {
			t.Errorf("%q is taken for a file of outturns", name)
		}
	}
}
