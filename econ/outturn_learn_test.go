package econ

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/units"

	"pgregory.net/rapid"
)

// routeFigures is a register with the figures of one invented route.
func routeFigures() *input.Figures {
	figs := &input.Figures{}
	add := func(key string, kind units.Kind, d units.Dist) {
		figs.Add(input.Figure{ID: "route/r/" + key, Kind: kind, Dist: d, Origin: input.RouteFile, Source: "invented"})
	}
	add("settle/loss", units.Fraction, units.UniformDist(0, 0.02))
	add("dry/loss", units.Fraction, units.UniformDist(0, 0.01))
	add("settle/hands_on", units.HoursKind, units.Exactly(0.5))
	add("settle/hands_on per litre", units.HoursPerVolumeKind, units.Exactly(0.1))
	add("settle/wait", units.HoursKind, units.UniformDist(2, 12))
	return figs
}

// lot of 100 g expected, without doubt of its own, of which share came out.
func came(share float64, losses ...OutturnLoss) Outturn {
	return Outturn{File: "lot", Number: 1, Products: []OutturnProduct{{
		Route: "r", Product: "silver-bar", Metal: "Ag", Mass: units.Exactly(0.1 * share), MetalMass: units.Exactly(0.1 * share),
		Expected: units.Exactly(0.1), Contained: units.Exactly(0.2), Losses: losses,
	}}}
}

func took(factor float64) Outturn {
	return Outturn{File: "lot", Number: 1, HandsOn: &OutturnHours{Noted: 2 * factor, Expected: 2, Shares: []OutturnShare{{"r", 1}}}}
}

// numbered gives the entries numbers of their own.
func numbered(list ...Outturn) []Outturn {
	for i := range list {
		list[i].Number = i + 1
	}
	return list
}

func distOf(t *testing.T, figs *input.Figures, id string) units.Dist {
	t.Helper()
	ref, ok := figs.ByID(id)
	if !ok {
		t.Fatalf("no figure %s", id)
	}
	return figs.Get(ref).Dist
}

func matches(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Max(1e-12, math.Abs(want))) {
		t.Errorf("%s = %.8g, want %.8g", what, got, want)
	}
}

// TestYieldByHand is a conjugate update worked out on paper. The settling loss is
// uniform over 0 to 2 %: s = 0.02/√12, s² = 1/30 000. With k = 1, τ² = 1/30 000. The
// outturn is exp(−0.01) times what was expected and has only the scatter of 1 %:
// 1/σ² = 10 000. So 1/v = 40 000, v = 1/200² and m = 10 000·(−0.01)/40 000 = −0.0025.
// The loss goes from 1 % to 1.25 % and its doubt from 0.577 % to 0.5 %.
func TestYieldByHand(t *testing.T) {
	figs := routeFigures()
	l := Learn(figs, []Outturn{came(math.Exp(-0.01), OutturnLoss{"settle/loss", 1})})
	if len(l.Routes) != 1 || l.Routes[0].Lots != 1 {
		t.Fatalf("learned %+v", l.Routes)
	}
	r := l.Routes[0]
	matches(t, "τ", r.PriorSD, 1/math.Sqrt(30000), 1e-9)
	matches(t, "m", r.Mean, -0.0025, 1e-9)
	matches(t, "√v", r.SD, 0.005, 1e-9)
	before := distOf(t, figs, "route/r/settle/loss")
	l.Apply(figs)
	after := distOf(t, figs, "route/r/settle/loss")
	matches(t, "loss before", before.Mean, 0.01, 1e-12)
	matches(t, "loss after", after.Mean, 0.0125, 1e-9)
	matches(t, "its doubt", after.SD, 0.005, 1e-9)
	if d := distOf(t, figs, "route/r/dry/loss"); d != units.UniformDist(0, 0.01) {
		t.Errorf("a figure that nothing leans on has become %+v", d)
	}
	ref, _ := figs.ByID("route/r/settle/loss")
	if fig := figs.Get(ref); !strings.Contains(fig.Source, "your last lot; before that 0..2 % (invented)") {
		t.Errorf("the figure says of its source %q", fig.Source)
	}
}

