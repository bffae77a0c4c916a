package tui

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"afterpour/econ"
)

// fakeExperiment moves the invented plans: cementation gains with the price of
// silver, all plans lose with the wage.
type fakeExperiment struct{ base *econ.Appraisal }

func (fakeExperiment) Sliders() []econ.Slider {
	return []econ.Slider{
		{ID: econ.SliderSize, Label: "size of the lot", Group: econ.GroupLot, Unit: "times", Value: 1, From: 0.1, To: 10, Step: 0.1, Least: 0.01, Most: 100},
		{ID: econ.SliderContent("Ag"), Label: "content of silver", Group: econ.GroupContent, Unit: "times", Value: 1, From: 0.1, To: 3, Step: 0.02, Least: 0.01, Most: 3},
		{ID: "price/spot.Ag", Label: "silver, spot price", Group: econ.GroupPrice, Unit: "USD / ozt", Value: 30, From: 0, To: 90, Step: 1, Most: 1e6, Quick: true},
		{ID: "price/labour", Label: "own labour", Group: econ.GroupWage, Unit: "USD / h", Value: 20, From: 0, To: 60, Step: 0.5, Most: 1e6, Quick: true},
		{ID: "lot/dissolved[0].mass", Label: "dissolved metal 1, mass", Group: econ.GroupStated, Unit: "g", Value: 410, SD: 2, From: 0, To: 820, Step: 10, Most: 1e5},
	}
}

func (e fakeExperiment) At(ctx context.Context, moves ...econ.Move) (*econ.Appraisal, error) {
	a := *e.base
	a.Plans = slices.Clone(a.Plans)
	for i := range a.Plans {
		p := &a.Plans[i]
		for _, m := range moves {
			var extra econ.Money
			switch {
			case m.ID == econ.SliderSize && m.Value > 8:
				return nil, errors.New("the vessel would run over")
			case m.ID == "price/spot.Ag" && p.ID == "copper-cementation+dispose":
				extra = econ.Money(9 * (m.Value - 30))
			case m.ID == "price/labour":
				extra = econ.Money((20 - m.Value) * p.HandsOnH)
			case m.ID == econ.SliderSize:
				extra = p.Net * econ.Money(m.Value-1)
			}
			p.Net, p.Gain = p.Net+extra, p.Gain+extra
		}
	}
	econ.Rank(a.Plans)
	a.Verdict.Plan, a.Verdict.Gain = a.Plans[0].ID, a.Plans[0].Gain
	return &a, ctx.Err()
}

func (e fakeExperiment) Threshold(ctx context.Context, _ *econ.Appraisal, slider string) (econ.Threshold, error) {
	sliders := e.Sliders()
	s := sliders[slices.IndexFunc(sliders, func(s econ.Slider) bool { return s.ID == slider })]
	limit := econ.Threshold{Slider: s, From: s.From, To: s.To, Work: econ.Crossing{Always: true}}
	if slider == "price/spot.Ag" {
		limit.Work = econ.Crossing{At: 24.3, Upwards: true, Plan: "chloride-oxide-sugar+dispose"}
		limit.Above = &econ.Overtaking{At: 42.3, From: "chloride-oxide-sugar+dispose", To: "copper-cementation+dispose"}
	}
	return limit, ctx.Err()
}

// toSilver puts the cursor on the price of silver.
var toSilver = []string{"6", "home", "down", "down"}

// TestWhatIf: a moved price changes plans and advice at once, nothing else, and
// one key puts it back.
func TestWhatIf(t *testing.T) {
	b := newBench(t, 120, 40, nil)
	b.keys(toSilver...)
	b.shows("30.00", "the same: left and right move", "right more")
	page := func() string { return strings.Join(strings.Split(b.view(), "\n")[3:11], "\n") }
	before := page()
	b.keys("]", "]")
	b.shows("50.00", "was 30.00", "! work up, gain +143.60 USD, by copper-cementation+dispose", "as it stands  work up, gain +74.30 USD",
		"gains above 24.30 USD / ozt; above 42.30 the best is copper-cementation+dispose", drawnSigns.turn)
	b.keys("2")
	b.shows("a gain of 74.30 USD")
	b.keys("6", "0")
	b.shows("the same: left and right move")
	if got := page(); got != before {
		t.Errorf("put back:\n%s\nwant:\n%s", got, before)
	}
	b.keys("right", "down", "left", "left", "p")
	b.shows("the same: left and right move")
	if b.m.log.dirty() || b.book() != testBook {
		t.Error("what if has changed the price book")
	}
}

// TestWhatIfFails: a value that cannot be worked out is told of, and the next
// one is.
func TestWhatIfFails(t *testing.T) {
	b := newBench(t, 120, 40, nil)
	b.keys("6", "home")
	for range 8 {
		b.keys("]")
	}
	b.shows("! the vessel would run over")
	b.keys("[", "[")
	b.hides("run over")
}

