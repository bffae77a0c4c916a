package econ

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"

	"afterpour/chem/input"
)

func TestEmbeddedBookIsTheShippedOne(t *testing.T) {
	shipped, err := os.ReadFile("../prices.toml")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(shipped, DefaultBook()) {
		t.Error("econ/prices.toml and prices.toml differ: copy the root file over the embedded one")
	}
}

func TestDefaultBook(t *testing.T) {
	b, v := decoded(t, string(DefaultBook()))
	if b.Currency != "USD" || b.StaleAfter != 30 || b.WholePacks {
		t.Errorf("currency %q, stale after %d, whole packs %v", b.Currency, b.StaleAfter, b.WholePacks)
	}
	for _, p := range b.prices {
		if p.Date.IsZero() {
			t.Errorf("%s has no date", p.Path)
		}
		if value := p.At(v); !(value >= 0) {
			t.Errorf("%s = %v", p.Path, value)
		}
		fig := b.figures.Get(p.Ref)
		if fig.Origin != input.PriceBook || fig.Source == "" || fig.Position.Line == 0 {
			t.Errorf("%s: figure %+v", p.Path, fig)
		}
	}
	silver := b.spots["Ag"]
	near(t, "silver", silver.At(v), 30, 1e-12)
	if silver.Per != "ozt" || silver.ID != "price/spot.Ag" {
		t.Errorf("silver price %+v", silver)
	}
	near(t, "doubt of silver", b.figures.Get(silver.Ref).Dist.SD*silver.Size, 3, 1e-9)
	for id, s := range b.sales {
		if s.Form == formLiquor {
			t.Errorf("the shipped book sells a liquor: %s", id)
		}
	}
}

func TestCommonOunceIsQuestioned(t *testing.T) {
	b, _ := decoded(t, swapped(t, smallBook, "/ ozt", "/ oz"))
	if len(b.notes) != 1 || !strings.Contains(b.notes[0], "troy") {
		t.Errorf("notes %q, want a question about the ounce", b.notes)
	}
}

