package substance

import (
	"fmt"
	"unicode"
)

// SyntaxError says which character of a formula or reaction could not be read, and what was expected there.
type SyntaxError struct {
	Text     string // what was parsed
	Column   int    // of the character, counted from 1
	Found    string // the character, or "" at the end of the text
	Expected string // what may stand there
	Hint     string // a way out, if there is a likely one
}

// Error returns one line that names text, column, what was found and what was expected.
func (e *SyntaxError) Error() string {
	found := "the end"
	if e.Found != "" {
		found = fmt.Sprintf("%q", e.Found)
	}
	line := fmt.Sprintf("substance: %q, character %d: found %s, expected %s", e.Text, e.Column, found, e.Expected)
	if e.Hint != "" {
		line += " (" + e.Hint + ")"
	}
	return line
}

// scanner walks over the runes of a formula or reaction.
type scanner struct {
	text  string
	runes []rune
	at    int
}

// longestText bounds what is parsed; no formula or reaction of the trade comes near it.
const longestText = 2000

func newScanner(text string) (*scanner, error) {
	s := &scanner{text: text, runes: []rune(text)}
	if len(s.runes) > longestText {
		return nil, fmt.Errorf("substance: a text of %d characters is too long: at most %d", len(s.runes), longestText)
	}
	return s, nil
}

const end = rune(-1)

// peek returns the rune n places ahead, or end.
func (s *scanner) peek(n int) rune {
	if s.at+n < len(s.runes) {
		return s.runes[s.at+n]
	}
	return end
}

func (s *scanner) skipSpaces() {
	for unicode.IsSpace(s.peek(0)) {
		s.at++
	}
}

// fail reports the rune at the scanner's place.
func (s *scanner) fail(expected, hint string) error {
	e := &SyntaxError{Text: s.text, Column: s.at + 1, Expected: expected, Hint: hint}
	if r := s.peek(0); r != end {
		e.Found = string(r)
	}
	return e
}

// digit reads a decimal digit, also as subscript (₂) or superscript (²) according to the flags, or -1.
func digit(r rune, subscript, superscript bool) int {
	switch {
	case r >= '0' && r <= '9':
		return int(r - '0')
	case subscript && r >= '₀' && r <= '₉':
		return int(r - '₀')
	case !superscript:
		return -1
	case r == '¹':
		return 1
	case r == '²' || r == '³':
		return int(r-'²') + 2
	case r == '⁰' || r >= '⁴' && r <= '⁹':
		return int(r - '⁰')
	}
	return -1
}

// sign reads a plus or minus in its usual forms as +1 or -1, or 0.
func sign(r rune) int {
	switch r {
	case '+', '⁺':
		return 1
	case '-', '−', '–', '⁻':
		return -1
	}
	return 0
}

func isRaised(r rune) bool {
	return r == '⁺' || r == '⁻' || r > '9' && digit(r, false, true) >= 0
}

// mostDigits bounds a count, so that no formula runs out of the range of a float64.
const mostDigits = 6

// whole reads a whole number above 0; ok is false and nothing is read where none stands.
func (s *scanner) whole(subscript bool) (n int64, ok bool, err error) {
	start := s.at
	for d := digit(s.peek(0), subscript, false); d >= 0; d = digit(s.peek(0), subscript, false) {
		if s.at-start == mostDigits {
			return 0, false, s.fail(fmt.Sprintf("a number of at most %d digits", mostDigits), "")
		}
		n = n*10 + int64(d)
		s.at++
	}
	if s.at > start && n == 0 {
		s.at = start
		return 0, false, s.fail("a number above 0", "")
	}
	return n, s.at > start, nil
}
