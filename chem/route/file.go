package route

import (
	"bytes"
	"slices"

	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// File is one route as data: who it is for, and its steps in order.
type File struct {
	ID, Title string
	Summary   string
	Takes     []string // metals it recovers, by symbol
	Brings    []string // metals that come along with them
	Yields    string   // id of the sale that its product is made for
	rest      []string // streams that are handed on to the next route
	// Treatment marks a route that wins nothing: it readies what is left for a
	// carrier, and comes last in a plan.
	Treatment bool
	// Prepares marks a route that wins nothing itself but brings metal into
	// reach of the routes that follow it.
	Prepares bool
	// User and Path say that the route is the user's own, and where it stands.
	User bool
	Path string
	// OutOfReach says why metal in other forms than reaches stays behind.
	OutOfReach string
	Steps      []StepFile

	reaches []substance.SpeciesID // forms of the metals that the route can take
	anions  []substance.SpeciesID // at least one of these must be in the liquor, if any is named
	text    []byte                // as it stands in the file
}

// Text returns the route as it stands in its file, with its comments.
func (f *File) Text() []byte { return bytes.Clone(f.text) }

// Wins tells whether the route ends in something to sell.
func (f *File) Wins() bool { return !f.Treatment && !f.Prepares }

// StepFile is one step as it stands in a route file. Which fields a kind
// reads is said in that kind's own file.
type StepFile struct {
	ID, Kind, Title string
	In              string
	Out             []string
	Reagent         string
	Reactions       []StepReaction
	HandsOn         Span
	Wait            Span
	Figures         map[string]Quantity
	Words           map[string]string
	Stop, Note      string
	Cautions        []string // hazards that always show here, for what no rule can see
	Closed          bool     // the vessel is closed during the step
	Product         string   // form of the product this step yields
	Sale            string   // sale id, where it differs from the route's
	Consumables     map[string]Quantity
	table           *input.Table

	at      situation // places of the step that hold on every bench
	watched []watchedRule
}

// StepReaction is a reaction of a step with the temperature above which it
// runs; AboveC is -300 where temperature does not matter.
type StepReaction struct {
	substance.Reaction
	AboveC float64
}

// Quantity is a figure of a route file: a named input and where it comes from.
type Quantity struct {
	Ref    input.Ref
	Kind   units.Kind
	Source string
	Why    string
}

// Span is a time that may grow with the liquid and the solid in hand:
// fixed + perLitre·V + perKilogram·m. Missing terms have Ref NoRef.
type Span struct {
	Fixed, PerLitre, PerKilogram Quantity
}

var noQuantity = Quantity{Ref: input.NoRef}

// Reaches lists the species whose metal the route can get at, by name.
func (f *File) Reaches() []string { return speciesNames(f.reaches) }

// Anions lists the ions of which the liquor must hold at least one; empty if it
// does not matter.
func (f *File) Anions() []string { return speciesNames(f.anions) }

// Rest lists the streams that the route hands on to the next.
func (f *File) Rest() []string { return slices.Clone(f.rest) }

func speciesNames(ids []substance.SpeciesID) []string {
	names := make([]string, len(ids))
	for i, id := range ids {
		names[i] = id.Species().Name
	}
	return names
}
