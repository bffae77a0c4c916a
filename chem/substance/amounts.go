package substance

import "sync"

// elementTerm is how many atoms of an element a species holds, the element by
// its place in Symbols.
type elementTerm struct {
	element int
	atoms   float64
}

// elementTerms lists for each species the elements in it.
var elementTerms = sync.OnceValue(func() [][]elementTerm {
	reg := loaded()
	terms := make([][]elementTerm, len(reg.species))
	for e, symbol := range reg.symbols {
		for i, atoms := range reg.composition[symbol] {
			if atoms != 0 {
				terms[i] = append(terms[i], elementTerm{e, atoms})
			}
		}
	}
	return terms
})

// ElementAmounts returns the amount of every element in the stream, in mol, in
// the order of Symbols, written over into if that is long enough.
func (s Stream) ElementAmounts(into []float64) []float64 {
	n := len(loaded().symbols)
	if cap(into) < n {
		into = make([]float64, n)
	}
	into = into[:n]
	clear(into)
	terms := elementTerms()
	for i, mol := range s.Mol {
		if mol == 0 {
			continue
		}
		for _, t := range terms[i] {
			into[t.element] += t.atoms * mol
		}
	}
	return into
}
