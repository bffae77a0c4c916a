package main

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"
)

func TestPageText(t *testing.T) {
	var p page
	p.text("- ", "%s", strings.Repeat("word ", 30))
	p.heading("next")
	want := "- " + strings.TrimSpace(strings.Repeat("word ", 15)) + "\n" +
		"  " + strings.TrimSpace(strings.Repeat("word ", 15)) + "\n\nnext\n"
	if got := p.String(); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

func TestPageTable(t *testing.T) {
	var p page
	p.table("  ", []align{left, right}, [][]string{{"Ag", "1.25"}, {"copper", "310.00"}})
	want := "  Ag        1.25\n  copper  310.00\n"
	if got := p.String(); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

// Whatever text comes in, no line is wider than the page or steers a terminal.
func TestPageKeepsItsWidth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var p page
		text := rapid.String().Draw(t, "text")
		p.text("  - ", "%s", text)
		p.table("  ", []align{left, right, left}, [][]string{{text, "1", text}, {"a", "22", text}})
		for _, line := range strings.Split(p.String(), "\n") {
			if width := ansi.StringWidth(line); width > pageWidth {
				t.Errorf("a line of %d columns: %q", width, line)
			}
			if strings.ContainsAny(line, "\x1b\r\b\x00\u009b\u202e") {
				t.Errorf("a line that steers a terminal: %q", line)
			}
		}
	})
}

func TestWrapKeepsEveryWord(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.StringMatching(`[a-z0-9.]{1,30}`), 1, 40).Draw(t, "words")
		lines := wrap(strings.Join(words, " "), rapid.IntRange(30, 80).Draw(t, "width"))
		if got, want := strings.Join(lines, " "), strings.Join(words, " "); got != want {
			t.Errorf("wrap lost or changed a word: %q, want %q", got, want)
		}
	})
}
