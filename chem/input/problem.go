package input

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// Position is a place in a file: the line and the character within it, both
// counted from 1; 0 means unknown.
type Position struct{ Line, Column int }

// Problem is one thing that is wrong with a file. All text in a problem that
// this package made is clean.
type Problem struct {
	File     string
	Position Position
	Key      string // full path of the key, such as "dissolved[0].mass"
	Message  string // what is wrong
	Hint     string // what would be right
	Excerpt  string // the line of the file

	caret int // column of the excerpt to point at, from 1; 0 if none
}

// Error returns "file:line:column: key: message", then the excerpt with a caret
// and the hint, each on a line of its own.
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(Clean(p.File, 0))
	if p.Position.Line > 0 {
		fmt.Fprintf(&b, ":%d", p.Position.Line)
		if p.Position.Column > 0 {
			fmt.Fprintf(&b, ":%d", p.Position.Column)
		}
	}
	if p.Key != "" {
		b.WriteString(": " + Clean(p.Key, 0))
	}
	b.WriteString(": " + Clean(p.Message, 0))
	if p.Excerpt != "" {
		b.WriteString("\n    " + Clean(p.Excerpt, 0))
		if p.caret > 0 {
			b.WriteString("\n    " + strings.Repeat(" ", p.caret-1) + "^")
		}
	}
	if p.Hint != "" {
		b.WriteString("\n    hint: " + Clean(p.Hint, 0))
	}
	return b.String()
}

// Problems is everything that is wrong with a file, in the order of the file.
type Problems []Problem

// Error prints every problem.
func (p Problems) Error() string {
	lines := make([]string, len(p))
	for i, problem := range p {
		lines[i] = problem.Error()
	}
	return strings.Join(lines, "\n")
}

// maxProblems is how many problems of one file are shown.
const maxProblems = 100

// sorted returns the problems in the order of the file, each once, and no more
// than anybody reads.
func (p Problems) sorted() Problems {
	p = slices.Clone(p)
	slices.SortStableFunc(p, func(a, b Problem) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Position.Line, b.Position.Line), cmp.Compare(a.Position.Column, b.Position.Column))
	})
	p = slices.Compact(p)
	if more := len(p) - maxProblems; more > 0 {
		p = append(p[:maxProblems:maxProblems], Problem{File: p[0].File, Message: fmt.Sprintf("%d or more further problems are not shown", more)})
	}
	return p
}
