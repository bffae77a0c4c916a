package tui

import (
	"fmt"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/exp/golden"
)

// lotScenes lead to the pages on which a lot is typed.
var lotScenes = []struct {
	name string
	lead func(b *bench)
}{
	{"said", func(b *bench) { b.say("vessel.liquid", "3,4 L ± 2 %") }},
	{"said-wrong", func(b *bench) { b.say("vessel.liquid", "3.4 kg") }},
	{"said-unsaved", func(b *bench) {
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
				b := newBench(t, size.width, size.height, nil)
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
			b := newBench(t, 80, 24, func(o *Options) { o.ASCII = true })
			s.lead(b)
			if i := strings.IndexFunc(b.view(), func(r rune) bool { return r > 126 }); i >= 0 {
				t.Errorf("a sign that is not ASCII at %d of\n%s", i, b.view())
			}
		})
	}
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
