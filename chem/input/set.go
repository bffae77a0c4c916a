package input

import (
	"math/bits"
	"slices"
)

// Set is a set of figures: the inputs on which a result rests. Its methods
// never change the receiver, so a set can be shared. Nil is the empty set.
type Set []uint64

// With returns the set with the figures added. NoRef adds nothing.
func (s Set) With(refs ...Ref) Set {
	size := len(s)
	missing := false
	for _, r := range refs {
		if r >= 0 && !s.Has(r) {
			size, missing = max(size, int(r)/64+1), true
		}
	}
	if !missing {
		return s
	}
	grown := make(Set, size)
	copy(grown, s)
	for _, r := range refs {
		if r >= 0 {
			grown[r/64] |= 1 << (r % 64)
		}
	}
	return grown
}

// Union returns the union of two sets.
func (s Set) Union(o Set) Set {
	switch {
	case s.contains(o):
		return s
	case o.contains(s):
		return o
	}
	u := make(Set, max(len(s), len(o)))
	copy(u, s)
	for i, word := range o {
		u[i] |= word
	}
	return u
}

func (s Set) contains(o Set) bool {
	for i, word := range o {
		if word == 0 {
			continue
		}
		if i >= len(s) || word&^s[i] != 0 {
			return false
		}
	}
	return true
}

// Has reports whether the set holds the figure.
func (s Set) Has(r Ref) bool {
	return r >= 0 && int(r)/64 < len(s) && s[r/64]&(1<<(r%64)) != 0
}

// Refs returns the figures in ascending order.
func (s Set) Refs() []Ref {
	var refs []Ref
	for i, word := range s {
		for ; word != 0; word &= word - 1 {
			refs = append(refs, Ref(i*64+bits.TrailingZeros64(word)))
		}
	}
	return slices.Clip(refs)
}
