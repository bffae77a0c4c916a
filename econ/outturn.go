package econ

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// Outturn is what really came out of one lot, beside what was expected of it at
// the routes' own figures. It is all that later estimates learn from, so that
// learning needs neither the lot nor the routes of that day.
type Outturn struct {
	Date      time.Time
	Plan      string
	Note      string
	Confirmed bool // more than the lot can hold, and true all the same
	Replaces  int  // number of the entry in the same file that this one corrects; 0: none
	Products  []OutturnProduct
	HandsOn   *OutturnHours // nil: not noted
	Elapsed   *OutturnHours
	Used      []OutturnUse

	File     string // where it stands
	Number   int    // in its file, from 1
	Position input.Position
}

// OutturnProduct is one product as it was weighed.
type OutturnProduct struct {
	Route   string
	Product string     // id of its sale, "silver-bar"
	Metal   string     // symbol
	Mass    units.Dist // kg, as weighed
	// Fineness is parts in a thousand as found; 0 where the expected one was taken.
	Fineness  float64
	MetalMass units.Dist // kg of Metal in it
	Expected  units.Dist // kg of Metal, with the doubt of all but the losses that are learned
	Contained units.Dist // kg of Metal in the lot
	Losses    []OutturnLoss
}

// OutturnLoss says how much of the product hangs on one figure of its route: a
// rise of it by one percentage point takes PerPoint per cent of the metal away.
type OutturnLoss struct {
	Figure   string // step and key, "settle/loss"
	PerPoint float64
}

// OutturnHours is a time as it was taken.
type OutturnHours struct {
	Noted, Expected float64 // h
	Shares          []OutturnShare
}

// OutturnShare is a route's share of the hours expected.
type OutturnShare struct {
	Route string
	Share float64
}

// OutturnUse is a reagent as it was used, for comparison: nothing is learned of
// it.
type OutturnUse struct {
	Reagent        string
	Kind           units.Kind // MassKind (kg) or VolumeKind (L)
	Used, Expected float64
}

// OutturnSuffix ends the name of the file of outturns that lies beside a lot.
const OutturnSuffix = ".outturn.toml"

// OutturnName returns the name of the file of outturns of a lot file:
// "strip.toml" has "strip.outturn.toml".
func OutturnName(lotName string) string {
	return strings.TrimSuffix(lotName, ".toml") + OutturnSuffix
}

// IsOutturn tells whether a file name is that of a file of outturns.
func IsOutturn(name string) bool {
	return strings.HasSuffix(name, OutturnSuffix) && name != OutturnSuffix
}

// Recovery is the metal of the product over that of the lot.
func (p *OutturnProduct) Recovery() float64 { return ratio(p.MetalMass.Mean, p.Contained.Mean) }

// Beyond tells whether more came out than the lot holds.
func (p *OutturnProduct) Beyond() bool { return p.MetalMass.Mean > p.Contained.Mean }

func ratio(a, b float64) float64 {
	if !(b > 0) {
		return 0
	}
	return a / b
}

// Questions asks about what cannot be as it was noted: a product with more metal
// than the lot holds. It is not learned from until it is confirmed.
func (o *Outturn) Questions() []string {
	var list []string
	for i := range o.Products {
		p := &o.Products[i]
		if !p.Beyond() {
			continue
		}
		text := fmt.Sprintf("%s of %s in the %s is %.4g %% of the %s that the lot holds. Is it wet? Is slag or another metal in it (copper)? Was its fineness found, or taken as expected?",
			units.Format(units.MassKind, p.MetalMass.Mean), p.Metal, p.Product, 100*p.Recovery(), units.Format(units.MassKind, p.Contained.Mean))
		if p.MetalMass.Mean < p.Contained.Mean+2*p.Contained.SD {
			text += " It is still within the doubt of what the lot holds: perhaps there was more in it."
		}
		list = append(list, text)
	}
	return list
}

// Where names an outturn for people: its file and its number there.
func (o *Outturn) Where() string {
	return fmt.Sprintf("%s, entry %d", input.Clean(filepath.Base(o.File), 80), o.Number)
}

// standing returns the outturns that no later one corrects.
func standing(history []Outturn) []*Outturn {
	replaced := map[string]bool{}
	for i := range history {
		if o := &history[i]; o.Replaces > 0 {
			replaced[entryKey(o.File, o.Replaces)] = true
		}
	}
	var list []*Outturn
	for i := range history {
		if o := &history[i]; !replaced[entryKey(o.File, o.Number)] {
			list = append(list, o)
		}
	}
	return list
}

func entryKey(file string, number int) string { return fmt.Sprintf("%d %s", number, file) }
