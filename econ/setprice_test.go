package econ

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"afterpour/chem/input"
)

// lineDiff returns the lines that changed, old and new, of texts with equally
// many lines.
func lineDiff(t testing.TB, old, changed string) (was, is []string) {
	t.Helper()
	a, b := strings.Split(old, "\n"), strings.Split(changed, "\n")
	if len(a) != len(b) {
		t.Fatalf("the file had %d lines and has %d", len(a), len(b))
	}
	for i := range a {
		if a[i] != b[i] {
			was, is = append(was, a[i]), append(is, b[i])
		}
	}
	return was, is
}

func TestSetPriceChangesPriceAndDateOnly(t *testing.T) {
	for name, c := range map[string]struct {
		what, price string
		is          []string
	}{
		"metal by name":   {"silver", "31.20 / ozt", []string{`price = "31.20 / ozt"   # keep this comment`, "date  = 2026-12-01"}},
		"metal by symbol": {"Ag", "31.20 / ozt", []string{`price = "31.20 / ozt"   # keep this comment`, "date  = 2026-12-01"}},
		"capitals":        {"SILVER", " 31.20 / ozt ", []string{`price = "31.20 / ozt"   # keep this comment`, "date  = 2026-12-01"}},
		"other unit":      {"silver", "1003 ± 20 / kg", []string{`price = "1003 ± 20 / kg"   # keep this comment`, "date  = 2026-12-01"}},
		"path":            {"spot.Cu.price", "9 / kg", []string{`price = "9 / kg"`, "date  = 2026-12-01"}},
		"sale":            {"sale.silver-bar", "95 %", []string{`payable  = "95 %"`, "date     = 2026-12-01"}},
		"sale by words":   {"silver bar", "95 %", []string{`payable  = "95 %"`, "date     = 2026-12-01"}},
		"sale by mass":    {"sale.copper-sulfate", "7 / kg", []string{`price    = "7 / kg"`, "date     = 2026-12-01"}},
		"fee":             {"sale.silver-bar.fee", "26.00", []string{`fee      = "26.00"`, "date     = 2026-12-01"}},
		"penalty":         {"sale.copper-cement.penalties.Pb", "6 / kg", []string{`penalties = { Pb = "6 / kg" }`, "date      = 2026-12-01"}},
		"reagent":         {"reagent.sodium-hydroxide", "10.50", []string{`price    = "10.50"`, "date     = 2026-12-01"}},
		"plain id":        {"sodium-hydroxide", "10.50", []string{`price    = "10.50"`, "date     = 2026-12-01"}},
		"undated table":   {"labour", "25 / h", []string{`rate = "25 / h"`}},
		"electricity":     {"electricity", "0.31 / kWh", []string{`electricity = "0.31 / kWh"`}},
		"disposal":        {"disposal.acid-metal-liquor", "5 / kg", []string{`price   = "5 / kg"`}},
		"storage":         {"storage", "12 / year", []string{`price = "12 / year"`}},
		"figure id":       {"price/spot.Ag", "31.20 / ozt", []string{`price = "31.20 / ozt"   # keep this comment`, "date  = 2026-12-01"}},
	} {
		t.Run(name, func(t *testing.T) {
			data, change, err := SetPrice(parse(t, smallBook), c.what, c.price, day(2026, 12, 1))
			if err != nil {
				t.Fatal(err)
			}
			_, is := lineDiff(t, smallBook, string(data))
			if !slices.Equal(is, c.is) {
				t.Errorf("changed lines\n%q, want\n%q", is, c.is)
			}
			if change.New != strings.TrimSpace(c.price) || change.Old == "" || change.Appended {
				t.Errorf("change %+v", change)
			}
			if len(c.is) == 2 && (change.OldDate == "" || change.NewDate != "2026-12-01") || len(c.is) == 1 && change.NewDate != "" {
				t.Errorf("dates of the change %+v", change)
			}
		})
	}
}

func TestSetPriceKeepsLineEndingsAndQuotes(t *testing.T) {
	crlf := strings.ReplaceAll(swapped(t, smallBook, `"30.00 / ozt"`, `'30.00 / ozt'`), "\n", "\r\n")
	data, _, err := SetPrice(parse(t, crlf), "Ag", "31 / ozt", day(2026, 12, 1))
	if err != nil {
		t.Fatal(err)
	}
	_, is := lineDiff(t, crlf, string(data))
	if want := []string{"price = '31 / ozt'   # keep this comment\r", "date  = 2026-12-01\r"}; !slices.Equal(is, want) {
		t.Errorf("changed lines %q, want %q", is, want)
	}
}

func TestSetPriceBackAndForth(t *testing.T) {
	there, _, err := SetPrice(parse(t, smallBook), "Ag", "31 / ozt", day(2026, 12, 1))
	if err != nil {
		t.Fatal(err)
	}
	back, change, err := SetPrice(parse(t, string(there)), "Ag", "30.00 / ozt", day(2026, 11, 20))
	if err != nil {
		t.Fatal(err)
	}
	if string(back) != smallBook {
		t.Error("setting the old price again does not give the old file")
	}
	if change.Old != "31 / ozt" || change.OldDate != "2026-12-01" {
		t.Errorf("change %+v", change)
	}
}

