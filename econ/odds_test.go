package econ

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"runtime"
	"testing"
)

// refined appraises a sample lot and works its odds out.
func refined(t testing.TB, name string, effort Effort) *Appraisal {
	t.Helper()
	a := appraised(t, request(t, name, sampleLots(t)[name], DefaultBook()))
	b, err := Refine(context.Background(), a, effort, nil)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// oddsText writes the odds of all plans out, to the last bit.
func oddsText(t testing.TB, a *Appraisal) string {
	t.Helper()
	type row struct {
		ID   string
		Odds *Odds
	}
	var rows []row
	for i := range a.Plans {
		rows = append(rows, row{a.Plans[i].ID, a.Plans[i].Odds})
	}
	text, err := json.Marshal(struct {
		Draws, SetAside int
		Settled         bool
		Verdict         Verdict
		Rows            []row
	}{a.Draws, a.SetAside, a.Settled, a.Verdict, rows})
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

const quickLot = "copper-etchant.toml"

// The same seed gives the same odds for any number of threads, to the last bit.
func TestOddsDoNotDependOnThreads(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	want := oddsText(t, refined(t, quickLot, Effort{Most: 700}))
	for _, threads := range []int{2, 3, 7} {
		runtime.GOMAXPROCS(threads)
		if got := oddsText(t, refined(t, quickLot, Effort{Most: 700})); got != want {
			t.Fatalf("%d threads:\n%s\none:\n%s", threads, got, want)
		}
	}
}

// Another seed gives other draws of the same distribution.
func TestOddsOfAnotherSeed(t *testing.T) {
	a := refined(t, quickLot, Effort{Most: 500, Fixed: true})
	req := request(t, quickLot, sampleLots(t)[quickLot], DefaultBook())
	req.Seed = 2
	b, err := Refine(context.Background(), appraised(t, req), Effort{Most: 500, Fixed: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if oddsText(t, a) == oddsText(t, b) {
		t.Error("two seeds give the same draws")
	}
	one, other := a.Plans[0].Odds, b.Plans[0].Odds
	if diff := math.Abs((one.Mean - other.Mean).Float()); diff > 5*one.SD.Float()*math.Sqrt(2.0/500) {
		t.Errorf("means %v and %v differ by more than the scatter of 500 draws", one.Mean, other.Mean)
	}
}

// What must hold of any odds.
func TestOdds(t *testing.T) {
	for _, name := range []string{quickLot, "chloride-sludge.toml", "solder-liquor.toml"} {
		a := refined(t, name, Effort{Most: 600, Fixed: true})
		if a.Draws != 600 || a.Verdict.PPositive == nil {
			t.Errorf("%s: %d draws, verdict %+v", name, a.Draws, a.Verdict)
		}
		best := 0.0
		for i := range a.Plans {
			p := &a.Plans[i]
			if (p.Odds != nil) != p.Priced() {
				t.Errorf("%s: %s: priced %t, odds %v", name, p.ID, p.Priced(), p.Odds)
				continue
			}
			if p.Odds != nil {
				best += p.Odds.PBest * float64(p.Odds.Draws) / float64(a.Draws)
				checkOdds(t, name, a, p)
			}
		}
		if math.Abs(best-1) > 1e-9 {
			t.Errorf("%s: odds of being the best add up to %v", name, best)
		}
	}
}

func checkOdds(t *testing.T, name string, a *Appraisal, p *PricedPlan) {
	t.Helper()
	o := p.Odds
	what := name + ": " + p.ID
	if !(o.P10 <= o.P50 && o.P50 <= o.P90) || !(o.SD >= 0) || !o.Mean.IsFinite() {
		t.Errorf("%s: %+v", what, o)
	}
	for label, share := range map[string]float64{"positive": o.PPositive, "best": o.PBest, "fails": o.Fails, "ahead": o.Ahead} {
		if !(share >= 0 && share <= 1) {
			t.Errorf("%s: %s %v", what, label, share)
		}
	}
	if o.Regret < -moneyTolerance || o.Draws < a.Draws && o.PBest != 0 {
		t.Errorf("%s: set aside after %d draws, and %+v", what, o.Draws, o)
	}
	if p.untouched() && p.Ending == a.Baseline && o.PPositive > 0.5 {
		t.Errorf("%s: the baseline gains over itself with odds %v", what, o.PPositive)
	}
}

// Plans on the same draws are compared draw by draw: an ending that costs a jar
// on the shelf more is behind in each, however wide the spread of both.
func TestSameDrawsForEveryPlan(t *testing.T) {
	a := refined(t, quickLot, Effort{Most: 500, Fixed: true})
	dispose, hold := a.plan("dispose"), a.plan("hold")
	s := a.study.prices
	for d := range 500 {
		shelf := s.nets[dispose.chain][dispose.end][d] - s.nets[hold.chain][hold.end][d]
		if !(shelf > 5 && shelf < 25) { // a year at 1.00 a month, within a tenth or so
			t.Fatalf("draw %d: the shelf costs %v", d, shelf)
		}
	}
	if hold.Odds.PBest != 0 || hold.Odds.SD < 5 {
		t.Errorf("hold: %+v", hold.Odds)
	}
}

// The first report comes after one block and has the plans that a list shows;
// later ones only grow; the draws that there are stay as they are.
func TestRefineReports(t *testing.T) {
	a := appraised(t, request(t, quickLot, sampleLots(t)[quickLot], DefaultBook()))
	var draws []int
	var first *Appraisal
	last, err := Refine(context.Background(), a, Effort{Most: 1500, Fixed: true}, func(p Progress) {
		if p.Most != 1500 || p.Appraisal.Draws != p.Draws {
			t.Errorf("progress %+v", p)
		}
		if first == nil {
			first = p.Appraisal
		}
		draws = append(draws, p.Draws)
	})
	if err != nil {
		t.Fatal(err)
	}
	if draws[0] != block || draws[len(draws)-1] != 1500 || first.Plans[0].Odds == nil {
		t.Errorf("reports after %v draws", draws)
	}
	for i := 1; i < len(draws); i++ {
		if draws[i] < draws[i-1] {
			t.Errorf("reports after %v draws", draws)
		}
	}
	if a.Draws != 0 || a.Plans[0].Odds != nil || first.Draws != block || last == first {
		t.Error("an appraisal that was handed out has changed")
	}
	// Refined again, the draws are not made again.
	again, err := Refine(context.Background(), a, Effort{Most: 1500, Fixed: true}, nil)
	if err != nil || oddsText(t, again) != oddsText(t, last) {
		t.Errorf("refined again: %v", err)
	}
}

func TestRefineCancelled(t *testing.T) {
	a := appraised(t, request(t, quickLot, sampleLots(t)[quickLot], DefaultBook()))
	ctx, cancel := context.WithCancel(context.Background())
	var kept *Appraisal
	_, err := Refine(ctx, a, Effort{Most: 100_000, Fixed: true}, func(p Progress) {
		kept = p.Appraisal
		cancel()
	})
	if !errors.Is(err, context.Canceled) || kept == nil || kept.Draws == 0 {
		t.Fatalf("error %v, kept %v", err, kept)
	}
	// The study is as good as before.
	b, err := Refine(context.Background(), a, Effort{Most: 700, Fixed: true}, nil)
	if err != nil || oddsText(t, b) != oddsText(t, refined(t, quickLot, Effort{Most: 700, Fixed: true})) {
		t.Errorf("after a cancelled refinement: %v", err)
	}
}

// With another price, the odds of the stored draws are those of a fresh start:
// exactly so for plans that were drawn as often, and the dearer metal never
// lowers a plan's odds.
func TestRepriceKeepsTheDraws(t *testing.T) {
	const name = "chloride-sludge.toml"
	books := silverPrices(t, name, "30.00 / ozt", "33.00 / ozt")
	a, err := Refine(context.Background(), appraised(t, books[0].Request), Effort{Most: block, Fixed: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	dearer, err := Reprice(context.Background(), a, books[1].Request)
	if err != nil {
		t.Fatal(err)
	}
	fresh, err := Refine(context.Background(), appraised(t, books[1].Request), Effort{Most: block, Fixed: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	compared := 0
	for i := range dearer.Plans {
		p := &dearer.Plans[i]
		q, was := fresh.plan(p.ID), a.plan(p.ID)
		if p.Odds == nil || q == nil || q.Odds == nil || p.Odds.Draws != q.Odds.Draws {
			continue
		}
		compared++
		near(t, p.ID+": median", p.Odds.P50.Float(), q.Odds.P50.Float(), 1e-6)
		near(t, p.ID+": odds of a gain", p.Odds.PPositive, q.Odds.PPositive, 1e-12)
		if was != nil && was.Odds != nil && p.Odds.P50 < was.Odds.P50-moneyTolerance {
			t.Errorf("%s: silver is dearer and the median went from %v to %v", p.ID, was.Odds.P50, p.Odds.P50)
		}
	}
	if compared < 10 {
		t.Errorf("%d plans compared", compared)
	}
}

// A book with another bench is another lot of work: it is appraised anew.
func TestRepriceOnAnotherBench(t *testing.T) {
	req := request(t, quickLot, sampleLots(t)[quickLot], DefaultBook())
	a, err := Refine(context.Background(), appraised(t, req), Effort{Most: 200, Fixed: true}, nil)
	if err != nil {
		t.Fatal(err)
	}
	other := req
	other.Figures = req.Figures.Clone()
	other.Book, err = DecodeBook(parse(t, swapped(t, string(DefaultBook()), `largest_vessel = "5 L"`, `largest_vessel = "20 L"`)), other.Figures)
	if err != nil {
		t.Fatal(err)
	}
	b, err := Reprice(context.Background(), a, other)
	if err != nil || b.Draws != 0 || b.study.draws == a.study.draws {
		t.Errorf("draws of another bench were kept: %v, %d", err, b.Draws)
	}
}

func TestRefineWithoutAStudy(t *testing.T) {
	if _, err := Refine(context.Background(), &Appraisal{}, Effort{}, nil); err == nil {
		t.Error("odds of nothing")
	}
}
