package tui

import (
	"strings"
	"testing"

	"afterpour/econ"
)

// TestFolded: a plan that only ends otherwise than a better one is listed on
// demand, or when it is set abreast; places are counted over all.
func TestFolded(t *testing.T) {
	b := newBench(t, 120, 40, nil)
	a := b.m.appraisal()
	a.Plans[2].Routes, a.Plans[2].FoldedInto = []string{"wait"}, a.Plans[0].ID
	b.m = b.m.lay()
	b.hides("  3   hold")
	b.shows("  4   copper-cementation+dispose", "1 more plan that only end")
	b.keys("a")
	b.shows("  3   hold")
	b.keys("home", "down", "down", " ", "a")
	b.shows("A   3   hold")
	b.keys("c")
	b.hides("  3   hold")
}

func TestChoose(t *testing.T) {
	var s standings
	for _, id := range []string{"a", "b", "c", "d"} {
		s, _ = s.choose(id)
	}
	if _, ok := s.choose("e"); ok {
		t.Error("a fifth plan was chosen")
	}
	if s.letter("c") != "C" || s.letter("e") != " " {
		t.Errorf("letters %q %q", s.letter("c"), s.letter("e"))
	}
	s, _ = s.choose("b")
	if got := strings.Join(s.chosen, ""); got != "acd" || s.letter("c") != "B" {
		t.Errorf("after taking one back: %q, %q", got, s.letter("c"))
	}
}

func TestAdvice(t *testing.T) {
	tests := map[string]struct {
		change func(*econ.Appraisal)
		want   string
	}{
		"work up":    {func(*econ.Appraisal) {}, "work up, gain +74.30 USD, by chloride-oxide-sugar+dispose"},
		"untouched":  {func(a *econ.Appraisal) { a.Verdict = econ.Verdict{Action: econ.Dispose, Plan: "dispose"} }, "dispose, net -60.00 USD"},
		"pool":       {func(a *econ.Appraisal) { a.Verdict.Action, a.Verdict.PoolLots = econ.HoldAndPool, 4 }, "hold and pool 4 like lots, then chloride-oxide-sugar+dispose"},
		"no price":   {func(a *econ.Appraisal) { a.Verdict = econ.Verdict{Action: econ.HoldAndPool} }, "hold and pool"},
		"not listed": {func(a *econ.Appraisal) { a.Verdict = econ.Verdict{Action: econ.Dispose, Plan: "gone"} }, "dispose"},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			a := testAppraisal()
			tt.change(a)
			if got := advice(a); got != tt.want {
				t.Errorf("advice = %q, want %q", got, tt.want)
			}
		})
	}
}
