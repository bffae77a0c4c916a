package equil

import (
	"embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/BurntSushi/toml"
)

// Names of the sets of constants that come with the program.
const (
	DefaultSet    = "default"
	MinteqDavies  = "minteq4_davies"
	LLNLBdot      = "llnl_bdot"
	ThermoddemDot = "thermoddem_bdot"
)

//go:embed data/minteq4_davies.toml data/llnl_bdot.toml data/thermoddem_bdot.toml data/default.toml
var setFiles embed.FS

// SetNames are the names LoadSet takes: the reviewed set first, then the
// published ones.
func SetNames() []string {
	return []string{DefaultSet, MinteqDavies, LLNLBdot, ThermoddemDot}
}

var loadedSets = sync.OnceValues(func() (map[string]*Set, error) {
	sets := map[string]*Set{}
	// The default takes rows from the others, so it comes last.
	for _, name := range []string{MinteqDavies, LLNLBdot, ThermoddemDot, DefaultSet} {
		text, err := setFiles.ReadFile("data/" + name + ".toml")
		if err != nil {
			return nil, fmt.Errorf("equil: %w", err)
		}
		set, err := parseSet(string(text), sets)
		if err != nil {
			return nil, err
		}
		sets[name] = set
	}
	return sets, nil
})

// LoadSet gives a set of constants by its name.
func LoadSet(name string) (*Set, error) {
	sets, err := loadedSets()
	if err != nil {
		return nil, err
	}
	set, ok := sets[name]
	if !ok {
		return nil, fmt.Errorf("equil: no set of constants %q; there are %s", name, strings.Join(SetNames(), ", "))
	}
	return set, nil
}

// parseSet reads a set's table. Unknown keys, rows without a source and
// sources without a text are errors, because a constant nobody can trace is
// worth nothing.
func parseSet(text string, others map[string]*Set) (*Set, error) {
	var d Definition
	meta, err := toml.Decode(text, &d)
	if err != nil {
		return nil, fmt.Errorf("equil: constants: %w", err)
	}
	if unknown := meta.Undecoded(); len(unknown) > 0 {
		return nil, fmt.Errorf("equil: set %s: unknown key %s", d.Name, unknown[0])
	}
	if err := borrow(&d, speciesRows, others); err != nil {
		return nil, fmt.Errorf("equil: set %s: %w", d.Name, err)
	}
	if err := borrow(&d, solidRows, others); err != nil {
		return nil, fmt.Errorf("equil: set %s: %w", d.Name, err)
	}
	if err := d.checkSources(); err != nil {
		return nil, fmt.Errorf("equil: set %s: %w", d.Name, err)
	}
	return d.Set()
}

func speciesRows(d *Definition) []ConstantRow { return d.Species }

func solidRows(d *Definition) []ConstantRow { return d.Solids }

// borrow fills rows that name another set with that set's figures; what the
// row states itself goes before.
func borrow(d *Definition, kind func(*Definition) []ConstantRow, others map[string]*Set) error {
	rows := kind(d)
	for i := range rows {
		row := &rows[i]
		if row.From == "" {
			continue
		}
		other, ok := others[row.From]
		if !ok {
			return fmt.Errorf("%s: no set %q to take it from", row.Name, row.From)
		}
		from := kind(&other.definition)
		j := slices.IndexFunc(from, func(r ConstantRow) bool { return r.Name == row.Name })
		if j < 0 {
			return fmt.Errorf("%s: %s has no such row", row.Name, row.From)
		}
		row.fill(from[j])
		if work, ok := other.definition.Sources[row.Source]; ok {
			d.Sources[row.Source] = work
		}
	}
	return nil
}

// fill takes what a row does not state itself from another. The constant, its
// enthalpy and its polynomial belong together and come together.
func (row *ConstantRow) fill(from ConstantRow) {
	if row.Reaction == "" {
		row.Reaction, row.LogK = from.Reaction, from.LogK
		row.Enthalpy, row.Polynomial = from.Enthalpy, from.Polynomial
	}
	if row.Title == "" {
		row.Title = from.Title
	}
	if row.Size == 0 {
		row.Size = from.Size
	}
	if row.Source == "" {
		row.Source = from.Source
	}
	if row.Note == "" {
		row.Note = from.Note
	}
}

func (d Definition) checkSources() error {
	for _, rows := range [][]ConstantRow{d.Species, d.Solids} {
		for _, row := range rows {
			if d.Sources[row.Source].Text == "" {
				return fmt.Errorf("%s: source %q has no text", row.Name, row.Source)
			}
		}
	}
	for _, key := range []string{d.Debye.Source, d.Range.Source} {
		if d.Sources[key].Text == "" {
			return fmt.Errorf("source %q has no text", key)
		}
	}
	return nil
}
