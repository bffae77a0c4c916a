package input

// Set is a set of figures: the inputs on which a result rests. Its methods
// never change the receiver.
type Set []uint64

// With returns the set with the figures added.
func (s Set) With(refs ...Ref) Set { return s }

// Union returns the union of the sets.
func (s Set) Union(o Set) Set { return s }

// Has reports whether the set holds the figure.
func (s Set) Has(r Ref) bool { return false }

// Refs returns the figures in ascending order.
func (s Set) Refs() []Ref { return nil }
