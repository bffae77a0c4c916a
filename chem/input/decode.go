package input

import (
	"bytes"
	"errors"
	"fmt"
	"strings"

	"github.com/BurntSushi/toml"
)

// decode fills in the values of a tree that walk has made of the same text. It
// is the only user of the decoder.
func decode(s *source, root *node) (problems Problems) {
	// The decoder is fuzzed against panics, but the limits of trust in foreign
	// code lie in foreign files: whatever it does, the file is what is wrong.
	defer func() {
		if r := recover(); r != nil {
			problems = Problems{s.problem(0, "", fmt.Sprint("the file cannot be decoded: ", r), "")}
		}
	}()
	var values map[string]any
	text := bytes.TrimPrefix(s.text, byteOrderMark)
	if _, err := toml.Decode(string(text), &values); err != nil {
		return Problems{s.decodeProblem(err, len(s.text)-len(text))}
	}
	if at := attach(root, values); at != nil {
		return Problems{s.problem(at.place(), at.name, "the two readers of this file disagree here", "write this table in a plainer way")}
	}
	return nil
}

// decodeProblem gives an error of the decoder its place. The decoder's own
// excerpt is never used: it shows control characters and can panic.
func (s *source) decodeProblem(err error, skipped int) Problem {
	var perr toml.ParseError
	if !errors.As(err, &perr) {
		return s.problem(0, "", err.Error(), "")
	}
	offset := s.clamp(perr.Position.Start + skipped)
	if line := perr.Position.Line - 1; line >= 0 && line < len(s.lines) && s.lineOf(offset) != line {
		offset = s.lines[line]
	}
	message := perr.Message
	if message == "" {
		message = err.Error()
	}
	return s.problem(offset, perr.LastKey, message, decodeHint(message))
}

func decodeHint(message string) string {
	switch {
	case strings.Contains(message, "datetime"):
		return "write a date that exists, as 2026-11-20"
	case strings.Contains(message, "out of range"), strings.Contains(message, "safe"):
		return "this number is too large to compute with"
	case strings.Contains(message, "already"):
		return "keep one of them"
	}
	return ""
}

// attach gives each node its decoded value. It returns the first node that does
// not fit, which would mean that the walk understood the file differently.
func attach(n *node, value any) *node {
	switch n.form {
	case table:
		values, ok := value.(map[string]any)
		if !ok || len(values) != len(n.index) {
			return n
		}
		for _, c := range n.children {
			v, ok := values[c.name]
			if !ok {
				return c
			}
			if at := attach(c, v); at != nil {
				return at
			}
		}
	case array, tableArray:
		return attachElements(n, value)
	default:
		n.data = value
	}
	return nil
}

func attachElements(n *node, value any) *node {
	var elements []any
	switch v := value.(type) {
	case []any:
		elements = v
	case []map[string]any:
		for _, m := range v {
			elements = append(elements, m)
		}
	}
	if len(elements) != len(n.children) {
		return n
	}
	for i, c := range n.children {
		if at := attach(c, elements[i]); at != nil {
			return at
		}
	}
	return nil
}
