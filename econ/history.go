package econ

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/store"
)

// Past is a price as it was set by hand.
type Past struct {
	Path string // of its value in the book, "spot.Ag.price"
	Date time.Time
	Text string // "30.00 / ozt"
}

// History is the prices of a book as they were set over time, oldest first.
type History struct {
	Past []Past
}

// HistoryFile is the file beside a price book that keeps its history:
// "prices.history.toml" beside "prices.toml".
func HistoryFile(book string) string {
	return strings.TrimSuffix(book, ".toml") + ".history.toml"
}

// historyHead begins a new history.
const historyHead = `# Prices of the book beside this file as they were set by hand, oldest first. The
# program adds a row for each; from enough of them it works out how far a price
# moves, and takes that for its doubt where the book gives none. A row may be
# mended or taken out; without the file the assumed doubts hold again.
`

// Remember adds prices that were set by hand to the history beside a book. Of a
// price that is new to the history the one that it replaced goes in too, if it
// was dated. Errors: those of store.Append, input.Problems where the history is
// no history any more.
func Remember(layer store.Layer, book string, changes ...Change) error {
	_, err := store.Append(layer, HistoryFile(book), func(old []byte) ([]byte, error) {
		h, err := parseHistory(HistoryFile(book), old)
		if err != nil {
			return nil, err
		}
		return h.rows(old, changes), nil
	})
	return err
}

// rows writes the rows that changes add.
func (h *History) rows(old []byte, changes []Change) []byte {
	var b strings.Builder
	switch {
	case len(old) == 0:
		b.WriteString(historyHead)
	case old[len(old)-1] != '\n':
		b.WriteString("\n")
	}
	row := func(path, date, text string) {
		fmt.Fprintf(&b, "\n[[price]]\npath  = %s\ndate  = %s\nprice = %s\n", input.Quote(path), date, input.Quote(text))
	}
	for _, c := range changes {
		if c.Old != "" && c.OldDate != "" && !h.knows(c.Path) {
			row(c.Path, c.OldDate, c.Old)
		}
		if c.NewDate != "" {
			row(c.Path, c.NewDate, c.New)
		}
	}
	return []byte(b.String())
}

func (h *History) knows(path string) bool {
	return slices.ContainsFunc(h.Past, func(p Past) bool { return p.Path == path })
}

// ReadHistory reads the history beside a book; empty where there is none.
// Errors: those of store.Read, input.Problems.
func ReadHistory(layer store.Layer, book string) (*History, error) {
	s, err := store.Read(layer, HistoryFile(book))
	if errors.Is(err, fs.ErrNotExist) {
		return &History{}, nil
	}
	if err != nil {
		return nil, err
	}
	return parseHistory(HistoryFile(book), s.Data)
}

func parseHistory(name string, data []byte) (*History, error) {
	if len(data) == 0 {
		return &History{}, nil
	}
	doc, err := input.Parse(name, data)
	if err != nil {
		return nil, err
	}
	return DecodeHistory(doc)
}

// DecodeHistory reads a history strictly. The error is of type input.Problems.
func DecodeHistory(doc *input.Document) (*History, error) {
	h := &History{}
	root := doc.Root()
	for _, t := range root.Tables("price") {
		h.row(t)
		t.Close()
	}
	root.Close()
	if err := doc.Err(); err != nil {
		return nil, err
	}
	slices.SortStableFunc(h.Past, func(a, b Past) int {
		return cmp.Or(a.Date.Compare(b.Date), strings.Compare(a.Path, b.Path))
	})
	return h, nil
}

func (h *History) row(t *input.Table) {
	var p Past
	if t.Require("path", `path = "spot.Ag.price"`) {
		p.Path, _ = t.String("path")
	}
	if t.Require("price", `price = "30.00 / ozt"`) {
		p.Text, _ = t.String("price")
	}
	if t.Require("date", "date = 2026-11-20") {
		p.Date, _ = t.Date("date")
	}
	h.Past = append(h.Past, p)
}
