package tui

import (
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/exp/golden"
)

// lotScenes lead to the pages on which a lot is typed.
var lotScenes = []struct {
	name  string
	start bool
	lead  func(b *bench)
}{
	{"start", true, func(*bench) {}},
	{"start-last", true, func(b *bench) { b.keys("end") }},
	{"describe-first", true, func(b *bench) { b.keys("n") }},
	{"describe", true, func(b *bench) {
		b.keys("n")
		b.answers("Strip, jar 9", "contacts", "410 g ± 2 g", "Ag 8 % ± 1 %, Cu 64 %, Zn rest", "nitric acid", "1.6 L of 68 %", "2 L water", "3.2 L ± 5 %")
		b.text("0,3")
	}},
	{"describe-wrong", true, func(b *bench) {
		b.keys("n", "enter", "enter")
		b.text("1,234 g")
	}},

	{"sheet", false, func(b *bench) { b.sheetOpen() }},
	{"sheet-steps", false, func(b *bench) {
		b.sheetOpen()
		b.keys("tab", "tab", "tab", "tab", "tab", "tab", "down", " ")
	}},
	{"outturn", false, func(b *bench) {
		b.m.residueFile.path = "strip.toml" // its file, which is not written here
		b.sheetOpen()
		b.keys("n")
		b.send(expectedMsg{run: b.m.sheetRun, expected: testExpectation()})
		b.answers("29.5 g", "985")
		b.text("3 L")
	}},
	{"said", false, func(b *bench) { b.say("vessel.liquid", "3,4 L ± 2 %") }},
	{"said-wrong", false, func(b *bench) { b.say("vessel.liquid", "3.4 kg") }},
	{"said-unsaved", false, func(b *bench) {
		b.say("vessel.liquid", "3,4 L ± 2 %")
		b.keys("enter", "q")
	}},
}

// TestGoldenLot: each page at both sizes, the same text without any colour, and
// in ASCII.
func TestGoldenLot(t *testing.T) {
	for _, size := range sizes {
		for _, s := range lotScenes {
			t.Run(fmt.Sprintf("%s/%dx%d", s.name, size.width, size.height), func(t *testing.T) {
				b := benchOf(t, s.start, size.width, size.height)
				s.lead(b)
				view := b.view()
				golden.RequireEqual(t, view)
				fitsScreen(t, view, size.width, size.height)
				for _, theme := range []Theme{Dark, Light, Mono} {
					b.painted(theme)
					if got := ansi.Strip(b.view()); got != view {
						t.Errorf("the theme %s shows other text than no colour:\n%s", theme, got)
					}
				}
			})
		}
	}
	for _, s := range lotScenes {
		t.Run(s.name+"/ascii", func(t *testing.T) {
			b := benchOf(t, s.start, 80, 24)
			b.m.look = newLook(newRenderer(io.Discard, Options{NoColor: true}), Dark, true)
			s.lead(b)
			b.m = b.m.lay()
			if i := strings.IndexFunc(b.view(), func(r rune) bool { return r > 126 }); i >= 0 {
				t.Errorf("a sign that is not ASCII at %d of\n%s", i, b.view())
			}
		})
	}
}

// benchOf starts on the start page, or on a lot.
func benchOf(t *testing.T, start bool, width, height int) *bench {
	t.Helper()
	if start {
		return fromNothing(t, width, height)
	}
	return newBench(t, width, height, nil)
}

func fitsScreen(t *testing.T, view string, width, height int) {
	t.Helper()
	rows := strings.Split(view, "\n")
	if len(rows) != height {
		t.Errorf("%d rows on a screen of %d", len(rows), height)
	}
	for i, row := range rows {
		if w := ansi.StringWidth(row); w > width {
			t.Errorf("row %d is %d wide on a screen of %d: %q", i, w, width, row)
		}
	}
}
