package tui

import (
	"context"
	"errors"
	"strings"
	"testing"

	"afterpour/econ"

	tea "github.com/charmbracelet/bubbletea"
)

// TestOddsBegin: the odds begin by themselves once the lot is worked out, and
// show how far they are.
func TestOddsBegin(t *testing.T) {
	b := newBench(t, 120, 40, func(o *Options) { o.Draws = 0 })
	b.shows("Odds of a gain: 96 %; of being the best: 61 %.", "1000 draws, steady", "gain odds 96 %, best 61 %")
	b.hides("o odds")
	if a := b.m.studies[asSaved].appraisal; a == nil || a.Draws != 1000 {
		t.Error("what was saved is shown without odds")
	}
	b.keys("5")
	b.reprice("31.00 / ozt")
	b.keys("2")
	b.shows("1000 draws, steady")
}

// held is a refinement that stops after its first report until it is cancelled.
func held(t *testing.T) (refinement, <-chan struct{}) {
	ended := make(chan struct{})
	return func(ctx context.Context, a *econ.Appraisal, e econ.Effort, report func(econ.Progress)) (*econ.Appraisal, error) {
		first := true
		_, err := fakeRefine(ctx, a, e, func(p econ.Progress) {
			if first {
				report(p)
			}
			first = false
		})
		<-ctx.Done()
		close(ended)
		return nil, errors.Join(err, ctx.Err())
	}, ended
}

// TestOddsCancelled: the same key ends the work and leaves what there is; what
// comes late is dropped.
func TestOddsCancelled(t *testing.T) {
	b := newBench(t, 120, 40, nil)
	work, ended := held(t)
	b.m.world.refine = work
	next, cmd := b.m.Update(press("o"))
	b.m = next.(model)
	b.shows("odds are being worked out")
	batch := cmd().(tea.BatchMsg)
	go batch[0]()
	first := batch[1]().(refinedMsg)
	next, _ = b.m.Update(first)
	b.m = next.(model)
	b.shows("100 draws, of at most 10000", "o stop the odds")
	late := first
	late.progress.Draws = 777
	b.keys("o")
	<-ended
	b.shows("The odds stay at 100 draws.", "100 draws, not yet steady", "o odds")
	b.send(tea.Msg(late))
	b.hides("777")
	if msg := first.next(); msg != nil {
		t.Errorf("after the end comes %v", msg)
	}
}

// TestOddsOfOldFigures: new figures end the work on the odds of the old.
func TestOddsOfOldFigures(t *testing.T) {
	b := newBench(t, 120, 40, nil)
	work, ended := held(t)
	b.m.world.refine = work
	next, cmd := b.m.Update(press("o"))
	b.m = next.(model)
	batch := cmd().(tea.BatchMsg)
	go batch[0]()
	first := batch[1]()
	b.keys("5")
	b.reprice("45.00 / ozt")
	<-ended
	b.send(first)
	if b.m.appraisal().Draws != 0 {
		t.Error("the odds of old figures are shown")
	}
}

func TestOddsFail(t *testing.T) {
	b := newBench(t, 120, 40, nil)
	b.m.world.refine = func(context.Context, *econ.Appraisal, econ.Effort, func(econ.Progress)) (*econ.Appraisal, error) {
		return nil, errors.New("no plans to draw")
	}
	b.keys("o")
	b.shows("The odds could not be worked out: no plans to draw", "o odds")
}

// TestWhisker: ends, middle and net stand where the axis says, without colour.
func TestWhisker(t *testing.T) {
	x := moneyAxis{low: -10, high: 10, width: 21}
	got := x.row(asciiSigns, 2, &econ.Odds{P10: -5, P50: 1, P90: 6}).String()
	if want := "     [....|oO...]    "; got != want {
		t.Errorf("whisker %q, want %q", got, want)
	}
}

func TestStepped(t *testing.T) {
	tests := []struct {
		amount econ.Money
		step   float64
		want   string
	}{{123.456, 1, "123"}, {123.456, 10, "120"}, {123.456, 0.1, "123.5"}, {123.456, 0.001, "123.46"}, {123.456, 0, "123.46"}, {-0.2, 1, "0"}}
	for _, tt := range tests {
		if got := stepped(tt.amount, tt.step); strings.TrimPrefix(got, "-") != strings.TrimPrefix(tt.want, "-") || got[0] == '-' != (tt.amount < 0 && tt.want != "0") {
			t.Errorf("%v to %v is %q, want %q", tt.amount, tt.step, got, tt.want)
		}
	}
}
