package input

import (
	"strings"
	"unicode"
)

// replacement stands for a character that must not reach a terminal.
const replacement = '\uFFFD'

// Clean makes foreign text safe to show: every character that is not printable
// (control characters, escape sequences, line breaks, bidirectional and
// zero-width marks, spaces other than U+0020, broken UTF-8) becomes U+FFFD. If
// width is positive, the text is cut to so many columns, the last of which is
// then an ellipsis.
func Clean(s string, width int) string {
	s = strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) {
			return replacement
		}
		return r
	}, s)
	if width <= 0 || columns(s) <= width {
		return s
	}
	used := 0
	for i, r := range s {
		if used += runeColumns(r); used > width-1 {
			return s[:i] + "…"
		}
	}
	return s
}

// columns returns how many terminal columns a cleaned text takes.
func columns(s string) int {
	n := 0
	for _, r := range s {
		n += runeColumns(r)
	}
	return n
}

// runeColumns returns the columns of one character: none for a combining mark,
// two for East Asian wide characters and pictographs (after Unicode Standard
// Annex 11), one for all others.
func runeColumns(r rune) int {
	switch {
	case r < 0x300:
		return 1
	case unicode.In(r, unicode.Mn, unicode.Me):
		return 0
	case unicode.In(r, unicode.Han, unicode.Hangul, unicode.Hiragana, unicode.Katakana),
		r >= 0x3000 && r <= 0x303e, r >= 0xff01 && r <= 0xff60, r >= 0xffe0 && r <= 0xffe6,
		r >= 0x1f300 && r <= 0x1faff:
		return 2
	}
	return 1
}
