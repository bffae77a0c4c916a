package econ

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

func netAgainst(t testing.TB, w *WhatIf, slider string, plans []string, points int) Curve {
	t.Helper()
	c, err := NetAgainst(context.Background(), w, slider, plans, 0, 0, points)
	if err != nil {
		t.Fatalf("NetAgainst(%s): %v", slider, err)
	}
	return c
}

// checkCurve asserts what must hold of any curve: as many points in each series,
// X rising, Here among them, marks within.
func checkCurve(t testing.TB, what string, c Curve) {
	t.Helper()
	if c.Title == "" || c.X.Name == "" || c.Y.Name == "" || c.Y.Unit == "" || len(c.Series) == 0 {
		t.Errorf("%s: %q against %+v and %+v, %d series", what, c.Title, c.X, c.Y, len(c.Series))
		return
	}
	first := c.Series[0].Points
	for _, s := range c.Series {
		if s.Name == "" || len(s.Points) != len(first) {
			t.Fatalf("%s: series %q has %d points, want %d", what, s.Name, len(s.Points), len(first))
		}
		for i, p := range s.Points {
			if math.IsNaN(p.X+p.Y) || math.IsInf(p.X+p.Y, 0) || i > 0 && !(p.X > s.Points[i-1].X) {
				t.Fatalf("%s: %s, point %d is %+v", what, s.Name, i, p)
			}
		}
	}
	from, to := first[0].X, first[len(first)-1].X
	for i, m := range c.Marks {
		if !(m.X >= from && m.X <= to) || m.Text == "" || math.IsNaN(m.Y) || i > 0 && m.X < c.Marks[i-1].X {
			t.Errorf("%s: mark %+v", what, m)
		}
	}
}

// At the place where the lot stands, a curve shows the nets of the standings.
func TestNetCurvesPassThroughTheStandings(t *testing.T) {
	for name, w := range whatIfs(t) {
		for _, slider := range []string{"price/spot.Ag", "price/labour", SliderSize} {
			c := netAgainst(t, w, slider, nil, 3)
			checkCurve(t, name+": "+slider, c)
			for _, s := range c.Series {
				want := w.base.BaselineNet
				if p := w.base.Plan(s.Name); p != nil {
					want = p.Net
				}
				i := slices.IndexFunc(s.Points, func(p Point) bool { return math.Abs(p.X-c.Here) < 1e-9 })
				if i < 0 {
					t.Fatalf("%s: %s: the lot's own place is not on the curve", name, slider)
				}
				near(t, name+": "+slider+": "+s.Name, s.Points[i].Y, want.Float(), 1e-6)
			}
		}
	}
}

// Dearer silver raises no plan's net the less the more silver it sells: the
// line of a plan that sells silver never falls.
func TestNetAgainstSilverRises(t *testing.T) {
	w := whatIf(t, "nitrate-liquor.toml")
	c := netAgainst(t, w, "price/spot.Ag", nil, 25)
	for _, s := range c.Series {
		for i := 1; i < len(s.Points); i++ {
			if a, b := s.Points[i-1], s.Points[i]; a.There() && b.There() && b.Y < a.Y-1e-9 {
				t.Errorf("%s falls from %+v to %+v", s.Name, a, b)
			}
		}
	}
}

// At a break-even, putting the slider there gives a plan no gain; on either side
// of it the gain has either sign. The same found by an appraisal of all plans.
func TestBreakEvensOfCurves(t *testing.T) {
	found := 0
	for name, w := range whatIfs(t) {
		best := bestWorking(w.base)
		if best == nil {
			continue
		}
		for _, slider := range []string{"price/spot.Ag", SliderSize} {
			c := netAgainst(t, w, slider, []string{best.ID}, 13)
			checkCurve(t, name, c)
			for _, m := range c.Marks {
				if m.Kind != BreakEven {
					continue
				}
				found++
				a := w.must(t, Move{slider, m.X})
				if p := a.Plan(best.ID); p == nil || !p.Priced() || math.Abs(p.Gain.Float()) > 0.02+1e-3*math.Abs(p.Net.Float()) {
					t.Errorf("%s: %s at %s %g gains %v, want nothing", name, best.ID, slider, m.X, p.Gain)
				}
			}
			checkBreakEvensComplete(t, name+": "+slider, c)
		}
	}
	if found < 3 {
		t.Errorf("%d break-evens in all curves", found)
	}
}

func bestWorking(a *Appraisal) *PricedPlan {
	for i := range a.Plans {
		if p := &a.Plans[i]; p.Priced() && !p.untouched() {
			return p
		}
	}
	return nil
}

// checkBreakEvensComplete asserts a mark wherever the first line changes sides.
func checkBreakEvensComplete(t testing.TB, what string, c Curve) {
	t.Helper()
	plan, base := c.Series[0].Points, c.Series[len(c.Series)-1].Points
	for i := 1; i < len(plan); i++ {
		if !plan[i-1].There() || !plan[i].There() || !base[i-1].There() || !base[i].There() {
			continue
		}
		before, after := plan[i-1].Y-base[i-1].Y, plan[i].Y-base[i].Y
		marked := slices.ContainsFunc(c.Marks, func(m Mark) bool {
			return m.Kind == BreakEven && m.X >= plan[i-1].X && m.X <= plan[i].X
		})
		if before > 0 != (after > 0) && !marked {
			t.Errorf("%s: the gain goes from %g to %g between %g and %g without a mark", what, before, after, plan[i-1].X, plan[i].X)
		}
	}
}

func TestNetAgainstRefuses(t *testing.T) {
	w := whatIf(t, "copper-etchant.toml")
	ctx := context.Background()
	for name, c := range map[string]struct {
		slider string
		plans  []string
		from   float64
		to     float64
		points int
		want   error
	}{
		"no slider": {"price/none", nil, 0, 0, 9, ErrNoSlider},
		"no plan":   {SliderSize, []string{"x+y"}, 0, 0, 9, ErrCurve},
		"one point": {SliderSize, nil, 0, 0, 1, ErrCurve},
		"thousands": {SliderSize, nil, 0, 0, 1e6, ErrCurve},
		"below":     {"price/spot.Cu", nil, -5, 5, 9, ErrOutOfRange},
	} {
		if _, err := NetAgainst(ctx, w, c.slider, c.plans, c.from, c.to, c.points); !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", name, err, c.want)
		}
	}
	gone, cancel := context.WithCancel(ctx)
	cancel()
	if _, err := NetAgainst(gone, w, SliderSize, nil, 0, 0, 9); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

// A lot too large for the vessel blocks plans that need it whole: the curve says
// so instead of inventing a net.
func TestNetAgainstSizeShowsBlocks(t *testing.T) {
	w := whatIf(t, "nitrate-liquor.toml")
	c := netAgainst(t, w, SliderSize, nil, 9)
	for _, s := range c.Series {
		for _, p := range s.Points {
			if !p.There() && (strings.TrimSpace(p.Blocked) == "" || math.Abs(p.Y) > 0) {
				t.Errorf("%s at %g: %+v", s.Name, p.X, p)
			}
		}
	}
}

func BenchmarkNetAgainstPrice(b *testing.B) { benchmarkNet(b, "price/spot.Ag") }
func BenchmarkNetAgainstSize(b *testing.B)  { benchmarkNet(b, SliderSize) }

func benchmarkNet(b *testing.B, slider string) {
	w := whatIf(b, "nitrate-liquor.toml")
	for b.Loop() {
		netAgainst(b, w, slider, nil, 41)
	}
}
