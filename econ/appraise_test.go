package econ

import (
	"context"
	"errors"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/route"
)

// sampleLots returns the text of every sample lot by its file name.
func sampleLots(t testing.TB) map[string][]byte {
	t.Helper()
	paths, err := filepath.Glob("../testdata/lots/*.toml")
	if err != nil || len(paths) < 4 {
		t.Fatalf("sample lots %v, %v: want four or more", paths, err)
	}
	lots := map[string][]byte{}
	for _, path := range paths {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		lots[filepath.Base(path)] = text
	}
	return lots
}

// request makes everything ready to appraise a lot with a book.
func request(t testing.TB, name string, lotText, bookText []byte) Request {
	t.Helper()
	lib, err := route.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	figs := lib.Figures().Clone()
	doc, err := input.Parse(name, lotText)
	if err != nil {
		t.Fatal(err)
	}
	l, err := lot.Decode(doc, figs)
	if err != nil {
		t.Fatal(err)
	}
	bookDoc, err := input.Parse(BookName, bookText)
	if err != nil {
		t.Fatal(err)
	}
	book, err := DecodeBook(bookDoc, figs)
	if err != nil {
		t.Fatal(err)
	}
	return Request{Lot: l, Figures: figs, Library: lib, Book: book, Today: day(2026, 11, 21), Seed: 1}
}

