package econ

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"afterpour/chem/equil"
	"afterpour/chem/route"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// proofOfID picks one proof.
func proofOfID(t testing.TB, proofs []Proof, id string) Proof {
	t.Helper()
	for _, p := range proofs {
		if p.ID == id {
			return p
		}
	}
	t.Fatalf("no proof %q", id)
	return Proof{}
}

// Every sample lot passes every proof; the two that end differently pass the
// whole self-check, with its draws and its search for decisive inputs.
func TestSelfcheckSampleLots(t *testing.T) {
	whole := map[string]bool{"sterling-parting.toml": true, "copper-etchant.toml": true}
	for name, text := range sampleLots(t) {
		t.Run(name, func(t *testing.T) {
			req := request(t, name, text, DefaultBook())
			if !whole[name] {
				checkProofs(t, plainProofs(appraised(t, req), req))
				return
			}
			_, proofs, err := Selfcheck(context.Background(), req)
			if err != nil {
				t.Fatal(err)
			}
			checkProofs(t, proofs)
		})
	}
}

// plainProofs are those that only look at an appraisal.
func plainProofs(a *Appraisal, req Request) []Proof {
	return []Proof{
		Conservation(a), Masses(a), Ledger(a), Sums(a), Standings(a), Finite(a), FigureSources(a), TableSources(), PriceDates(a, req.Book, req.Today),
	}
}

func checkProofs(t *testing.T, proofs []Proof) {
	t.Helper()
	for _, p := range proofs {
		t.Logf("%s %s: %s", p.Result, p.ID, p.Text)
		if p.Result == Failed || p.Claim == "" || p.Text == "" {
			t.Errorf("%s: %s: %q", p.ID, p.Result, p.Found)
		}
	}
}

