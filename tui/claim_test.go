package tui

import (
	"strings"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// TestWhereFrom: a figure of a step tells its formula, its inputs by id with the
// text that was typed, and its sources.
func TestWhereFrom(t *testing.T) {
	b := newBench(t, 100, 40, nil)
	b.keys("enter", "home")
	for !strings.HasPrefix(strings.TrimSpace(b.m.row().String()), "sodium chloride") {
		before := b.m.row().key
		if b.keys("down"); b.m.row().key == before {
			t.Fatalf("no row of sodium chloride:\n%s", b.view())
		}
	}
	b.keys("w")
	b.shows("sodium chloride: 29.0 g", "m = (1 + excess)·M·n(Ag)", "more salt makes less silver stay dissolved",
		"lot/dissolved[0].mass  410 g ± 2 g", "typed, strip.toml line 11",
		"route/chloride-oxide-sugar/salt out.excess  10..30 %", "route file: common practice", "Sources")
	b.keys("esc")
	b.hides("Sources")
}

// TestEveryFigureAsked: whatever row can be asked answers, on every screen.
func TestEveryFigureAsked(t *testing.T) {
	b := realBench(t, "../testdata/lots/chloride-settled.toml", 100, 40)
	asked := 0
	for _, s := range []string{"1", "4", "5"} {
		b.keys(s, "home")
		if s == "4" {
			b.m.plan.id = b.m.appraisal().Plans[2].ID
			b.m = b.m.lay()
		}
		for {
			row := b.m.row()
			if row.claim != nil {
				asked++
				b.keys("w")
				if b.m.asked == nil {
					t.Fatalf("%q does not answer", row)
				}
				b.view()
				b.keys("esc")
			}
			if b.keys("down"); b.m.row().key == row.key {
				break
			}
		}
	}
	if asked < 50 {
		t.Errorf("only %d figures can be asked", asked)
	}
}

// TestCleaned: what a file brings never steers the terminal.
func TestCleaned(t *testing.T) {
	b := newBench(t, 100, 40, nil)
	a := b.m.appraisal()
	evil := "\x1b[2J\x1b]52;c;AAAA\x07\u009b31m\u202e\r\n\x00"
	a.Lot, a.Verdict.Why = evil, evil+a.Verdict.Why
	a.Plans[0].ID, a.Plans[0].Cautions = evil+"plan", []string{evil}
	a.Plans[0].Lines[0].Item, a.Plans[0].Outcome.Steps[0].Title = evil, evil
	a.Plans[4].Blocked.Reason, a.Notes = evil, []string{evil}
	a.Report.Notes[0].Text, a.Metals[0].Metal = evil, evil
	a.Figures.Add(input.Figure{ID: "lot/vessel.liquid", Kind: units.VolumeKind, Text: evil, Source: evil, File: evil})
	for _, keys := range [][]string{{"1"}, {"1", "w"}, {"2"}, {"3"}, {"2", "home", "enter"}, {"end"}, {"5"}} {
		b.keys(keys...)
		for _, r := range b.view() {
			if r != '\n' && (r < ' ' || r == 0x7f || 0x80 <= r && r < 0xa0 || r == 0x202e) {
				t.Fatalf("%q on the screen after %v", r, keys)
			}
		}
		b.keys("esc")
	}
}
