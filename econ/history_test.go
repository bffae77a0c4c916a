package econ

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/store"
	"afterpour/chem/units"
)

// past is a history of the silver price on days 20 apart.
func past(texts ...string) *History {
	h := &History{}
	for i, text := range texts {
		h.Past = append(h.Past, Past{Path: "spot.Ag.price", Date: day(2026, 5, 1).AddDate(0, 0, 20*i), Text: text})
	}
	return h
}

// Six steps of 10 % up or down in 20 days each: the variance a day is
// ln(1.1)²/20 = 0.000454, so over the day that the price is old and 30 days to
// the settling the logarithm scatters by √(31 × 0.000454) = 0.1187.
func TestHistoryDoubtByHand(t *testing.T) {
	figs := &input.Figures{}
	b, err := DecodeBook(parse(t, smallBook), figs)
	if err != nil {
		t.Fatal(err)
	}
	h := past("30 / ozt", "33 / ozt", "30 / ozt", "33 / ozt", "36.3 / ozt", "33 / ozt", "30 / ozt")
	applied := h.Apply(b, figs, day(2026, 11, 21))
	if !slices.Equal(applied, []string{"price/spot.Ag"}) {
		t.Fatalf("applied to %v", applied)
	}
	fig := figs.Get(b.spots["Ag"].Ref)
	s := math.Sqrt(31 * square(math.Log(1.1)) / 20)
	near(t, "spread", s, 0.1187, 1e-3)
	near(t, "relative doubt", fig.Dist.SD/fig.Dist.Mean, math.Sqrt(math.Exp(s*s)-1), 1e-12)
	near(t, "mean", fig.Dist.Mean*units.TroyOunce.Kilograms(), 30, 1e-9)
	if fig.Dist.Shape != units.Lognormal || !strings.Contains(fig.Source, "7 prices since 2026-05-01") {
		t.Errorf("%v, %q", fig.Dist, fig.Source)
	}
}

func TestHistoryTooShort(t *testing.T) {
	seven := []string{"30 / ozt", "33 / ozt", "30 / ozt", "33 / ozt", "30 / ozt", "33 / ozt", "30 / ozt"}
	short := past(seven...)
	for i := range short.Past {
		short.Past[i].Date = day(2026, 5, 1).AddDate(0, 0, 10*i) // 60 days
	}
	sameDay := past(seven...)
	sameDay.Past[6].Date = sameDay.Past[5].Date
	unread := past(seven...)
	unread.Past[3].Text = "dear"
	for name, h := range map[string]*History{"none": {}, "six": past(seven[:6]...), "60 days": short, "two of one day": sameDay, "one unreadable": unread} {
		figs := &input.Figures{}
		b, err := DecodeBook(parse(t, smallBook), figs)
		if err != nil {
			t.Fatal(err)
		}
		was := figs.Get(b.spots["Ag"].Ref)
		if applied := h.Apply(b, figs, day(2026, 11, 21)); len(applied) != 0 || figs.Get(b.spots["Ag"].Ref) != was {
			t.Errorf("%s: applied to %v", name, applied)
		}
	}
}

// A doubt that was typed stays, and so does a rate without one.
func TestHistoryLeavesWhatWasTyped(t *testing.T) {
	figs := &input.Figures{}
	b, err := DecodeBook(parse(t, swapped(t, smallBook, "30.00 / ozt", "30.00 / ozt ± 1.00 / ozt")), figs)
	if err != nil {
		b, err = DecodeBook(parse(t, swapped(t, smallBook, "30.00 / ozt", "30.00 / ozt ± 5 %")), figs)
	}
	if err != nil {
		t.Fatal(err)
	}
	h := past("30 / ozt", "33 / ozt", "30 / ozt", "33 / ozt", "30 / ozt", "33 / ozt", "30 / ozt")
	for i := range 7 {
		h.Past = append(h.Past, Past{Path: "labour.rate", Date: day(2026, 5, 1).AddDate(0, 0, 20*i), Text: fmt.Sprintf("%d / h", 18+i%3)})
	}
	if applied := h.Apply(b, figs, day(2026, 11, 21)); len(applied) != 0 {
		t.Errorf("applied to %v", applied)
	}
}

