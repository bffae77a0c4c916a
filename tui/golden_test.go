package tui

import (
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/exp/golden"
	"github.com/muesli/termenv"

	tea "github.com/charmbracelet/bubbletea"
)

// scenes lead from the first screen to every page there is.
var scenes = []struct {
	name string
	keys []string
}{
	{"standings", nil},
	{"standings-odds", []string{"o"}},
	{"standings-blocked", []string{"end"}},
	{"residue", []string{"1"}},
	{"residue-notes", []string{"1", "end"}},
	{"abreast", []string{" ", "down", "down", "down", " ", "3"}},
	{"abreast-four", []string{" ", "down", " ", "down", " ", "down", " ", "3", "end"}},
	{"plan", []string{"enter"}},
	{"plan-odds", []string{"o", "enter"}},
	{"plan-drivers", []string{"enter", "d"}},
	{"plan-money", []string{"enter", "tab", "tab", "tab", "tab"}},
	{"plan-blocked", []string{"end", "enter"}},
	{"prices", []string{"5"}},
	{"curve", []string{"7"}},
	{"curve-net", []string{"7", "left", "left"}},
	{"curve-table", []string{"7", "left", "left", "t"}},
	{"curve-none", []string{"7", "right"}},
	{"what-if", []string{"6"}},
	{"what-if-typed", []string{"6", "down", "down", "enter", "4"}},
	{"what-if-moved", []string{"6", "down", "down", "]", "]", "right"}},
	{"where-from-standings", []string{"w"}},
	{"where-from", []string{"1", "w"}},
	{"help", []string{"5", "?"}},
}

// editing scenes change the price of silver first.
var editing = []struct {
	name string
	keys []string
	text string
	then []string
}{
	{"typed", []string{"5", "enter", "ctrl+u"}, "45.00 / ozt", nil},
	{"wrong", []string{"5", "enter", "ctrl+u"}, "45.00 / L", nil},
	{"edited", []string{"5", "enter", "ctrl+u"}, "45.00 / ozt", []string{"enter"}},
	{"guard", []string{"5", "enter", "ctrl+u"}, "45.00 / ozt", []string{"enter", "q"}},
}

var sizes = []struct{ width, height int }{{80, 24}, {120, 40}}

// painted gives a bench the look of a theme on a terminal with 256 colours.
func (b *bench) painted(theme Theme) {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(termenv.ANSI256)
	r.SetHasDarkBackground(theme != Light)
	b.m.look = newLook(r, theme, false)
	b.m = b.m.lay()
}

// eachScene runs f on every scene at a size.
func eachScene(t *testing.T, width, height int, change func(*Options), f func(t *testing.T, name string, b *bench)) {
	t.Helper()
	for _, s := range scenes {
		t.Run(s.name, func(t *testing.T) {
			b := newBench(t, width, height, change)
			b.keys(s.keys...)
			f(t, s.name, b)
		})
	}
	for _, s := range editing {
		t.Run(s.name, func(t *testing.T) {
			b := newBench(t, width, height, change)
			b.keys(s.keys...)
			b.text(s.text)
			b.keys(s.then...)
			f(t, s.name, b)
		})
	}
}

func TestGoldenLayout(t *testing.T) {
	for _, size := range sizes {
		t.Run(fmt.Sprintf("%dx%d", size.width, size.height), func(t *testing.T) {
			eachScene(t, size.width, size.height, nil, func(t *testing.T, _ string, b *bench) {
				golden.RequireEqual(t, b.view())
			})
		})
	}
}

func TestGoldenThemes(t *testing.T) {
	for _, theme := range []Theme{Dark, Light, Mono} {
		for _, size := range sizes {
			t.Run(fmt.Sprintf("%s/%dx%d", theme, size.width, size.height), func(t *testing.T) {
				eachScene(t, size.width, size.height, nil, func(t *testing.T, _ string, b *bench) {
					plainView := b.view()
					b.painted(theme)
					if b.m.help != nil || b.m.asked != nil {
						golden.RequireEqual(t, b.view())
						return
					}
					if got := ansi.Strip(b.view()); got != plainView {
						t.Errorf("the theme %s shows other text than no colour:\n%s\n\nwant:\n%s", theme, got, plainView)
					}
					golden.RequireEqual(t, b.view())
				})
			})
		}
	}
}

func TestGoldenASCII(t *testing.T) {
	ascii := func(o *Options) { o.ASCII = true }
	eachScene(t, 80, 24, ascii, func(t *testing.T, name string, b *bench) {
		view := b.view()
		for _, r := range view {
			if r > 126 {
				t.Fatalf("%q in the ASCII view", r)
			}
		}
		golden.RequireEqual(t, view)
	})
}

func TestGoldenSmall(t *testing.T) {
	for _, size := range []struct{ width, height int }{{40, 12}, {1, 1}, {60, 16}, {59, 40}, {200, 15}} {
		t.Run(fmt.Sprintf("%dx%d", size.width, size.height), func(t *testing.T) {
			golden.RequireEqual(t, newBench(t, size.width, size.height, nil).view())
		})
	}
}

// TestViewFits: no row is wider and no view higher than the screen.
func TestViewFits(t *testing.T) {
	for _, size := range []struct{ width, height int }{{60, 16}, {80, 24}, {97, 31}, {120, 40}, {200, 60}} {
		eachScene(t, size.width, size.height, nil, func(t *testing.T, name string, b *bench) {
			rows := strings.Split(b.view(), "\n")
			if len(rows) != size.height {
				t.Errorf("%d rows on a screen of %d", len(rows), size.height)
			}
			for i, row := range rows {
				if w := ansi.StringWidth(row); w > size.width {
					t.Errorf("row %d is %d wide on a screen of %d: %q", i, w, size.width, row)
				}
			}
		})
	}
}

// TestSelectionWithoutColour: the cursor is a character, so it is there without
// any colour, bold or reverse.
func TestSelectionWithoutColour(t *testing.T) {
	eachScene(t, 80, 24, nil, func(t *testing.T, name string, b *bench) {
		if name == "guard" {
			t.Skip("a question has no cursor")
		}
		if !strings.Contains(b.view(), "\n"+drawnSigns.cursor) && !strings.Contains(b.view(), " "+drawnSigns.cursor+" ") {
			t.Errorf("no cursor on\n%s", b.view())
		}
	})
}

// TestQuitsWhereTooSmall: the way out works on every screen size.
func TestQuitsWhereTooSmall(t *testing.T) {
	for _, k := range []string{"q", "ctrl+c"} {
		b := newBench(t, 30, 8, nil)
		_, cmd := b.m.Update(press(k))
		if cmd == nil {
			t.Fatalf("%s does nothing on a small screen", k)
		}
		if _, ok := cmd().(tea.QuitMsg); !ok {
			t.Errorf("%s does not quit on a small screen", k)
		}
	}
}
