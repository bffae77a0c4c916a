package econ

import (
	"bytes"
	"strings"
	"testing"
	"time"
	"unicode"

	"afterpour/chem/input"
	"afterpour/chem/route"
)

func FuzzDecodeBook(f *testing.F) {
	f.Add(DefaultBook())
	f.Add([]byte(smallBook))
	f.Add([]byte(smallBook + liquorSale))
	f.Add([]byte("currency = \"USD\"\n[spot]\nAg = 3\n[sale.x]\npenalties = 1\n[disposal.y]\n"))
	f.Add([]byte("currency = \"a\\u001b\"\n[spot.Ag]\nprice = \"1e308 / mg\"\n[labour]\nrate = nan\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		doc, err := input.Parse("prices.toml", data)
		if err != nil {
			return
		}
		figs := &input.Figures{}
		b, err := DecodeBook(doc, figs)
		if err != nil {
			printable(t, err.Error())
			return
		}
		v := figs.Central()
		for _, o := range []route.Outcome{silverWork(), untouchedLot("hold"), untouchedLot("sell-as-is")} {
			p := b.PricePlan(&o, v)
			if !p.Net.IsFinite() || !p.NetWithoutLabour.IsFinite() {
				t.Fatalf("net %v", p.Net)
			}
			if p.Priced() {
				checkLines(t, &p)
			} else {
				printable(t, p.Blocked.Reason)
			}
		}
		b.Rows(day(2026, 11, 20))
	})
}

// printable fails on control characters, which would reach a terminal.
func printable(t *testing.T, text string) {
	t.Helper()
	for _, r := range text {
		if r != '\n' && !unicode.IsPrint(r) {
			t.Fatalf("%q carries %U", text, r)
		}
	}
}

func FuzzSetPrice(f *testing.F) {
	f.Add([]byte(smallBook), "silver", "31.20 / ozt")
	f.Add([]byte(smallBook), "gold", "2500 / ozt")
	f.Add([]byte(smallBook), "sale.silver-bar", "95 %")
	f.Add([]byte(strings.ReplaceAll(smallBook, "\n", "\r\n")), "sale.copper-cement.penalties.Pb", "6 / kg")
	f.Add([]byte("currency = 'EUR'\nspot.Ag = {price = '''1 / g''', date = 2026-01-01}"), "Ag", "2 / g")
	f.Add([]byte("currency = \"USD\""), "Ag", "30 \" / ozt")
	f.Fuzz(func(t *testing.T, data []byte, what, price string) {
		doc, err := input.Parse("prices.toml", data)
		if err != nil {
			return
		}
		before := bytes.Clone(data)
		out, change, err := SetPrice(doc, what, price, time.Date(2026, 12, 1, 0, 0, 0, 0, time.UTC))
		if !bytes.Equal(before, doc.Data()) {
			t.Fatal("the document was changed")
		}
		if err != nil {
			printable(t, err.Error())
			return
		}
		checkSet(t, data, out, change)
	})
}

// checkSet asserts that the file after a change is a book in which exactly that
// price reads as typed, and the other prices as before.
func checkSet(t *testing.T, data, out []byte, change Change) {
	t.Helper()
	was, is := rowTexts(t, data), rowTexts(t, out)
	if is[change.Path] != change.New {
		t.Fatalf("%s reads %q, want %q", change.Path, is[change.Path], change.New)
	}
	if change.Appended {
		if !bytes.HasPrefix(out, data) {
			t.Fatal("appending changed what was there")
		}
		delete(is, change.Path)
	}
	for path, text := range was {
		if path != change.Path && is[path] != text {
			t.Fatalf("%s reads %q, was %q", path, is[path], text)
		}
	}
	if !change.Appended && len(is) != len(was) {
		t.Fatalf("%d prices, were %d", len(is), len(was))
	}
}

func rowTexts(t *testing.T, data []byte) map[string]string {
	t.Helper()
	b, _ := decoded(t, string(data))
	texts := map[string]string{}
	for _, r := range b.Rows(day(2026, 11, 20)) {
		texts[r.Path] = r.Text
	}
	return texts
}