// spoilings each make one figure of a good appraisal wrong, and name the proof
// that must notice.
var spoilings = map[string]struct {
	proof string
	spoil func(a *Appraisal, p *PricedPlan)
}{
	"an element lost":         {"conservation", func(_ *Appraisal, p *PricedPlan) { p.Outcome.Balance.Elements[0].Out *= 1 - 1e-6 }},
	"an element made":         {"conservation", func(_ *Appraisal, p *PricedPlan) { p.Outcome.Balance.Elements[1].Out *= 1 + 1e-6 }},
	"an element from nothing": {"conservation", func(_ *Appraisal, p *PricedPlan) { p.Outcome.Balance.Elements[0].In = 0 }},
	"a missing electron":      {"conservation", func(_ *Appraisal, p *PricedPlan) { p.Outcome.Balance.ChargeOut += 1e-3 }},
	"no account kept":         {"conservation", func(a *Appraisal, _ *PricedPlan) { forgetBalances(a) }},
	"a product too heavy":     {"masses", func(_ *Appraisal, p *PricedPlan) { p.Outcome.Products[0].Mass *= 1.001 }},
	"a waste without metal":   {"masses", func(_ *Appraisal, p *PricedPlan) { p.Outcome.Waste[0].Metals = nil }},
	"more than there is":      {"masses", func(_ *Appraisal, p *PricedPlan) { p.Metals[0].Recovered = 1e3 }},
	"paid for too much":       {"masses", func(_ *Appraisal, p *PricedPlan) { p.Metals[0].Payable = p.Metals[0].Recovered + 1 }},
	"an hour not paid":        {"ledger", func(_ *Appraisal, p *PricedPlan) { p.HandsOnH-- }},
	"a kilowatt-hour dropped": {"ledger", func(_ *Appraisal, p *PricedPlan) { p.EnergyKWh -= 0.01 }},
	"a reagent dropped":       {"ledger", func(_ *Appraisal, p *PricedPlan) { p.Reagents = p.Reagents[1:] }},
	"a reagent in kilograms":  {"ledger", func(_ *Appraisal, p *PricedPlan) { p.Reagents[0].Mass /= 1000 }},
	"a waste dropped":         {"ledger", func(_ *Appraisal, p *PricedPlan) { p.Waste = p.Waste[1:] }},
	"a product sold twice":    {"ledger", func(_ *Appraisal, p *PricedPlan) { p.Products = append(p.Products, p.Products[0]) }},
	"a cost of another sum":   {"ledger", func(_ *Appraisal, p *PricedPlan) { p.Waste[0].Cost++ }},
	"a line multiplied wrong": {"sums", func(_ *Appraisal, p *PricedPlan) { p.Lines[0].Quantity *= 1.0001 }},
	"a fee dropped":           {"sums", func(_ *Appraisal, p *PricedPlan) { p.Lines = p.Lines[1:] }},
	"a line of no category":   {"sums", func(_ *Appraisal, p *PricedPlan) { p.Lines[0].Category = "luck" }},
	"a price nobody entered":  {"sums", func(_ *Appraisal, p *PricedPlan) { p.Lines[0].PriceID = "price/none" }},
	"a cost with a wrong sign": {"sums", func(_ *Appraisal, p *PricedPlan) {
		p.Net += 2 * p.DisposalCost
	}},
	"a gain over nothing":      {"sums", func(_ *Appraisal, p *PricedPlan) { p.Gain = p.Net }},
	"labour counted twice":     {"sums", func(_ *Appraisal, p *PricedPlan) { p.NetWithoutLabour = p.Net }},
	"an hour worth too much":   {"sums", func(_ *Appraisal, p *PricedPlan) { *p.PerHour += 1 }},
	"the order turned":         {"standings", func(a *Appraisal, _ *PricedPlan) { a.Plans[0], a.Plans[1] = a.Plans[1], a.Plans[0] }},
	"a plan twice":             {"standings", func(a *Appraisal, _ *PricedPlan) { a.Plans[1] = a.Plans[0] }},
	"another baseline":         {"standings", func(a *Appraisal, _ *PricedPlan) { a.Baseline = "hold" }},
	"a verdict of another sum": {"standings", func(a *Appraisal, _ *PricedPlan) { a.Verdict.Gain++ }},
	"a verdict about nothing":  {"standings", func(a *Appraisal, _ *PricedPlan) { a.Verdict.Plan = "none" }},
	"blocked without a reason": {"standings", func(a *Appraisal, _ *PricedPlan) { a.Plans[len(a.Plans)-1].Blocked = &route.Block{} }},
	"no number":                {"finite", func(_ *Appraisal, p *PricedPlan) { p.Products[0].Fineness = math.NaN() }},
	"an infinity":              {"finite", func(a *Appraisal, _ *PricedPlan) { a.Report.Metals[0].SD = units.Mass(math.Inf(1)) }},
	"a figure from nowhere":    {"sources", func(_ *Appraisal, p *PricedPlan) { firstEntry(p).Why = route.Why{} }},
	"a line from nowhere":      {"sources", func(_ *Appraisal, p *PricedPlan) { p.Lines[0].Why.Formula = "" }},
	"an input from nowhere": {"sources", func(a *Appraisal, _ *PricedPlan) {
		f := a.Figures.Get(0)
		f.Source = ""
		a.Figures.Add(f)
	}},
}

func firstEntry(p *PricedPlan) *route.Entry {
	for i := range p.Outcome.Steps {
		if entries := p.Outcome.Steps[i].Entries; len(entries) > 0 {
			return &entries[0]
		}
	}
	return nil
}

func forgetBalances(a *Appraisal) {
	for i := range a.Plans {
		a.Plans[i].Outcome.Balance = route.Balance{}
	}
}

// Each proof fails where a figure that it is about is spoilt, and names it.
func TestProofsNotice(t *testing.T) {
	text := sampleLots(t)["sterling-parting.toml"]
	req := request(t, "sterling-parting.toml", text, DefaultBook())
	for name, tt := range spoilings {
		t.Run(name, func(t *testing.T) {
			a := appraised(t, req)
			best := &a.Plans[0]
			if len(best.Products) == 0 || len(best.Waste) == 0 || len(best.Reagents) < 2 {
				t.Fatalf("%s is no plan to spoil", best.ID)
			}
			tt.spoil(a, best)
			p := proofOfID(t, plainProofs(a, req), tt.proof)
			if p.Result != Failed || len(p.Found) == 0 {
				t.Errorf("%s: %s: %s", p.ID, p.Result, p.Text)
			}
		})
	}
}