// TestYieldSharedByHand has two losses: k²s² is 1/30 000 of the settling loss and
// 4·(1/120 000) of the drying loss, which is met twice, together 1/15 000. Two
// outturns at exp(−0.01): 1/v = 15 000 + 20 000, m = −200/35 000. Each loss takes half of
// it: settling +m/2, drying +m/4 since a point of it counts double.
func TestYieldSharedByHand(t *testing.T) {
	figs := routeFigures()
	losses := []OutturnLoss{{"settle/loss", 1}, {"dry/loss", 2}}
	l := Learn(figs, numbered(came(math.Exp(-0.01), losses...), came(math.Exp(-0.01), losses...)))
	m := -200.0 / 35000
	matches(t, "m", l.Routes[0].Mean, m, 1e-9)
	matches(t, "√v", l.Routes[0].SD, 1/math.Sqrt(35000), 1e-9)
	l.Apply(figs)
	narrower := math.Sqrt(15000.0 / 35000)
	settle, dry := distOf(t, figs, "route/r/settle/loss"), distOf(t, figs, "route/r/dry/loss")
	matches(t, "settling loss", settle.Mean, 0.01-m/2, 1e-9)
	matches(t, "drying loss", dry.Mean, 0.005-m/4, 1e-9)
	matches(t, "doubt of the settling loss", settle.SD, narrower/math.Sqrt(30000), 1e-9)
	matches(t, "doubt of the drying loss", dry.SD, narrower/math.Sqrt(120000), 1e-9)
}

// TestTimeByHand: prior N(0, 0.35²), scatter 0.2. Two lots took 1.5 and 1.2 times what
// was expected: 1/v = 8.1633 + 25 + 25 = 58.1633, m = 25·(0.405465 + 0.182322)/58.1633 =
// 0.252646, exp(m) = 1.28742.
func TestTimeByHand(t *testing.T) {
	figs := routeFigures()
	l := Learn(figs, numbered(took(1.5), took(1.2)))
	matches(t, "m", l.Routes[0].Mean, 0.252646, 1e-5)
	matches(t, "√v", l.Routes[0].SD, 1/math.Sqrt(58.1633), 1e-5)
	l.Apply(figs)
	fixed, grows := distOf(t, figs, "route/r/settle/hands_on"), distOf(t, figs, "route/r/settle/hands_on per litre")
	matches(t, "fixed time", fixed.Mean, 0.5*1.28742, 1e-5)
	matches(t, "time a litre", grows.Mean, 0.1*1.28742, 1e-5)
	matches(t, "their doubt", fixed.SD/fixed.Mean, math.Sqrt(2/58.1633), 1e-5)
	if d := distOf(t, figs, "route/r/settle/wait"); d != units.UniformDist(2, 12) {
		t.Errorf("waiting is nobody's handwork, but has become %+v", d)
	}
}

// TestTimeOfSeveralRoutes: with half the hours by another route, d = ½θ + ½θ' + ε, so
// for θ the observation is 2d with variance (0.2² + (0.35/2)²)/(1/2)² = 0.2825.
func TestTimeOfSeveralRoutes(t *testing.T) {
	o := took(1.5)
	o.HandsOn.Shares = []OutturnShare{{"r", 0.5}, {"other", 0.5}}
	l := Learn(routeFigures(), []Outturn{o})
	var r *RouteLearning
	for i := range l.Routes {
		if l.Routes[i].Route == "r" {
			r = &l.Routes[i]
		}
	}
	precision := 1/0.1225 + 1/0.2825
	matches(t, "m", r.Mean, 2*math.Log(1.5)/0.2825/precision, 1e-9)
	matches(t, "√v", r.SD, math.Sqrt(1/precision), 1e-9)
}

