package tui

import (
	"testing"

	"afterpour/econ"
)

// TestMoveTyped: a typed value moves the figure; one that is none is refused and
// stays to be mended; esc leaves all as it was.
func TestMoveTyped(t *testing.T) {
	b := newBench(t, 120, 40, nil)
	b.keys(toSilver...)
	b.keys("enter")
	b.text("4q")
	b.shows("4q"+drawnSigns.caret, "enter accept")
	b.keys("enter")
	b.shows("type a number in USD / ozt, as 30.00")
	b.keys("backspace")
	b.text("7,5")
	b.keys("enter")
	b.shows("47.50 USD / ozt", "was 30.00", "by copper-cementation+dispose")
	b.keys("enter")
	b.text("99")
	b.keys("esc")
	b.shows("47.50 USD / ozt")
	b.keys("p")
	b.shows("the same: left and right")
}

func TestValueOf(t *testing.T) {
	s := &econ.Slider{Unit: "g", Value: 410, Least: 0, Most: 1000}
	for typed, want := range map[string]float64{"12": 12, " 12.5 ": 12.5, "12,5": 12.5, "1e2": 100, "0": 0, "1000": 1000} {
		if got, err := valueOf(s, typed); err != nil || got != want {
			t.Errorf("%q is %v, %v; want %v", typed, got, err, want)
		}
	}
	for _, typed := range []string{"", "x", "1,234", "-1", "1001", "NaN", "Inf", "1e400", "1,2,3"} {
		if got, err := valueOf(s, typed); err == nil {
			t.Errorf("%q is taken as %v", typed, got)
		}
	}
}