// TestWhatIfHeld: while a value is worked out the key goes on moving it; the
// last value is the one shown, and late results are dropped.
func TestWhatIfHeld(t *testing.T) {
	b := newBench(t, 120, 40, nil)
	b.keys(toSilver...)
	next, first := b.m.Update(press("right"))
	b.m = next.(model)
	for range 5 {
		next, cmd := b.m.Update(press("right"))
		if b.m = next.(model); cmd != nil {
			t.Fatal("a second run beside the first")
		}
	}
	b.shows("36.00")
	b.run(b.m, first)
	if got := b.m.whatIf.made; len(got) != 1 || got[0].Value != 36 {
		t.Errorf("worked out is %v", got)
	}
	next, late := b.m.Update(press("right"))
	b.m = next.(model)
	b.keys("p")
	b.run(b.m, late)
	if b.m.whatIf.result != nil {
		t.Error("a late result is shown after putting back")
	}
}

// TestWhatIfRebased: after a change of the prices the moves are made again.
func TestWhatIfRebased(t *testing.T) {
	b := newBench(t, 120, 40, nil)
	b.keys(toSilver...)
	b.keys("]", "]", "5")
	b.reprice("31.00 / ozt")
	b.keys("6")
	if len(b.m.whatIf.made) != 1 || b.m.whatIf.result.Plans[0].ID != "copper-cementation+dispose" {
		t.Errorf("moves made: %v", b.m.whatIf.made)
	}
	if net := b.m.whatIf.result.Plans[0].Net; math.Abs(float64(net)-(-96.4+9+180)) > 1e-6 {
		t.Errorf("net %v on the new prices", net)
	}
}

// TestWhatIfOfAnotherLot: what is under way when another lot is opened is
// dropped with it.
func TestWhatIfOfAnotherLot(t *testing.T) {
	b := newBench(t, 120, 40, nil)
	b.keys(toSilver...)
	next, late := b.m.Update(press("right"))
	b.m = next.(model)
	m, run := b.m.openLot(opened{name: "other.toml", data: b.m.residueFile.data})
	b.m = m
	b.run(b.m, late)
	if b.m.whatIf.result != nil {
		t.Error("the result of the lot before is taken in")
	}
	b.run(b.m, run)
	if made := b.m.whatIf.made; len(made) != 1 || made[0].Value != 31 {
		t.Errorf("on the other lot moves %v are made", made)
	}
}

func TestStepsOn(t *testing.T) {
	s := &econ.Slider{Step: 0.5, Least: 0, Most: 10}
	tests := []struct {
		value float64
		n     int
		want  float64
	}{{1, 1, 1.5}, {1, -1, 0.5}, {1.2, 1, 1.5}, {1.2, -1, 1}, {1, 10, 6}, {9.8, 10, 10}, {0, -1, 0}, {0.3, -10, 0}}
	for _, tt := range tests {
		if got := stepsOn(s, tt.value, tt.n); math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("%v and %d steps is %v, want %v", tt.value, tt.n, got, tt.want)
		}
	}
}

// TestWhatIfOfALot: what the screen shows after moves is what econ says.
func TestWhatIfOfALot(t *testing.T) {
	b := realBench(t, "../testdata/lots/sterling-parting.toml", 100, 60)
	b.keys("6")
	for b.keys("home"); b.m.row().key != "price/spot.Ag"; b.keys("down") {
		if b.m.row().key == "" {
			t.Fatal("no price of silver to move")
		}
	}
	for range 3 {
		b.keys("[")
	}
	w := &b.m.whatIf
	if w.result == nil || w.problem != "" {
		t.Fatalf("no result: %s", w.problem)
	}
	want, err := b.m.studies[asEdited].experiment.At(context.Background(), w.moves...)
	if err != nil {
		t.Fatal(err)
	}
	rows := rowsAfter(b.view(), "place")[1:]
	shown := 0
	for i := range want.Plans {
		p := &want.Plans[i]
		if p.FoldedInto != "" && len(p.Routes) > 0 || shown == 3 {
			continue
		}
		_, tail, ok := strings.Cut(rows[shown], " "+cutMiddle(p.ID, max(20, b.m.width-48))+" ")
		if !ok {
			t.Fatalf("row %q is not of %s", rows[shown], p.ID)
		}
		was := planByID(b.m.appraisal(), p.ID)
		compare(t, p.ID, numbers(tail), float64(p.Net), float64(was.Net), float64(p.Net-was.Net))
		if !strings.Contains(rows[shown], fmt.Sprint(i+1)) {
			t.Errorf("%q is not in place %d", rows[shown], i+1)
		}
		shown++
	}
	if len(w.limits) != 1 {
		t.Errorf("%d break-evens: %s", len(w.limits), b.m.notice.text)
	}
	for _, limit := range w.limits {
		b.shows(limitText(&limit)[:40])
	}
}
