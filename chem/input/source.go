package input

import (
	"bytes"
	"sort"
	"strings"
)

// source is the text of a file, indexed so that the position of any byte is
// found quickly even in a file of one very long line.
type source struct {
	name  string
	text  []byte
	lines []int // offset of the start of each line
	runes []int // characters before each block of blockSize bytes
}

const blockSize = 1024

func newSource(name string, text []byte) *source {
	s := &source{name: name, text: text, lines: []int{0}}
	count := 0
	for i, c := range text {
		if i%blockSize == 0 {
			s.runes = append(s.runes, count)
		}
		if c&0xC0 != 0x80 { // not a continuation byte
			count++
		}
		if c == '\n' {
			s.lines = append(s.lines, i+1)
		}
	}
	s.runes = append(s.runes, count)
	return s
}

// runesBefore returns how many characters start before the offset.
func (s *source) runesBefore(offset int) int {
	block := offset / blockSize
	count := s.runes[block]
	for _, c := range s.text[block*blockSize : offset] {
		if c&0xC0 != 0x80 {
			count++
		}
	}
	return count
}

func (s *source) clamp(offset int) int { return max(0, min(offset, len(s.text))) }

// lineOf returns the index of the line that holds the offset, from 0.
func (s *source) lineOf(offset int) int {
	return sort.SearchInts(s.lines, s.clamp(offset)+1) - 1
}

// position returns line and column of a byte.
func (s *source) position(offset int) Position {
	offset = s.clamp(offset)
	line := s.lineOf(offset)
	start := s.lines[line]
	if line == 0 && bytes.HasPrefix(s.text, byteOrderMark) && offset >= len(byteOrderMark) {
		start = len(byteOrderMark)
	}
	return Position{line + 1, s.runesBefore(offset) - s.runesBefore(start) + 1}
}

// line returns the text of the line that holds the offset, without its end.
func (s *source) line(offset int) []byte {
	line := s.lineOf(offset)
	end := len(s.text)
	if line+1 < len(s.lines) {
		end = s.lines[line+1] - 1
	}
	return bytes.TrimSuffix(s.text[s.lines[line]:end], []byte("\r"))
}

// excerptWidth is how much of a line is shown with a problem.
const excerptWidth = 100

// excerpt returns the line around an offset, cleaned, and the column in it of
// the offset, counted from 1.
func (s *source) excerpt(offset int) (line string, caret int) {
	offset = s.clamp(offset)
	start := s.lines[s.lineOf(offset)]
	raw := s.line(offset)
	at := min(offset-start, len(raw))
	lead := ""
	if from := at - excerptWidth*3/5; len(raw) > excerptWidth && from > 0 {
		for from < at && raw[from]&0xC0 == 0x80 {
			from++
		}
		raw, at, lead = raw[from:], at-from, "…"
	}
	raw = raw[:min(len(raw), 8*excerptWidth)] // more bytes than fit, and few enough to clean
	show := func(b []byte) string {
		return Clean(strings.ReplaceAll(string(bytes.TrimPrefix(b, byteOrderMark)), "\t", " "), 0)
	}
	before := lead + show(raw[:min(at, len(raw))])
	return Clean(lead+show(raw), excerptWidth), columns(before) + 1
}

// problem makes a problem at an offset, with all its text cleaned.
func (s *source) problem(offset int, key, message, hint string) Problem {
	line, caret := s.excerpt(offset)
	return Problem{
		File: Clean(s.name, 0), Position: s.position(offset), Key: Clean(key, 200),
		Message: Clean(message, 400), Hint: Clean(hint, 400), Excerpt: line, caret: caret,
	}
}
