package econ

import (
	"math"
	"slices"
)

// pairs holds what a function gives at the draws A and B of its inputs, and at
// A with one input at a time taken over from B.
type pairs struct {
	a, b    []float64
	ab      [][]float64 // by input
	moments moments     // of all of A and B
}

func newPairs(runs, inputs int) *pairs {
	f := &pairs{a: make([]float64, runs), b: make([]float64, runs)}
	for range inputs {
		f.ab = append(f.ab, make([]float64, runs))
	}
	return f
}

// total returns the total index of an input by Jansen's estimator, with its
// standard error. A function without variance has none.
func (f *pairs) total(i int) (index, se float64) {
	variance := f.moments.variance()
	if !(variance > 0) {
		return 0, 0
	}
	var m moments
	for n := range f.a {
		m.add(square(f.a[n]-f.ab[i][n]) / (2 * variance))
	}
	return m.mean, m.sd() / math.Sqrt(m.n)
}

// first returns the first-order index of an input that has the values x in A
// and then in B: the share of the variance that its regression explains.
func (f *pairs) first(x []float64) (index, se float64) {
	r := newBasis(x, mostDegree).regress(append(slices.Clone(f.a), f.b...))
	return r.share, r.shareSE
}

// mostDegree is the highest degree in one input that an index looks for.
const mostDegree = 8

// close takes the variance of all of A and B.
func (f *pairs) close() { f.moments = momentsOf(append(slices.Clone(f.a), f.b...)) }

func square(x float64) float64 { return x * x }
