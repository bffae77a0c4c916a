package lot

import (
	_ "embed"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"github.com/BurntSushi/toml"

	"afterpour/chem/units"
)

//go:embed doubts.toml
var doubtsText string

// doubt is the default doubt of one kind of measurement.
type doubt struct {
	ID       string   `toml:"id"`
	Name     string   `toml:"name"`
	Relative float64  `toml:"relative"`
	AtLeast  float64  `toml:"at_least"`
	AtMost   *float64 `toml:"at_most"`
	Value    *float64 `toml:"value"` // taken where the statement gives no figure
	Source   string   `toml:"source"`
	Why      string   `toml:"why"`
}

// doubts is the table by id, checked when first used.
var doubts = sync.OnceValues(func() (map[string]doubt, error) { return decodeDoubts(doubtsText) })

func decodeDoubts(text string) (map[string]doubt, error) {
	var file struct {
		Doubt []doubt `toml:"doubt"`
	}
	meta, err := toml.Decode(text, &file)
	if err != nil {
		return nil, fmt.Errorf("lot: doubts: %w", err)
	}
	if extra := meta.Undecoded(); len(extra) > 0 {
		return nil, fmt.Errorf("lot: doubts: unknown key %s", extra[0])
	}
	table := map[string]doubt{}
	for _, d := range file.Doubt {
		if d.ID == "" || d.Name == "" || strings.TrimSpace(d.Source) == "" || d.Why == "" {
			return nil, fmt.Errorf("lot: doubts: row %q lacks a name, a source or a reason", d.ID)
		}
		if !(d.Relative >= 0 && d.AtLeast >= 0) {
			return nil, fmt.Errorf("lot: doubts: row %q is negative", d.ID)
		}
		table[d.ID] = d
	}
	return table, nil
}

// sd is the standard uncertainty of a value in base units; never negative.
func (d doubt) sd(value float64) float64 {
	u := math.Max(d.Relative*math.Abs(value), d.AtLeast)
	if d.AtMost != nil {
		u = math.Min(u, *d.AtMost)
	}
	return u
}

// sentence says what was assumed and why, for the source of a figure.
func (d doubt) sentence(kind units.Kind, value float64) string {
	if d.Value != nil {
		return fmt.Sprintf("%s: %s (%s)", d.Name, d.Why, d.Source)
	}
	u := d.sd(value)
	if u == 0 {
		return fmt.Sprintf("%s, taken as exact: %s (%s)", d.Name, d.Why, d.Source)
	}
	return fmt.Sprintf("doubt of %s assumed for %s: %s (%s)", width(kind, u), d.Name, d.Why, d.Source)
}

// width writes a standard uncertainty. That of a temperature is a difference,
// which has no zero point to be shifted by.
func width(kind units.Kind, u float64) string {
	switch kind {
	case units.TemperatureKind:
		return strconv.FormatFloat(u, 'g', 3, 64) + " K"
	case units.Fraction:
		return strconv.FormatFloat(100*u, 'g', 3, 64) + " percentage points"
	}
	return units.Format(kind, u)
}

// statesDoubt reports whether the text of a quantity gives a doubt or a range.
func statesDoubt(text string) bool {
	for _, sign := range []string{"±", "+/-", "+-", ".."} {
		if strings.Contains(text, sign) {
			return true
		}
	}
	return false
}

// assayDoubt is the id of the default doubt of an assay method as written.
func assayDoubt(by string) string {
	words := strings.ToLower(by)
	for _, m := range assayMethods {
		for _, name := range m.names {
			if strings.Contains(words, name) {
				return m.doubt
			}
		}
	}
	return "assay"
}

// assayMethods are words by which a method is known, in the order of search.
var assayMethods = []struct {
	doubt string
	names []string
}{
	{"assay-xrf", []string{"xrf", "fluorescence"}},
	{"assay-icp", []string{"icp", "plasma"}},
	{"assay-aas", []string{"aas", "atomic absorption"}},
	{"assay-strip", []string{"strip", "colour", "color", "paper"}},
	{"assay-gravimetric", []string{"gravimet", "weighed", "fire assay"}},
}