// TestWildEntry adds an outturn of a third of what was expected to three usual ones:
// it moves the mean by no more than tolerance·τ²/σ, and is flagged.
func TestWildEntry(t *testing.T) {
	loss := OutturnLoss{"settle/loss", 1}
	usual := []Outturn{came(0.995, loss), came(0.99, loss), came(1.0, loss)}
	calm := Learn(routeFigures(), numbered(usual...))
	wild := Learn(routeFigures(), numbered(append(slices.Clone(usual), came(0.33, loss))...))
	bound := tolerance * (1.0 / 30000) / yieldScatter
	if moved := math.Abs(wild.Routes[0].Mean - calm.Routes[0].Mean); moved > bound || moved == 0 {
		t.Errorf("the wild entry moves the mean by %g, at most %g", moved, bound)
	}
	flagged := 0
	for _, e := range wild.Routes[0].Entries {
		if e.Weight < 1 {
			flagged++
			if e.Why == "" || e.Outturn.Number != 4 {
				t.Errorf("entry %d has weight %g and says %q", e.Outturn.Number, e.Weight, e.Why)
			}
		}
	}
	if flagged != 1 || !strings.Contains(strings.Join(wild.Sentences(), "\n"), "entry 4") {
		t.Errorf("%d entries are flagged: %q", flagged, wild.Sentences())
	}
}

// TestWildEntryProperty: whatever a new entry says, it moves the mean by no more than
// the bound, and the doubt never grows.
func TestWildEntryProperty(t *testing.T) {
	loss := OutturnLoss{"settle/loss", 1}
	rapid.Check(t, func(t *rapid.T) {
		var history []Outturn
		for _, share := range rapid.SliceOfN(rapid.Float64Range(0.5, 1.4), 0, 6).Draw(t, "history") {
			history = append(history, came(share, loss))
		}
		before := Learn(routeFigures(), numbered(history...))
		after := Learn(routeFigures(), numbered(append(slices.Clone(history), came(math.Exp(rapid.Float64Range(-12, 0.69).Draw(t, "ln")), loss))...))
		was, wasSD := 0.0, 1/math.Sqrt(30000)
		if len(before.Routes) > 0 {
			was, wasSD = before.Routes[0].Mean, before.Routes[0].SD
		}
		now := after.Routes[0]
		if math.Abs(now.Mean-was) > tolerance/30000/yieldScatter*(1+1e-9) {
			t.Errorf("moved from %g to %g", was, now.Mean)
		}
		if len(history) == 0 && now.SD > wasSD*(1+1e-9) {
			t.Errorf("the doubt grew from %g to %g", wasSD, now.SD)
		}
		for _, f := range after.figures {
			if f.dist.Check() != nil || f.dist.Mean < 0 || f.dist.Mean > 1 {
				t.Errorf("%s has become %+v", f.id, f.dist)
			}
		}
	})
}

// TestSteadyDifference: a practitioner who always loses 8 % more gets there.
func TestSteadyDifference(t *testing.T) {
	var history []Outturn
	for range 40 {
		history = append(history, came(math.Exp(-0.08), OutturnLoss{"settle/loss", 1}))
	}
	l := Learn(routeFigures(), numbered(history...))
	if m := l.Routes[0].Mean; m > -0.07 || m < -0.08 {
		t.Errorf("after 40 lots at −0.08 the mean is %g", m)
	}
}

// TestOrderOfEntries: the posterior of any order is the same to the last bit.
func TestOrderOfEntries(t *testing.T) {
	loss := []OutturnLoss{{"settle/loss", 1.02}, {"dry/loss", 1.98}}
	history := numbered(came(0.993, loss...), came(0.97, loss...), took(1.3), came(0.4, loss...), took(0.7), came(1.004, loss...), took(5))
	want := Learn(routeFigures(), history)
	rapid.Check(t, func(t *rapid.T) {
		got := Learn(routeFigures(), rapid.Permutation(history).Draw(t, "history"))
		if !reflect.DeepEqual(got.figures, want.figures) || !reflect.DeepEqual(got.Sentences(), want.Sentences()) {
			t.Errorf("another order gives %v, want %v", got.figures, want.figures)
		}
	})
}

