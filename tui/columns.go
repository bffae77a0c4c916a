package tui

import (
	"cmp"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// cell is one entry of a table.
type cell struct {
	tone tone
	text string
}

// side is where the text of a column stands.
type side uint8

const (
	left side = iota
	right
	decimal // by the decimal point, and by the doubt if there is one
)

// table lays rows out in columns, each as wide as its widest cell and its title.
type table struct {
	sides  []side
	titles []string
	rows   [][]cell
	gap    int // columns between columns; 0 means two
}

// add appends a row.
func (t *table) add(cells ...cell) { t.rows = append(t.rows, cells) }

// lay returns the line of titles and one line for each row.
func (t *table) lay() (head line, rows []line) {
	rows = make([]line, len(t.rows))
	for c, where := range t.sides {
		texts := make([]string, len(t.rows))
		for i, row := range t.rows {
			texts[i] = row[c].text
		}
		texts = setOut(texts, where)
		width := ansi.StringWidth(t.titles[c])
		for _, s := range texts {
			width = max(width, ansi.StringWidth(s))
		}
		gap := ""
		if c > 0 {
			gap = strings.Repeat(" ", cmp.Or(t.gap, 2))
		}
		head = head.with(muted, gap+pad(t.titles[c], width, where != left))
		for i, s := range texts {
			rows[i] = rows[i].with(t.rows[i][c].tone, gap+pad(s, width, where != left))
		}
	}
	return head, rows
}

// width is the width of the table.
func (t *table) width() int {
	head, _ := t.lay()
	return ansi.StringWidth(head.String())
}

// setOut pads the texts of a column so that their decimal points stand one
// below the other, and likewise those of their doubts.
func setOut(texts []string, where side) []string {
	if where != decimal {
		return texts
	}
	values, doubts := make([]string, len(texts)), make([]string, len(texts))
	for i, s := range texts {
		values[i], doubts[i], _ = strings.Cut(s, " ± ")
	}
	values, doubts = pointed(values), pointed(doubts)
	out := make([]string, len(texts))
	for i := range texts {
		switch {
		case strings.TrimSpace(doubts[i]) != "":
			out[i] = values[i] + " ± " + doubts[i]
		case doubts[i] != "":
			out[i] = values[i] + strings.Repeat(" ", 3+len(doubts[i]))
		default:
			out[i] = values[i]
		}
	}
	return out
}

// pointed pads numbers on both sides to one place of the decimal point. Texts
// that are no number are padded on the left alone.
func pointed(texts []string) []string {
	before, after := 0, 0
	for _, s := range texts {
		whole, rest := splitPoint(s)
		before, after = max(before, ansi.StringWidth(whole)), max(after, len(rest))
	}
	out := make([]string, len(texts))
	for i, s := range texts {
		whole, rest := splitPoint(s)
		if s != "" && !isNumber(s) {
			out[i] = pad(s, before+after, true)
			continue
		}
		out[i] = pad(whole, before, true) + pad(rest, after, false)
	}
	return out
}

func splitPoint(s string) (whole, rest string) {
	if !isNumber(s) {
		return "", ""
	}
	if i := strings.IndexByte(s, '.'); i >= 0 {
		return s[:i], s[i:]
	}
	return s, ""
}

func isNumber(s string) bool {
	return s != "" && strings.IndexFunc(s, func(r rune) bool { return !strings.ContainsRune("+-.0123456789", r) }) < 0
}
