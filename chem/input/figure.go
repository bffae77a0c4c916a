package input

import "afterpour/chem/units"

// Origin says where a figure comes from.
type Origin uint8

// The origins.
const (
	Typed     Origin = iota // typed by the user
	Assumed                 // a stated default
	RouteFile               // a route file
	PriceBook               // the price book
	Tabulated               // a built-in table
)

// Figure is a named input with its distribution.
type Figure struct {
	ID       string
	Kind     units.Kind
	Dist     units.Dist
	Text     string
	Origin   Origin
	Source   string
	File     string
	Position Position
}

// Ref is the index of a figure in Figures and in Values.
type Ref int32

// NoRef is the reference to no figure.
const NoRef Ref = -1

// Values holds one plain value for each figure.
type Values []float64

// At returns the value of a figure.
func (v Values) At(r Ref) float64 { return v[r] }

// Figures is a register of named inputs.
type Figures struct{}

// Add registers a figure.
func (f *Figures) Add(fig Figure) Ref { return NoRef }

// Len returns the number of figures.
func (f *Figures) Len() int { return 0 }

// Get returns a figure.
func (f *Figures) Get(r Ref) Figure { return Figure{} }

// ByID finds a figure by its id.
func (f *Figures) ByID(id string) (Ref, bool) { return NoRef, false }

// Central returns the mean of every figure.
func (f *Figures) Central() Values { return nil }

// Clone returns an independent copy.
func (f *Figures) Clone() *Figures { return nil }