// A list of findings ends before it is too long to be read.
func TestProofIsBounded(t *testing.T) {
	p := proofOf("x", "y")
	for i := range 3 * mostFound {
		p.wrong("fault %d", i)
	}
	if got := p.done("done"); len(got.Found) != mostFound+1 || !strings.Contains(got.Found[mostFound], fmt.Sprint(2*mostFound)) {
		t.Errorf("%d findings, the last is %q", len(got.Found), got.Found[len(got.Found)-1])
	}
}

// ownBook is the shipped book with every price a little dearer, so that none is
// the invented one.
func ownBook(t *testing.T) string {
	t.Helper()
	doc := parse(t, string(DefaultBook()))
	book, v := decoded(t, string(DefaultBook()))
	for _, row := range book.Rows(day(2026, 11, 21)) {
		price, err := book.Find(row.ID)
		if err != nil {
			t.Fatal(err)
		}
		text := fmt.Sprintf("%.6g", 0.9*price.At(v))
		switch {
		case price.Kind == units.Fraction:
			text = fmt.Sprintf("%.6g %%", 90*price.At(v))
		case price.Per != "":
			text += " / " + price.Per
		}
		edited, _, err := SetPrice(doc, row.Path, text, day(2026, 11, 20))
		if err != nil {
			t.Fatalf("%s = %q: %v", row.Path, text, err)
		}
		doc = parse(t, string(edited))
	}
	return string(doc.Data())
}

func TestPriceDates(t *testing.T) {
	own := ownBook(t)
	labour := strings.Index(own, "[labour]")
	undated := own[:labour] + strings.Replace(own[labour:], "date = 2026-11-20", "", 1)
	for name, tt := range map[string]struct {
		book string
		year int
		mon  time.Month
		day  int
		says string // "" where nothing is to be noted
	}{
		"fresh":    {own, 2026, 11, 21, ""},
		"last day": {own, 2026, 12, 20, ""},
		"stale":    {own, 2026, 12, 21, "31 days ago"},
		"to come":  {own, 2026, 11, 1, "still to come"},
		"leap day": {own, 2028, 2, 29, "466 days ago"},
		"undated":  {undated, 2026, 11, 21, "labour.rate has no date"},
		"invented": {string(DefaultBook()), 2026, 11, 21, "invented"},
	} {
		t.Run(name, func(t *testing.T) {
			req := request(t, "copper-etchant.toml", sampleLots(t)["copper-etchant.toml"], []byte(tt.book))
			p := PriceDates(appraised(t, req), req.Book, day(tt.year, tt.mon, tt.day))
			if want := map[bool]Result{true: Proved, false: Noted}[tt.says == ""]; p.Result != want || !strings.Contains(strings.Join(p.Found, "\n"), tt.says) {
				t.Errorf("%s %q, want %s with %q", p.Result, p.Found, want, tt.says)
			}
		})
	}
}

// failing is an equilibrium that is not found.
type failing struct{ equil.Equilibrator }

func (failing) Equilibrate(*substance.Stream) (equil.Outcome, error) {
	return equil.Outcome{}, errors.New("no root")
}

// An equilibrium that is not found is told, whatever it did to the plans.
func TestDrawsTellOfTheSolver(t *testing.T) {
	req := request(t, "copper-etchant.toml", sampleLots(t)["copper-etchant.toml"], DefaultBook())
	s, err := newSubject(appraised(t, req), req)
	if err != nil {
		t.Fatal(err)
	}
	p, err := s.draws(context.Background())
	if err != nil || p.Result != Proved || s.watch.calls == 0 {
		t.Errorf("%s, %d calls of the solver, %v: %q", p.Result, s.watch.calls, err, p.Found)
	}
	s.watch.solver = failing{}
	if p, err = s.draws(context.Background()); err != nil || p.Result == Proved || !strings.Contains(p.Found[len(p.Found)-1]+p.Found[0], "no root") {
		t.Errorf("%s, %v: %q", p.Result, err, p.Found)
	}
}

func TestSelfcheckCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	req := request(t, "copper-etchant.toml", sampleLots(t)["copper-etchant.toml"], DefaultBook())
	if _, _, err := Selfcheck(ctx, req); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v, want context.Canceled", err)
	}
}
