package econ

import (
	"context"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestRoot(t *testing.T) {
	calls := 0
	for name, c := range map[string]struct {
		a, b, want float64
		f          func(float64) float64
	}{
		"line":         {0, 10, 3, func(x float64) float64 { return 2*x - 6 }},
		"falling":      {1, 100, 20, func(x float64) float64 { return 1/x - 0.05 }},
		"steep":        {0, 30, math.Log(1000), func(x float64) float64 { return math.Exp(x) - 1000 }},
		"flat cubic":   {-1, 4, 1, func(x float64) float64 { return math.Pow(x-1, 3) }},
		"a jump":       {0, 8, 5, func(x float64) float64 { return math.Copysign(1, x-5) }},
		"a jump uphil": {0, 8, 2.5, func(x float64) float64 { return x - 2 + 4*math.Floor(x/2.5) }},
		"backwards":    {10, 0, 3, func(x float64) float64 { return 2*x - 6 }},
		"at an end":    {3, 10, 3, func(x float64) float64 { return x - 3 }},
	} {
		calls = 0
		got := root(c.a, c.b, c.f(c.a), c.f(c.b), func(x float64) float64 { calls++; return c.f(x) })
		if name == "a jump uphil" { // its first sign change is where it passes nothing, at 2
			c.want = 2
		}
		if math.Abs(got-c.want) > 1e-4*math.Max(1, c.want) {
			t.Errorf("%s: root = %v, want %v", name, got, c.want)
		}
		if calls > rootSteps {
			t.Errorf("%s: %d calls", name, calls)
		}
	}
}

// The bracket always shrinks around a change of sign, whatever the function.
func TestRootOfAnyCubic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.SliceOfN(rapid.Float64Range(-5, 5), 4, 4).Draw(t, "coefficients")
		f := func(x float64) float64 { return c[0] + x*(c[1]+x*(c[2]+x*c[3])) }
		a, b := -3.0, 4.0
		if f(a)*f(b) >= 0 {
			t.Skip()
		}
		x := root(a, b, f(a), f(b), f)
		const width = 1e-4
		if !(x >= a && x <= b) || math.Abs(f(x)) > 1e-9 && f(x-width)*f(x+width) > 0 {
			t.Fatalf("f(%v) = %v, at %v and %v", x, f(x), f(x-width), f(x+width))
		}
	})
}

// Where the thresholds say that the decision changes, it does: on the two sides
// of each, an appraisal of the lot with the figure moved is of two minds.
func TestBreakEvensAreWhereTheDecisionChanges(t *testing.T) {
	for _, name := range []string{"sterling-parting.toml", "copper-etchant.toml"} {
		a := appraised(t, request(t, name, sampleLots(t)[name], DefaultBook()))
		list, err := BreakEvens(context.Background(), a)
		if err != nil {
			t.Fatal(err)
		}
		if len(list) < 4 {
			t.Errorf("%s: %d thresholds", name, len(list))
		}
		w := WhatIfOf(a, a.study.req)
		for _, b := range list {
			t.Logf("%s: %s now %.4g %s (%.3g to %.3g): work %+v, below %+v, above %+v", name, b.Label, b.Value, b.Unit, b.From, b.To, b.Work, b.Below, b.Above)
			checkWork(t, name, w, &b)
			checkOvertaking(t, name, w, b.ID, b.Below)
			checkOvertaking(t, name, w, b.ID, b.Above)
		}
	}
}

// checkWork asserts that working the lot up loses on one side and gains on the
// other.
func checkWork(t *testing.T, name string, w *WhatIf, b *Threshold) {
	t.Helper()
	if b.Work.Always || b.Work.Never {
		return
	}
	below, above := workGain(mustAt(t, w, b.ID, b.Work.At*0.997)), workGain(mustAt(t, w, b.ID, b.Work.At*1.003))
	if (above > 0) == (below > 0) || (above > 0) != b.Work.Upwards {
		t.Errorf("%s: %s: the gain is %v below %v and %v above, upwards %t", name, b.ID, below, b.Work.At, above, b.Work.Upwards)
	}
}

// workGain is what the best plan that wins something nets more than the best
// that does not.
func workGain(a *Appraisal) float64 {
	work, rest := math.Inf(-1), math.Inf(-1)
	for i := range a.Plans {
		switch p := &a.Plans[i]; {
		case !p.Priced():
		case p.winsNothing() || p.untouched():
			rest = math.Max(rest, p.Net.Float())
		default:
			work = math.Max(work, p.Net.Float())
		}
	}
	return work - rest
}

func checkOvertaking(t *testing.T, name string, w *WhatIf, slider string, o *Overtaking) {
	t.Helper()
	if o == nil {
		return
	}
	lead := func(x float64) float64 {
		a := mustAt(t, w, slider, x)
		from, to := a.plan(o.From), a.plan(o.To)
		if from == nil || to == nil {
			return 0
		}
		return (from.Net - to.Net).Float()
	}
	below, above := lead(o.At*0.997), lead(o.At*1.003)
	if below*above > 0 && math.Min(math.Abs(below), math.Abs(above)) > 0.05 {
		t.Errorf("%s: %s: %s leads %s by %v below %v and by %v above", name, slider, o.From, o.To, below, o.At, above)
	}
}

func mustAt(t *testing.T, w *WhatIf, slider string, x float64) *Appraisal {
	t.Helper()
	a, err := w.At(context.Background(), Move{slider, x})
	if err != nil {
		t.Fatal(fmt.Errorf("%s at %v: %w", slider, x, err))
	}
	return a
}

// With silver for nothing, no price of it makes work pay on a lot without any;
// and a lot whose work pays whatever silver costs says so.
func TestBreakEvenNeverAndAlways(t *testing.T) {
	name := "copper-etchant.toml"
	a := appraised(t, request(t, name, sampleLots(t)[name], DefaultBook()))
	b, err := ThresholdOf(context.Background(), a, pricePrefix+"spot.Ag")
	if err != nil {
		t.Fatal(err)
	}
	if !b.Work.Never || b.Work.Always || b.Below != nil || b.Above != nil {
		t.Errorf("silver decides about a lot without silver: %+v", b)
	}
	if _, err := ThresholdOf(context.Background(), a, "no such slider"); err == nil {
		t.Error("a threshold of nothing")
	}
}
