package econ

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"
	"time"

	"afterpour/chem/units"
)

// expectation is what a plan of a sample lot should give.
func expectation(t testing.TB, lotName, plan string) (*Expectation, *Appraisal) {
	t.Helper()
	a := appraised(t, request(t, lotName, sampleLots(t)[lotName], DefaultBook()))
	e, err := Expect(context.Background(), a, plan)
	if err != nil {
		t.Fatal(err)
	}
	return e, a
}

// TestExpect holds an expectation against the plan, and its losses against what the
// route does: one settling, four washes, one drying, one melt. Each meets all the
// silver that is left, so a point of it takes about 1/(1 − loss) per cent.
func TestExpect(t *testing.T) {
	e, a := expectation(t, "nitrate-liquor.toml", "copper-cementation+dispose")
	plan := a.planByID("copper-cementation+dispose")
	if len(e.Products) != 1 {
		t.Fatalf("%d products", len(e.Products))
	}
	p := e.Products[0]
	matches(t, "metal", p.MetalMass.Mean, float64(plan.Products[0].MetalMass), 1e-9)
	matches(t, "hours", e.HandsOnH, plan.HandsOnH, 1e-9)
	matches(t, "contained", p.Contained.Mean, float64(a.Report.Metals[0].Contained), 1e-9)
	want := map[string]float64{"settle/loss": 1, "wash/loss": 4, "dry/loss": 1, "melt/loss": 1}
	for _, l := range p.Losses {
		if w, ok := want[l.Figure]; !ok || math.Abs(l.PerPoint-w) > 0.05*w {
			t.Errorf("a point of %s takes %g %%, want %g", l.Figure, l.PerPoint, w)
		}
		delete(want, l.Figure)
	}
	if len(want) > 0 {
		t.Errorf("these losses are missing: %v", want)
	}
	// The doubt of all but the losses is mostly that of the lot's silver.
	lot := a.Report.Metals[0]
	if rel, own := p.MetalMass.SD/p.MetalMass.Mean, float64(lot.SD/lot.Contained); rel < own*0.8 || rel > own*2 {
		t.Errorf("the doubt is %g of the metal, that of the lot %g", rel, own)
	}
	sum := 0.0
	for _, s := range e.Shares {
		sum += s.Share
	}
	matches(t, "shares of the hours", sum, 1, 1e-9)
}

// TestExpectErrors: a plan that is none, and one that cannot be carried out.
func TestExpectErrors(t *testing.T) {
	_, a := expectation(t, "chloride-sludge.toml", "chloride-iron+dispose")
	if _, err := Expect(context.Background(), a, "chloride-irom+dispose"); !errors.Is(err, ErrNoSuchPlan) {
		t.Errorf("a misspelt plan gives %v", err)
	}
	if _, err := Expect(context.Background(), a, "copper-cementation+dispose"); !errors.Is(err, ErrPlanBlocked) {
		t.Errorf("a blocked plan gives %v", err)
	}
}

// TestNoted makes entries of what was noted.
func TestNoted(t *testing.T) {
	e, _ := expectation(t, "nitrate-liquor.toml", "copper-cementation+dispose")
	today := time.Date(2026, 11, 30, 0, 0, 0, 0, time.UTC)
	o, err := e.Outturn(today, []string{"bar=41.2 g ± 0.1 g", "fineness=98.5 %", "hours=2.5 h", "elapsed=30 h", "copper-scrap=40 g", "note=two jars", "date=2026-12-01"})
	if err != nil {
		t.Fatal(err)
	}
	p := o.Products[0]
	matches(t, "fineness", p.Fineness, 985, 1e-12)
	matches(t, "metal", p.MetalMass.Mean, 0.0412*0.985, 1e-9)
	matches(t, "its doubt", p.MetalMass.SD, 0.0001*0.985, 1e-9)
	matches(t, "hours", o.HandsOn.Noted, 2.5, 1e-12)
	matches(t, "expected hours", o.HandsOn.Expected, e.HandsOnH, 1e-12)
	if o.Used[0].Kind != units.MassKind || o.Note != "two jars" || o.Date.Day() != 1 || o.Plan != "copper-cementation+dispose" {
		t.Errorf("noted %+v", o)
	}
	bare, err := e.Outturn(today, []string{"silver-bar=41.2 g"})
	if err != nil {
		t.Fatal(err)
	}
	// Without a fineness found, the one expected is taken.
	matches(t, "metal", bare.Products[0].MetalMass.Mean, 0.0412*e.Products[0].Fineness/1000, 1e-9)
	if bare.Products[0].Fineness != 0 {
		t.Errorf("a fineness of %g is noted that nobody found", bare.Products[0].Fineness)
	}
}