// Each book is wrong in one place; the error must name file, line and column
// of the value, and what is wrong.
func TestBadBooks(t *testing.T) {
	for name, c := range map[string]struct {
		old, changed string
		want         []string
	}{
		"unknown key":         {"fee      = \"25.00\"", "fees     = \"25.00\"", []string{":18:1:", "fees", "fee"}},
		"unknown table":       {"[storage]", "[storrage]", []string{"storrage", "storage"}},
		"unknown element":     {"[spot.Cu]", "[spot.Xx]", []string{":9:", "Xx"}},
		"element by name":     {"[spot.Cu]", "[spot.copper]", []string{"[spot.Cu]"}},
		"wrong unit":          {"30.00 / ozt", "30.00 / L", []string{":6:9:", "spot.Ag.price", "/"}},
		"no unit":             {"30.00 / ozt", "30.00", []string{":6:9:", "spot.Ag.price"}},
		"not a quantity":      {"30.00 / ozt", "dear", []string{":6:9:"}},
		"share over 100 %":    {"payable  = \"94 %\"", "payable  = \"940 %\"", []string{":16:12:", "100 %", "94 %"}},
		"negative price":      {"price = \"30.00 / ozt\"", "price = \"-30.00 / ozt\"", []string{":6:9:", "negative"}},
		"negative fee":        {"fee      = \"25.00\"", "fee      = \"-25.00\"", []string{":18:12:", "negative"}},
		"NaN":                 {"fee      = \"25.00\"", "fee      = nan", []string{":18:12:"}},
		"NaN in a text":       {"fee      = \"25.00\"", "fee      = \"NaN\"", []string{":18:12:"}},
		"infinite":            {"fee      = \"25.00\"", "fee      = inf", []string{":18:12:"}},
		"beyond reckoning":    {"fee      = \"25.00\"", "fee      = \"1e13\"", []string{":18:12:", "beyond reckoning"}},
		"number for a price":  {"price = \"30.00 / ozt\"", "price = true", []string{":6:9:"}},
		"missing price":       {"price = \"30.00 / ozt\"   # keep this comment\n", "", []string{":5:", "price", "missing"}},
		"no currency":         {"currency    = \"USD\"\n", "", []string{"currency"}},
		"wrong packs":         {"\"pro rata\"", "\"pro rate\"", []string{":3:15:", "pro rata"}},
		"wrong form":          {"form     = \"bar\"", "form     = \"barr\"", []string{":15:12:", "bar"}},
		"both terms":          {"payable  = \"94 %\"", "payable  = \"94 %\"\nprice = \"1 / kg\"", []string{"not both"}},
		"no terms":            {"payable  = \"94 %\"\n", "", []string{"payable"}},
		"fineness too high":   {"900..1000", "900..1001", []string{":17:12:", "1000"}},
		"fineness as a share": {"900..1000", "0.9..1.0", []string{":17:12:", "thousand"}},
		"no pack":             {"pack     = \"1 kg\"\n", "", []string{"pack"}},
		"empty pack":          {"pack     = \"1 kg\"", "pack     = \"0 kg\"", []string{"pack"}},
		"pack of hours":       {"pack     = \"1 kg\"", "pack     = \"1 h\"", []string{"pack"}},
		"stock by volume":     {"on_hand  = \"50 g\"", "on_hand  = \"50 mL\"", []string{"on_hand", "pack"}},
		"strength over all":   {"strength = \"98 %\"", "strength = \"980 %\"", []string{"strength", "100 %"}},
		"strength of nothing": {"strength = \"98 %\"", "strength = \"1e-308 %\"", []string{"strength", "none"}},
		"cathode of nothing":  {"100 cm2", "1e-308 cm2", []string{"cathode_area", "range"}},
		"supply of nothing":   {"12 V, 5 A", "1e-300 V, 5 A", []string{"supply", "range"}},
		"endless heater":      {"800 W", "1e300 W", []string{"heater", "range"}},
		"bad formula":         {"formula  = \"NaOH\"", "formula  = \"NaO(H\"", []string{"formula"}},
		"supply":              {"12 V, 5 A", "12 V 5 A", []string{"supply", "12 V, 5 A"}},
		"supply, swapped":     {"12 V, 5 A", "5 A, 12 V", []string{"supply"}},
		"melting":             {"\"torch\"", "\"torches\"", []string{"melting", "torch"}},
		"date as a text":      {"date  = 2026-11-20", "date  = \"2026-11-20\"", []string{":7:9:", "date"}},
		"date that is none":   {"date  = 2026-11-20", "date  = 2026-11-31", []string{":7:"}},
		"keep nothing":        {"12 months", "0 months", []string{"keep"}},
		"allowed, no penalty": {"allowed   = { Pb", "allowed   = { Sn", []string{"Sn", "penalties"}},
		"stale in kilograms":  {"30 days", "30 kg", []string{"stale_after"}},
	} {
		t.Run(name, func(t *testing.T) {
			err := decodeError(swapped(t, smallBook, c.old, c.changed))
			if err == nil {
				t.Fatal("no error")
			}
			var problems input.Problems
			if !errors.As(err, &problems) || len(problems) == 0 {
				t.Fatalf("error is %T, want input.Problems", err)
			}
			t.Log("\n" + err.Error())
			for _, want := range append(c.want, "prices.toml:") {
				if !strings.Contains(err.Error(), want) {
					t.Errorf("the error lacks %q", want)
				}
			}
		})
	}
}

// decodeError parses and decodes a text and returns what is wrong with it.
func decodeError(text string) error {
	doc, err := input.Parse("prices.toml", []byte(text))
	if err != nil {
		return err
	}
	_, err = DecodeBook(doc, &input.Figures{})
	return err
}

func TestAllProblemsAtOnce(t *testing.T) {
	text := swapped(t, swapped(t, smallBook, `"94 %"`, `"940 %"`), "30.00 / ozt", "30.00 / L")
	err := decodeError(swapped(t, text, "[storage]\nprice", "[storage]\nprise"))
	var problems input.Problems
	if !errors.As(err, &problems) || len(problems) < 3 {
		t.Fatalf("got %v, want three problems or more", err)
	}
	for i := 1; i < len(problems); i++ {
		if problems[i].Position.Line < problems[i-1].Position.Line {
			t.Errorf("problems are not in the order of the file: %v", problems)
		}
	}
}

func TestEmptyBookSaysWhatIsMissing(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"empty":         {"", "empty"},
		"comments only": {"# nothing\n\n", "key"},
		"no currency":   {"packs = \"whole\"\n", "currency"},
	} {
		if err := decodeError(c.text); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want an error about %q", name, err, c.want)
		}
	}
}

// The smallest book is its currency: it prices nothing, but it is one.
func TestSmallestBook(t *testing.T) {
	b, v := decoded(t, `currency = "EUR"`)
	o := silverWork()
	if p := b.PricePlan(&o, v); p.Priced() {
		t.Error("a book without prices priced a plan")
	}
}