func appraised(t testing.TB, req Request) *Appraisal {
	t.Helper()
	a, err := Appraise(context.Background(), req)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestAppraiseSampleLots(t *testing.T) {
	for name, text := range sampleLots(t) {
		t.Run(name, func(t *testing.T) {
			a := appraised(t, request(t, name, text, DefaultBook()))
			t.Logf("%s: %s: %s", a.Lot, a.Verdict.Action, a.Verdict.Why)
			checkAppraisal(t, a)
			for i := range a.Plans {
				if p := &a.Plans[i]; p.Priced() {
					t.Logf("%9.2f %9.2f  %s", p.Net, p.Gain, p.ID)
				}
			}
		})
	}
}

// checkAppraisal asserts what must hold of any appraisal.
func checkAppraisal(t testing.TB, a *Appraisal) {
	t.Helper()
	seen := map[string]bool{}
	last := math.Inf(1)
	blocked := false
	for i := range a.Plans {
		p := &a.Plans[i]
		if seen[p.ID] {
			t.Errorf("%s is listed twice", p.ID)
		}
		seen[p.ID] = true
		if !p.Priced() {
			blocked = true
			if p.Blocked.Reason == "" {
				t.Errorf("%s is blocked without a reason", p.ID)
			}
			continue
		}
		if blocked {
			t.Errorf("%s comes after a blocked plan", p.ID)
		}
		if p.Net.Float() > last+rankStep {
			t.Errorf("%s with %v comes after %v", p.ID, p.Net, last)
		}
		last = p.Net.Float()
		checkLines(t, p)
		checkMasses(t, p)
		near(t, p.ID+": gain", p.Gain.Float(), (p.Net - a.BaselineNet).Float(), 1e-9)
	}
	if a.Baseline == "" || !seen[a.Baseline] || !seen[a.Verdict.Plan] {
		t.Errorf("baseline %q, verdict of %q: not among the plans", a.Baseline, a.Verdict.Plan)
	}
	if !slices.Contains([]string{WorkUp, SellAsIs, HoldAndPool, Dispose}, a.Verdict.Action) || a.Verdict.Why == "" {
		t.Errorf("verdict %+v", a.Verdict)
	}
	if got := a.PricesAsOf.Format("2006-01-02"); got != "2026-11-20" {
		t.Errorf("prices as of %s", got)
	}
}

// checkMasses asserts that no plan recovers more than there is and that no
// buyer pays for more than he gets.
func checkMasses(t testing.TB, p *PricedPlan) {
	t.Helper()
	for _, m := range p.Metals {
		if m.Recovered < 0 || m.Payable > m.Recovered*(1+1e-9) {
			t.Errorf("%s: of %s, contained %v, recovered %v, payable %v", p.ID, m.Metal, m.Contained, m.Recovered, m.Payable)
		}
	}
	for _, product := range p.Products {
		if !(product.Mass > 0) || product.MetalMass > product.Mass*(1+1e-9) {
			t.Errorf("%s: product %+v", p.ID, product)
		}
	}
}

// silverAt is the built-in book with another spot price of silver.
func silverAt(t testing.TB, price string) []byte {
	t.Helper()
	return []byte(swapped(t, string(DefaultBook()), "[spot.Ag]\nprice = \"30.00 / ozt\"", "[spot.Ag]\nprice = \""+price+"\""))
}

// A dearer spot price of silver, which no route uses up, never lowers a plan's
// revenue or net, and no ending of the lot either.
func TestDearerSilverOverSampleLots(t *testing.T) {
	raised := 0
	dear := silverAt(t, "45.00 / ozt")
	for name, text := range sampleLots(t) {
		before, after := appraised(t, request(t, name, text, DefaultBook())), appraised(t, request(t, name, text, dear))
		now := map[string]*PricedPlan{}
		for i := range after.Plans {
			now[after.Plans[i].ID] = &after.Plans[i]
		}
		for i := range before.Plans {
			was := &before.Plans[i]
			is := now[was.ID]
			if is == nil || is.Priced() != was.Priced() {
				t.Errorf("%s: %s was priced or blocked by the price of silver", name, was.ID)
				continue
			}
			if is.Revenue < was.Revenue-moneyTolerance || is.Net < was.Net-moneyTolerance {
				t.Errorf("%s: %s: revenue %v → %v, net %v → %v", name, was.ID, was.Revenue, is.Revenue, was.Net, is.Net)
			}
			if is.Net > was.Net+moneyTolerance {
				raised++
			}
		}
	}
	if raised < 10 {
		t.Errorf("dearer silver raises the net of %d plans", raised)
	}
}

// No plan needs a price that the shipped book lacks.
func TestShippedBookPricesEveryRoute(t *testing.T) {
	for name, text := range sampleLots(t) {
		a := appraised(t, request(t, name, text, DefaultBook()))
		for i := range a.Plans {
			p := &a.Plans[i]
			if !p.Priced() && p.Blocked.Step == "prices" {
				t.Errorf("%s: %s: %s", name, p.ID, p.Blocked.Reason)
			}
			for _, note := range p.Notes {
				t.Errorf("%s: %s: %s", name, p.ID, note)
			}
		}
	}
}

func TestAppraiseTwiceIsTheSame(t *testing.T) {
	for name, text := range sampleLots(t) {
		req := request(t, name, text, DefaultBook())
		first, second := appraised(t, req), appraised(t, req)
		if !slices.Equal(ids(first.Plans), ids(second.Plans)) || first.Verdict != second.Verdict || first.BaselineNet != second.BaselineNet {
			t.Errorf("%s: two runs of one request differ", name)
		}
	}
}

func TestAppraiseStaleAndUndatedSpots(t *testing.T) {
	for name, text := range sampleLots(t) {
		req := request(t, name, text, DefaultBook())
		req.Today = day(2027, 2, 1)
		a := appraised(t, req)
		want := "price/labour"
		if name == "plating-bath.toml" { // refused: it takes storage, but no work
			want = "price/storage"
		}
		if !slices.Contains(a.Stale, want) {
			t.Errorf("%s: stale prices %v lack %s", name, a.Stale, want)
		}
		req.Today = day(2026, 11, 1)
		if a = appraised(t, req); len(a.Stale) != 0 || len(a.Notes) == 0 {
			t.Errorf("%s: prices of a day to come: stale %v, notes %v", name, a.Stale, a.Notes)
		}
		break
	}
}

func TestAppraiseWithoutASpotPrice(t *testing.T) {
	book := []byte(without(t, string(DefaultBook()), "[spot.Ag]"))
	a := appraised(t, request(t, "nitrate-liquor.toml", sampleLots(t)["nitrate-liquor.toml"], book))
	for _, m := range a.Metals {
		if m.Metal == "Ag" && m.SpotValue != nil {
			t.Errorf("silver is worth %v without a price", *m.SpotValue)
		}
	}
	found := false
	for i := range a.Plans {
		if p := &a.Plans[i]; !p.Priced() && strings.Contains(p.Blocked.Reason, "spot price of Ag") {
			found = true
		}
	}
	if !found {
		t.Error("no plan misses the price of silver")
	}
}

func TestAppraiseCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	req := request(t, "nitrate-liquor.toml", sampleLots(t)["nitrate-liquor.toml"], DefaultBook())
	if _, err := Appraise(ctx, req); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want context.Canceled", err)
	}
}