// Prices that move like a random walk of known spread give back that spread.
func TestHistoryOfARandomWalk(t *testing.T) {
	const daily = 0.01
	h := &History{}
	price := 30.0
	for i := range 400 {
		h.Past = append(h.Past, Past{Path: "spot.Ag.price", Date: day(2024, 1, 1).AddDate(0, 0, 3*i), Text: fmt.Sprintf("%.6f / ozt", price)})
		price *= math.Exp(daily * math.Sqrt(3) * normal.Quantile(uniform(streamOf(1, "walk"), i)))
	}
	b, _ := decoded(t, smallBook)
	silver := b.spots["Ag"]
	m, ok := h.movement(&silver)
	if !ok || math.Abs(math.Sqrt(m.variance)/daily-1) > 4/math.Sqrt(2*399) {
		t.Errorf("a daily spread of %v, want %v", math.Sqrt(m.variance), daily)
	}
}

// What is set is found again; a second change adds a row and leaves the others.
func TestRemember(t *testing.T) {
	book := filepath.Join(t.TempDir(), "prices.toml")
	silver := Change{Path: "spot.Ag.price", Old: "30.00 / ozt", New: "31.50 / ozt", OldDate: "2026-11-20", NewDate: "2026-12-01"}
	if err := Remember(store.OS, book, silver); err != nil {
		t.Fatal(err)
	}
	first, err := os.ReadFile(HistoryFile(book))
	if err != nil {
		t.Fatal(err)
	}
	labour := Change{Path: "labour.rate", New: "22 / h", NewDate: "2026-12-02"}
	again := Change{Path: "spot.Ag.price", Old: "31.50 / ozt", New: "29 / ozt", OldDate: "2026-12-01", NewDate: "2026-12-20"}
	if err := Remember(store.OS, book, labour, again, Change{Path: "gas", New: "1 / kWh"}); err != nil {
		t.Fatal(err)
	}
	second, _ := os.ReadFile(HistoryFile(book))
	if !strings.HasPrefix(string(second), string(first)) {
		t.Error("what was there has changed")
	}
	h, err := ReadHistory(store.OS, book)
	if err != nil {
		t.Fatal(err)
	}
	want := []Past{
		{"spot.Ag.price", day(2026, 11, 20), "30.00 / ozt"},
		{"spot.Ag.price", day(2026, 12, 1), "31.50 / ozt"},
		{"labour.rate", day(2026, 12, 2), "22 / h"},
		{"spot.Ag.price", day(2026, 12, 20), "29 / ozt"},
	}
	if !slices.EqualFunc(h.Past, want, func(a, b Past) bool { return a.Path == b.Path && a.Text == b.Text && a.Date.Equal(b.Date) }) {
		t.Errorf("history %v, want %v", h.Past, want)
	}
}

func TestHistoryThatIsNone(t *testing.T) {
	book := filepath.Join(t.TempDir(), "prices.toml")
	if h, err := ReadHistory(store.OS, book); err != nil || len(h.Past) != 0 {
		t.Errorf("without a file: %v, %v", h, err)
	}
	for name, text := range map[string]string{
		"not TOML": "price = [", "a key too many": "[[price]]\npath = \"a\"\ndate = 2026-01-01\nprice = \"1\"\nwho = \"me\"\n",
		"no date": "[[price]]\npath = \"a\"\nprice = \"1\"\n",
	} {
		if err := os.WriteFile(HistoryFile(book), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if _, err := ReadHistory(store.OS, book); err == nil {
			t.Errorf("%s: read", name)
		} else {
			t.Logf("%s: %v", name, err)
		}
		if err := Remember(store.OS, book, Change{Path: "a", New: "2", NewDate: "2026-02-01"}); err == nil {
			t.Errorf("%s: a row was added", name)
		}
		if now, _ := os.ReadFile(HistoryFile(book)); string(now) != text {
			t.Errorf("%s: the file has changed", name)
		}
	}
}

// Twice the wait, √2 times the doubt.
func TestMovementDoubtGrowsWithTime(t *testing.T) {
	m := movement{variance: 1e-4}
	near(t, "lognormal", math.Log1p(square(m.doubt(30, 60).SD/30))/math.Log1p(square(m.doubt(30, 30).SD/30)), 2, 1e-9)
	m.share = true
	near(t, "share", m.doubt(0.9, 60).SD/m.doubt(0.9, 30).SD, math.Sqrt2, 1e-9)
	if d := (&movement{variance: 1}).doubt(30, 1e6); d.Check() != nil || d.SD > 100 {
		t.Errorf("a wild price: %v", d)
	}
}
