package data

import (
	"embed"
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/BurntSushi/toml"
)

//go:embed tables/*.toml
var files embed.FS

// The kinds of errors in a table. They never reach a user: the tables are part of the program and tests load them all.
var (
	ErrSource = errors.New("source missing or unknown")
	ErrTable  = errors.New("table is wrong")
)

// Basis says how well a row is founded.
type Basis string

// The bases, from best to least.
const (
	Published      Basis = "published"
	Derived        Basis = "derived"
	FromMemory     Basis = "from memory"
	CommonPractice Basis = "common practice"
	Assumption     Basis = "assumption"
)

// Row is what every row of every table carries besides its figures.
type Row struct {
	Source string `toml:"source"` // key in sources.toml
	Where  string `toml:"where"`  // page, table, equation; or how the figure was derived
	Basis  Basis  `toml:"basis"`
	Note   string `toml:"note"`
}

// Origin returns the row itself; it lets code handle rows of any table.
func (r Row) Origin() Row { return r }

// Cite returns the row's source in words, for people.
func (r Row) Cite() string {
	words := r.Source
	if s, err := SourceByKey(r.Source); err == nil {
		words = s.Title
	}
	if r.Where != "" {
		words += ", " + r.Where
	}
	switch r.Basis {
	case Published, CommonPractice:
		return words
	}
	return fmt.Sprintf("%s (%s)", words, r.Basis)
}

func (r Row) checkOrigin(sources map[string]Source) error {
	if _, ok := sources[r.Source]; !ok {
		return fmt.Errorf("%w: %q", ErrSource, r.Source)
	}
	switch r.Basis {
	case Published, Derived, FromMemory, CommonPractice:
		return nil
	case Assumption:
		if r.Note == "" {
			return fmt.Errorf("%w: an assumption gives its reason in note", ErrTable)
		}
		return nil
	}
	return fmt.Errorf("%w: basis %q", ErrTable, r.Basis)
}

// checked is a row that can judge its own figures.
type checked interface {
	Origin() Row
	check() error
}

// rows decodes an embedded table of [[row]] entries: no unknown key, every source resolved, every figure checked.
func rows[T checked](file string) ([]T, error) {
	text, err := files.ReadFile("tables/" + file)
	if err != nil {
		return nil, fmt.Errorf("data: %w", err)
	}
	return decode[T](file, string(text))
}

func decode[T checked](file, text string) ([]T, error) {
	var doc struct {
		Row []T `toml:"row"`
	}
	meta, err := toml.Decode(text, &doc)
	if err != nil {
		return nil, fmt.Errorf("data: %s: %w", file, err)
	}
	if extra := meta.Undecoded(); len(extra) > 0 {
		return nil, fmt.Errorf("data: %s: %w: unknown key %s", file, ErrTable, extra[0])
	}
	if len(doc.Row) == 0 {
		return nil, fmt.Errorf("data: %s: %w: no rows", file, ErrTable)
	}
	sources, err := Sources()
	if err != nil {
		return nil, err
	}
	for i, row := range doc.Row {
		if err := errors.Join(row.Origin().checkOrigin(sources), row.check()); err != nil {
			return nil, fmt.Errorf("data: %s: row %d: %w", file, i+1, err)
		}
	}
	return doc.Row, nil
}

// wrong returns an ErrTable with what is wrong, or nil if the claim holds.
func wrong(holds bool, format string, args ...any) error {
	if holds {
		return nil
	}
	return fmt.Errorf("%w: %s", ErrTable, fmt.Sprintf(format, args...))
}

func positive(v float64) bool { return v > 0 && !math.IsInf(v, 1) }

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

func named(words ...string) bool {
	for _, w := range words {
		if strings.TrimSpace(w) == "" {
			return false
		}
	}
	return true
}
