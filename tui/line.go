package tui

import (
	"strings"

	"afterpour/chem/input"

	"github.com/charmbracelet/x/ansi"
)

// span is a piece of a line with one meaning.
type span struct {
	tone tone
	text string
}

// line is one row of the screen.
type line struct {
	spans []span
	stop  bool   // the cursor may rest here
	part  bool   // a part of the page begins here
	key   string // what the row is about, so that the cursor finds it again
	claim *claim // the figure of the row, which can be asked where it comes from
}

// text makes a line of one span.
func text(t tone, s string) line { return line{spans: []span{{t, s}}} }

// with adds a span.
func (l line) with(t tone, s string) line {
	l.spans = append(l.spans[:len(l.spans):len(l.spans)], span{t, s})
	return l
}

// at makes the line one that the cursor can rest on.
func (l line) at(key string, c *claim) line {
	l.stop, l.key, l.claim = true, key, c
	return l
}

// String is the line as plain text: the twin for pipes and tests.
func (l line) String() string {
	var b strings.Builder
	for _, s := range l.spans {
		b.WriteString(s.text)
	}
	return b.String()
}

// draw writes a line at most width columns wide. It is the one place where text
// becomes output: everything goes through the cleaner, whatever file, path or
// error it came from.
func (l look) draw(row line, width int, selected bool) string {
	var b strings.Builder
	room := width
	for _, s := range row.trimmed() {
		clean := l.plainSigns(input.Clean(s.text, 0))
		size := ansi.StringWidth(clean)
		if size > room {
			clean = ansi.Truncate(clean, room, l.signs.more)
			size = room
		}
		if clean != "" {
			b.WriteString(l.style(s.tone, selected).Render(clean))
		}
		if room -= size; room <= 0 {
			break
		}
	}
	return b.String()
}

// trimmed is the spans without the spaces at the end of the line.
func (l line) trimmed() []span {
	for n := len(l.spans); n > 0; n-- {
		last := l.spans[n-1]
		if last.text = strings.TrimRight(last.text, " "); last.text != "" {
			return append(l.spans[:n-1:n-1], last)
		}
	}
	return nil
}

// unsigned gives ASCII spellings of the few signs that texts from below this
// package are written with.
var unsigned = strings.NewReplacer(
	" ± ", " +-", "±", "+-", "·", "*", "→", "->", "−", "-", "–", "-", "—", "-", "“", "\"", "”", "\"", "’", "'", "…", "...",
	"°", "deg", "µ", "u", "×", "x", "½", "1/2", "‰", "/1000", "⁻", "-", "⁺", "+", "²", "2", "³", "3", "ρ", "rho", "Σ", "sum", "ξ", "xi", "ν", "nu",
)

// plainSigns spells a text in ASCII where only that can be drawn.
func (l look) plainSigns(s string) string {
	if l.signs.cursor != asciiSigns.cursor || isASCII(s) {
		return s
	}
	return strings.Map(func(r rune) rune {
		if r > 126 {
			return '?'
		}
		return r
	}, unsigned.Replace(s))
}

func isASCII(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] > 126 {
			return false
		}
	}
	return true
}

// paragraph makes the lines of a wrapped text. The first begins with lead; the
// others are indented as far.
func (l look) paragraph(t tone, lead, body string, width int) []line {
	indent := ansi.StringWidth(lead)
	var lines []line
	for i, s := range wrap(l.plainSigns(input.Clean(body, 0)), width-indent) {
		if i > 0 {
			lead = strings.Repeat(" ", indent)
		}
		lines = append(lines, text(t, lead+s))
	}
	return lines
}
