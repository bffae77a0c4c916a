package input

import (
	"slices"

	"afterpour/chem/units"
)

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

// String returns the name of the origin.
func (o Origin) String() string {
	names := [...]string{"typed", "assumed", "route file", "price book", "table"}
	if int(o) < len(names) {
		return names[o]
	}
	return "unknown"
}

// Figure is a named input of a calculation with its distribution, in the base
// unit of its kind.
type Figure struct {
	ID       string // unique, such as "lot/vessel.liquid"
	Kind     units.Kind
	Dist     units.Dist
	Text     string // as written in the file, cleaned; empty if it stands in none
	Origin   Origin
	Source   string // where the value is from, or why it is assumed
	File     string
	Position Position
}

// Ref is the index of a figure in Figures and in Values.
type Ref int32

// NoRef is the reference to no figure.
const NoRef Ref = -1

// Values holds one plain value for each figure, in the base unit of its kind.
type Values []float64

// At returns the value of a figure. It panics for NoRef and for a figure that
// was registered after the values were made.
func (v Values) At(r Ref) float64 { return v[r] }

// Figures is a register of named inputs. The zero value is ready for use.
type Figures struct {
	list []Figure
	byID map[string]Ref
}

// Add registers a figure and returns its reference. A figure whose ID is
// registered already takes the place of the earlier one and keeps its reference.
func (f *Figures) Add(fig Figure) Ref {
	if r, ok := f.byID[fig.ID]; ok {
		f.list[r] = fig
		return r
	}
	if f.byID == nil {
		f.byID = make(map[string]Ref)
	}
	r := Ref(len(f.list))
	f.list = append(f.list, fig)
	f.byID[fig.ID] = r
	return r
}

// Len returns the number of figures.
func (f *Figures) Len() int { return len(f.list) }

// Get returns a figure; the zero Figure for a reference to none.
func (f *Figures) Get(r Ref) Figure {
	if r < 0 || int(r) >= len(f.list) {
		return Figure{}
	}
	return f.list[r]
}

// ByID finds a figure by its id.
func (f *Figures) ByID(id string) (Ref, bool) {
	r, ok := f.byID[id]
	if !ok {
		return NoRef, false
	}
	return r, true
}

// Central returns the mean of every figure.
func (f *Figures) Central() Values {
	v := make(Values, len(f.list))
	for i, fig := range f.list {
		v[i] = fig.Dist.Mean
	}
	return v
}

// Clone returns a copy that can be added to without changing the original.
func (f *Figures) Clone() *Figures {
	c := &Figures{list: slices.Clone(f.list), byID: make(map[string]Ref, len(f.byID))}
	for id, r := range f.byID {
		c.byID[id] = r
	}
	return c
}
