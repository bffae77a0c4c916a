package lot

import (
	"time"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// Report is what the lot holds, at the central values, each figure with its
// standard uncertainty.
type Report struct {
	Title        string
	Date         time.Time // zero if not stated
	Metals       []MetalReport
	Acid         AcidReport
	Volume       units.Volume
	VolumeSD     units.Volume
	PH           float64
	Notes        []Note
	Assumed      []input.Ref // figures of the lot that rest on a default or an assumption
	Declared     []string
	Acknowledged []string
	LotsPerYear  float64 // 0 if not stated
}

// MetalReport is one metal of the lot. Contained = Dissolved + Solid.
type MetalReport struct {
	Metal                    string // element symbol
	Contained, SD            units.Mass
	Dissolved, DissolvedSD   units.Mass
	Solid, SolidSD           units.Mass
	Estimates                []Estimate
	ChiSquared, P            float64 // of the estimates that disagree most; P is 1 with fewer than two
	Disagree                 bool    // P < 0.05, or more in the liquid than in all
	Inputs                   []input.Ref
	SolidForms               []SolidForm
	DissolvedIn, ContainedIn string // formula in words of how each figure came about
}

// SolidForm is one solid that holds the metal.
type SolidForm struct {
	Species string // canonical name
	Mass    units.Mass
	Metal   units.Mass // of the metal in it
}

// Estimate is one statement about a metal's mass, before it is combined.
type Estimate struct {
	Label    string // "sources", "liquid and solid", "liquid: AAS", …
	Of       string // "total", "dissolved", "solid"
	Mass, SD units.Mass
	Weight   float64 // in the combination, 0 to 1
	Inputs   []input.Ref
	Formula  string
	Source   string
	Disagree bool
}

// AcidReport is the free acid of the liquor.
type AcidReport struct {
	FreeMol, SD     float64             // mol of H^+; negative: alkali left over
	Concentration   units.Concentration // mol/L
	ConcentrationSD units.Concentration
	LowMol, HighMol float64 // what the sources alone give, from all nitrogen dioxide to all nitric oxide
	AsNitric        units.Volume
	Estimates       []AcidEstimate
	ChiSquared, P   float64
	Disagree        bool
	Inputs          []input.Ref
}

// AcidEstimate is one statement about the free acid, in mol of H^+.
type AcidEstimate struct {
	Label    string
	Mol, SD  float64
	Weight   float64
	Inputs   []input.Ref
	Formula  string
	Source   string
	Disagree bool
}

// NoteKind says what a note is about.
type NoteKind string

// The kinds of note.
const (
	Conflict   NoteKind = "conflict"   // statements that contradict each other
	Assumption NoteKind = "assumption" // something taken for granted
	Missing    NoteKind = "missing"    // something that would be needed to say more
	Caution    NoteKind = "caution"    // something to test or to beware of
)

// Note is one sentence about the lot that belongs on the screen.
type Note struct {
	Kind   NoteKind
	Text   string
	Inputs []input.Ref
}

// Report works out the central figures and their doubts at v, by differences
// over the lot's inputs (JCGM 100:2008, 5.1.3, note 2).
func (m *Model) Report(v input.Values) Report { return Report{} }