// TestBeyondTheLot: more metal than the lot holds is not learned from until it is
// confirmed.
func TestBeyondTheLot(t *testing.T) {
	o := came(1.03, OutturnLoss{"settle/loss", 1})
	o.Products[0].Contained = units.NormalDist(0.102, 0.001)
	figs := routeFigures()
	l := Learn(figs, []Outturn{o})
	if l.Routes[0].Lots != 0 || len(l.figures) != 0 || !strings.Contains(strings.Join(l.Sentences(), ""), "questioned") {
		t.Errorf("learned %+v from 101 %%, and says %q", l.figures, l.Sentences())
	}
	if q := o.Questions(); len(q) != 1 || !strings.Contains(q[0], "wet") || !strings.Contains(q[0], "within the doubt") {
		t.Errorf("asks %q", q)
	}
	o.Confirmed = true
	if l := Learn(figs, []Outturn{o}); l.Routes[0].Lots != 1 || len(l.figures) != 1 {
		t.Errorf("a confirmed outturn teaches %+v", l.figures)
	}
	nothing := came(0, OutturnLoss{"settle/loss", 1})
	if l := Learn(figs, []Outturn{nothing}); l.Routes[0].Lots != 0 || len(l.Sentences()) != 1 {
		t.Errorf("a lost lot teaches %+v, and says %q", l.figures, l.Sentences())
	}
}

// TestCorrectedEntry: what a later entry of the same file corrects does not count;
// the entry of that number in another file does.
func TestCorrectedEntry(t *testing.T) {
	loss := OutturnLoss{"settle/loss", 1}
	history := numbered(came(0.9, loss), came(0.99, loss))
	history[1].Replaces = 1
	other := came(0.995, loss)
	other.File = "another"
	l := Learn(routeFigures(), append(history, other))
	if l.Routes[0].Lots != 2 {
		t.Errorf("%d lots count, want 2", l.Routes[0].Lots)
	}
}

// TestLossesStayShares: where a loss cannot take its part without leaving 0 to 1,
// the other takes it.
func TestLossesStayShares(t *testing.T) {
	figs := routeFigures()
	var history []Outturn
	for range 60 {
		history = append(history, came(1.018, OutturnLoss{"settle/loss", 1}, OutturnLoss{"dry/loss", 1}))
	}
	l := Learn(figs, numbered(history...))
	l.Apply(figs)
	settle, dry := distOf(t, figs, "route/r/settle/loss"), distOf(t, figs, "route/r/dry/loss")
	if settle.Mean < 0 || dry.Mean < 0 {
		t.Errorf("losses of %g and %g", settle.Mean, dry.Mean)
	}
	// 1 % and 0.5 % can give 1.5 % at the most.
	if got := 0.015 - settle.Mean - dry.Mean; got > 0.015+1e-12 || math.Abs(got-math.Min(l.Routes[0].Mean, 0.015)) > 1e-12 {
		t.Errorf("the losses give %g of a mean of %g", got, l.Routes[0].Mean)
	}
}

// TestNothingLearned: no history, a history of a route that is gone, a nil Learning.
func TestNothingLearned(t *testing.T) {
	figs := routeFigures()
	if l := Learn(figs, nil); len(l.Routes) != 0 || l.Sentences() != nil {
		t.Errorf("from nothing %+v", l)
	}
	gone := came(0.9, OutturnLoss{"settle/loss", 1})
	gone.Products[0].Route = "gone"
	l := Learn(figs, []Outturn{gone})
	l.Apply(figs)
	if len(l.figures) != 0 {
		t.Errorf("a route that is gone teaches %v", l.figures)
	}
	var none *Learning
	none.Apply(figs)
	if none.Sentences("r") != nil || !reflect.DeepEqual(figs, routeFigures()) {
		t.Error("no learning changes figures")
	}
}