func TestSetPriceLeavesTheDateWithoutOne(t *testing.T) {
	data, change, err := SetPrice(parse(t, smallBook), "Ag", "31 / ozt", time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	if _, is := lineDiff(t, smallBook, string(data)); len(is) != 1 || change.NewDate != "" {
		t.Errorf("changed lines %q, change %+v", is, change)
	}
}

func TestSetPriceAddsAnElement(t *testing.T) {
	for name, c := range map[string]struct{ book, tail string }{
		"plain":            {smallBook, "\n[spot.Au]\nprice = \"2500 / ozt\"\ndate  = 2026-12-01\n"},
		"no final newline": {strings.TrimSuffix(smallBook, "\n"), "\n\n[spot.Au]\nprice = \"2500 / ozt\"\ndate  = 2026-12-01\n"},
		"CRLF":             {strings.ReplaceAll(smallBook, "\n", "\r\n"), "\r\n[spot.Au]\r\nprice = \"2500 / ozt\"\r\ndate  = 2026-12-01\r\n"},
	} {
		t.Run(name, func(t *testing.T) {
			data, change, err := SetPrice(parse(t, c.book), "gold", "2500 / ozt", day(2026, 12, 1))
			if err != nil {
				t.Fatal(err)
			}
			if string(data) != c.book+c.tail {
				t.Errorf("the file is not the old one and a table:\n%q", strings.TrimPrefix(string(data), c.book))
			}
			if !change.Appended || change.Path != "spot.Au.price" || change.Old != "" {
				t.Errorf("change %+v", change)
			}
			b, v := decoded(t, string(data))
			near(t, "gold", b.spots["Au"].At(v), 2500, 1e-9)
		})
	}
}

// TOML forbids a header that extends an inline table or dotted keys, even
// where a lenient decoder reads it.
func TestSetPriceCannotAddBesideAnInlineTable(t *testing.T) {
	for _, spots := range []string{`spot = { Ag = { price = "30 / ozt" } }`, `spot.Ag.price = "30 / ozt"`} {
		book := "currency = \"USD\"\n" + spots + "\n"
		if _, _, err := SetPrice(parse(t, book), "gold", "2500 / ozt", day(2026, 12, 1)); err == nil || !strings.Contains(err.Error(), "spot.Au.price") {
			t.Errorf("%s: error %v", spots, err)
		}
	}
	data, _, err := SetPrice(parse(t, `currency = "USD"`), "gold", "2500 / ozt", time.Time{})
	if want := "currency = \"USD\"\n\n[spot.Au]\nprice = \"2500 / ozt\"\n"; err != nil || string(data) != want {
		t.Errorf("the first price of a book: %q, %v, want %q", data, err, want)
	}
}

func TestSetPriceRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		what, price string
		unknown     bool
		want        string
	}{
		"unknown name":       {"sale.silver-bra", "95 %", true, "sale.silver-bar"},
		"no element":         {"unobtainium", "1 / kg", true, "unobtainium"},
		"wrong unit":         {"silver", "30 / L", false, "30.00 / ozt"},
		"no unit":            {"silver", "30", false, "30.00 / ozt"},
		"new, wrong unit":    {"gold", "2500 / L", false, "30.00 / ozt"},
		"empty":              {"silver", "", false, "30.00 / ozt"},
		"negative":           {"silver", "-3 / ozt", false, "negative"},
		"NaN":                {"silver", "NaN / ozt", false, "30.00 / ozt"},
		"infinite":           {"silver", "1e999 / ozt", false, "30.00 / ozt"},
		"beyond reckoning":   {"silver", "1e13 / ozt", false, "beyond reckoning"},
		"share over 100 %":   {"silver bar", "101 %", false, "100 %"},
		"price for a share":  {"silver bar", "30 / ozt", false, "share"},
		"share for a price":  {"copper-sulfate", "94 %", false, "/ ozt"},
		"ambiguous comma":    {"silver", "1,234 / kg", false, "1,234"},
		"escape in the text": {"silver", "30 / ozt\x1b[2J", false, "30.00 / ozt"},
		"quote in the text":  {"silver", `30 / ozt" # `, false, "30.00 / ozt"},
		"new line":           {"silver", "30 / ozt\n[spot.Au]", false, "30.00 / ozt"},
	} {
		t.Run(name, func(t *testing.T) {
			data, _, err := SetPrice(parse(t, smallBook), c.what, c.price, day(2026, 12, 1))
			if err == nil {
				t.Fatalf("accepted:\n%s", data)
			}
			if data != nil {
				t.Error("bytes came back with the error")
			}
			t.Log(err)
			var bad *PriceError
			if errors.Is(err, ErrUnknownPrice) != c.unknown || errors.As(err, &bad) == c.unknown {
				t.Errorf("the error is a %T", err)
			}
			if !strings.Contains(err.Error(), c.want) {
				t.Errorf("the error lacks %q", c.want)
			}
			if strings.ContainsAny(err.Error(), "\x1b") {
				t.Error("the error carries a control character")
			}
		})
	}
}

func TestSetPriceInABrokenBook(t *testing.T) {
	_, _, err := SetPrice(parse(t, swapped(t, smallBook, `"94 %"`, `"940 %"`)), "Ag", "31 / ozt", day(2026, 12, 1))
	var problems input.Problems
	if !errors.As(err, &problems) {
		t.Errorf("error %v, want the problems of the book", err)
	}
}

// A name that two tables have is not guessed at.
func TestSetPriceAmbiguousName(t *testing.T) {
	book := smallBook + "\n[consumable.sodium-hydroxide]\npack = \"10\"\nprice = \"1\"\n"
	_, _, err := SetPrice(parse(t, book), "sodium-hydroxide", "2", day(2026, 12, 1))
	if err == nil || !strings.Contains(err.Error(), "reagent.sodium-hydroxide") || !strings.Contains(err.Error(), "consumable.sodium-hydroxide") {
		t.Errorf("error %v, want both names", err)
	}
}