// TestNotedSalt reckons the metal of a salt by the salt's own share of it.
func TestNotedSalt(t *testing.T) {
	req := request(t, "nitrate-liquor.toml", sampleLots(t)["nitrate-liquor.toml"], []byte(roomy()))
	e, err := Expect(context.Background(), appraised(t, req), "calcine-sulfate-salt+dispose")
	if err != nil {
		t.Fatal(err)
	}
	o, err := e.Outturn(time.Time{}, []string{"copper-sulfate=100 g"})
	if err != nil {
		t.Fatal(err)
	}
	// Copper is 63.546 of the 249.685 g/mol of the pentahydrate.
	if got := o.Products[0].MetalMass.Mean; math.Abs(got-0.1*63.546/249.685) > 0.0005 {
		t.Errorf("100 g of copper sulfate hold %g g of copper", 1000*got)
	}
}

// TestNotedWrongly says what is wrong with what was noted.
func TestNotedWrongly(t *testing.T) {
	e, _ := expectation(t, "nitrate-liquor.toml", "copper-cementation+dispose")
	for _, test := range []struct {
		noted []string
		says  string
	}{
		{nil, "nothing"},
		{[]string{"note=only words"}, "nothing"},
		{[]string{"silver-bra=41 g"}, `did you mean "silver-bar"?`},
		{[]string{"silver-bar"}, "name=amount"},
		{[]string{"silver-bar="}, "name=amount"},
		{[]string{"silver-bar=41"}, "unit"},
		{[]string{"silver-bar=41 mL"}, ""},
		{[]string{"silver-bar=41 g", "silver-bar=42 g"}, "twice"},
		{[]string{"silver-bar.colour=grey"}, "called"},
		{[]string{"fineness=985"}, "no mass"},
		{[]string{"silver-bar=41 g", "fineness=1200"}, "1000"},
		{[]string{"silver-bar=41 g", "fineness=0.98"}, "thousand"},
		{[]string{"hours=0 h"}, "more than nothing"},
		{[]string{"hours=3 g"}, ""},
		{[]string{"date=yesterday", "hours=2 h"}, "2026-11-30"},
		{[]string{"copper-scrap=a lot"}, ""},
	} {
		_, err := e.Outturn(time.Time{}, test.noted)
		var wrong *NoteError
		if !errors.As(err, &wrong) || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%q gives %v, want …%s", test.noted, err, test.says)
		}
	}
}

// TestLearnedEstimate notes an outturn 1 % under what was expected and watches that the
// next estimate moves as the posterior says.
func TestLearnedEstimate(t *testing.T) {
	const plan = "copper-cementation+dispose"
	e, _ := expectation(t, "nitrate-liquor.toml", plan)
	o, err := e.Outturn(time.Time{}, []string{"silver-bar=1 g", "hours=1 h"})
	if err != nil {
		t.Fatal(err)
	}
	p := &o.Products[0]
	p.MetalMass = units.Exactly(p.Expected.Mean * 0.99)
	o.HandsOn.Noted = o.HandsOn.Expected * 1.5
	req := request(t, "nitrate-liquor.toml", sampleLots(t)["nitrate-liquor.toml"], DefaultBook())
	req.Learning = Learn(req.Figures, []Outturn{o})
	req.Learning.Apply(req.Figures)
	a := appraised(t, req)
	got := a.planByID(plan)
	var yield, time RouteLearning
	for _, r := range req.Learning.Routes {
		if r.Route == "copper-cementation" && r.About == Yield {
			yield = r
		} else if r.Route == "copper-cementation" {
			time = r
		}
	}
	if !(yield.Mean < 0 && time.Mean > 0) {
		t.Fatalf("learned %+v and %+v", yield, time)
	}
	matches(t, "metal of the next estimate", float64(got.Products[0].MetalMass), e.Products[0].MetalMass.Mean*math.Exp(yield.Mean), 2e-4)
	matches(t, "hours of the next estimate", got.HandsOnH, e.HandsOnH*math.Exp(time.Mean), 1e-4)
	if !strings.Contains(strings.Join(a.Notes, "\n"), "Your last lot by copper-cementation") {
		t.Errorf("the appraisal does not say what was learned: %q", a.Notes)
	}
	s, err := BenchSheet(context.Background(), a, plan)
	if err != nil || len(s.Learned) == 0 {
		t.Errorf("the sheet does not say what was learned: %v", err)
	}
}
