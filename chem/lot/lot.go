package lot

import (
	"time"

	"afterpour/chem/input"
	"afterpour/chem/substance"
)

// Lot is one residue as its file describes it. Figures stand as references
// into the register that Decode was given; input.NoRef means "not stated".
type Lot struct {
	Title        string
	Date         time.Time // zero if not stated
	Declared     []string  // what the person knows is in it: "cyanide", "mercury", …
	Acknowledged []string  // ids of hazards that the person has read
	LotsPerYear  input.Ref

	Vessel    Vessel
	Dissolved []Dissolved
	Added     []Added
	Plated    []Plated
	Taken     []Taken
	Measured  []Measured
	Titrated  []Titrated
	Solids    []Solid

	figs []input.Ref // every figure of the file, in order
}

// Vessel is what is standing there.
type Vessel struct {
	Liquid      input.Ref // L
	Temperature input.Ref // K
	PH          input.Ref // as measured: an activity
}

// Dissolved is a piece of metal that went into the lot.
type Dissolved struct {
	What     string
	Mass     input.Ref // kg
	Grade    string    // id in the alloy table; empty where shares are given
	Shares   []Share   // element shares of the piece, in order of the file or the alloy table
	Extent   input.Ref // share of the piece that dissolved
	By       string    // agent, as chem/data names it; empty if not stated
	InVessel bool      // the rest still stands in the vessel
}

// Share is one element of a piece. Exactly one of Ref and Rest says how much.
type Share struct {
	Element string
	Form    substance.SpeciesID // in which it stands in the piece: the metal, or an oxide
	Ref     input.Ref
	Rest    bool // what the other shares leave
}

// Added is an acid, base, salt or water that was poured in.
type Added struct {
	What     string    // as written
	Reagent  string    // id or formula that it resolved to
	Strength input.Ref // mass share, mol/L or g/L, by the kind of the figure
	Amount   input.Ref // kg or L, by the kind of the figure
}

// Plated is plate known by its area.
type Plated struct {
	Metal     string
	Area      input.Ref // m2
	Thickness input.Ref // m
}

// Taken is metal already recovered from the lot.
type Taken struct {
	Metal string
	Mass  input.Ref // kg
}

// Phase names in [[measured]] in.
const (
	InLiquid = "liquid"
	InSolid  = "solid"
)

// Measured is an assay of the liquor or of the dry solid.
type Measured struct {
	Metal string
	In    string    // InLiquid or InSolid
	Value input.Ref // g/L or mol/L of a liquid, mass share of a dry solid
	By    string
}

// OfAcid is the analyte of a free-acid titration.
const OfAcid = "acid"

// Titrated is a titration, entered as it was done.
type Titrated struct {
	Of      string    // element symbol, or OfAcid
	Sample  input.Ref // L
	Titrant input.Ref // mol/L
	Used    input.Ref // L
	Ratio   input.Ref // mol of analyte per mol of titrant
}

// Solid is a settled or filtered solid.
type Solid struct {
	Compound substance.SpeciesID
	WetMass  input.Ref // kg
	Moisture input.Ref // share of the wet mass
	Purity   input.Ref // the compound's share of the dry solid
}

// Figures returns every figure of the lot, in the order of the file. Do not
// change the slice.
func (l *Lot) Figures() []input.Ref { return l.figs }
