package tui

import (
	"context"
	"errors"
	"strings"
	"testing"

	"afterpour/econ"
)

// TestDrivers: what the doubt comes from is listed for the plan it was asked
// about, each figure with its share, and can be asked where it comes from.
func TestDrivers(t *testing.T) {
	b := newBench(t, 120, 80, nil)
	b.keys("enter", "d")
	b.shows("What the doubt of the gain comes from", "price/spot.Ag", "61 %", "58 %", "! can turn it", "1 more figure matters less than 0.50 % each")
	b.hides("d what its doubt")
	b.keys("w")
	b.shows("price/spot.Ag: price", "30.00 / ozt")
	b.keys("esc", "right")
	b.hides("What the doubt of the gain comes from")
	b.keys("left")
	b.shows("What the doubt of the gain comes from")
	b.keys("5")
	b.reprice("31.00 / ozt")
	b.keys("4")
	b.hides("What the doubt of the gain comes from")
}

// TestDriversLate: an answer about old figures is dropped; one that failed is
// told.
func TestDriversLate(t *testing.T) {
	b := newBench(t, 120, 80, nil)
	b.keys("enter")
	next, cmd := b.m.Update(press("d"))
	b.m = next.(model)
	b.shows("Working out what the doubt comes from")
	late := cmd()
	b.keys("5")
	b.reprice("31.00 / ozt")
	b.keys("4")
	b.send(late)
	b.hides("can turn it")
	b.m.world.sense = func(context.Context, *econ.Appraisal, string) (*econ.Sensitivity, error) {
		return nil, errors.New("no such plan")
	}
	b.keys("d")
	b.shows("could not be worked out: no such plan", "d what its doubt")
}

// TestDriversOfALot: shares on the screen are those of econ.
func TestDriversOfALot(t *testing.T) {
	b := realBench(t, "../testdata/lots/sterling-parting.toml", 100, 500)
	b.keys("2", "home", "enter", "d")
	s := b.m.drivers.found
	if s == nil || len(s.Drivers) == 0 {
		t.Fatalf("no answer:\n%s", b.view())
	}
	rows := rowsAfter(b.view(), "What the doubt")
	for i := range min(4, len(s.Drivers)) {
		n := &s.Drivers[i]
		if n.Total < leastShare {
			continue
		}
		row := ""
		for _, r := range rows {
			if strings.Contains(r, driverName(n)+" ") {
				row = strings.SplitN(r, driverName(n), 2)[1]
			}
		}
		got := numbers(row)
		for j, want := range []float64{100 * n.Total, 100 * n.First, float64(n.Low), float64(n.High)} {
			if want = max(want, map[bool]float64{true: 0, false: -1e9}[j < 2]); !near(got[j], want) && !(j < 2 && got[j]-want < 0.51 && want-got[j] < 0.51) {
				t.Errorf("%s: %v on the screen, want %v", n.ID, got[j], want)
			}
		}
	}
}
