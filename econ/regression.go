package econ

import "math"

// basis is a set of polynomials of one quantity, orthonormal over the draws:
// the regression of anything on the quantity is a sum of products with them.
//
// They are built by the three-term recurrence of Forsythe (Journal of the
// Society for Industrial and Applied Mathematics 5 (1957) 74), which stays exact
// where powers of the quantity would not.
type basis [][]float64

// newBasis returns the polynomials of degree 0 up to degree in x; fewer where x
// takes fewer values than that.
func newBasis(x []float64, degree int) basis {
	n := len(x)
	m := momentsOf(x)
	b := basis{filled(n, 1/math.Sqrt(float64(n)))}
	if !(m.sd() > 0) {
		return b
	}
	for k := 1; k <= degree; k++ {
		next := make([]float64, n)
		last := b[k-1]
		for d := range next {
			next[d] = (x[d] - m.mean) / m.sd() * last[d]
		}
		if !b.orthogonal(next) {
			break
		}
		b = append(b, next)
	}
	return b
}

func filled(n int, v float64) []float64 {
	list := make([]float64, n)
	for i := range list {
		list[i] = v
	}
	return list
}

// orthogonal takes out of a column what the basis holds and makes it of length
// one; false if nothing is left of it. Of the recurrence only the last two
// terms differ from rounding, and once more over all of them takes that too.
func (b basis) orthogonal(column []float64) bool {
	before := math.Sqrt(product(column, column))
	for range 2 {
		for _, other := range b {
			share := product(column, other)
			for d := range column {
				column[d] -= share * other[d]
			}
		}
	}
	length := math.Sqrt(product(column, column))
	if !(length > 1e-6*before) {
		return false
	}
	for d := range column {
		column[d] /= length
	}
	return true
}

// product is the sum of the products of two lists.
func product(a, b []float64) float64 {
	sum := 0.0
	for d, x := range a {
		sum += x * b[d]
	}
	return sum
}

// fit is a regression on a basis.
type fit struct {
	fitted  []float64 // at each draw
	terms   int       // kept, without the constant
	share   float64   // of the variance that it explains, less what as many terms of pure noise would
	leftSD  float64   // of what it does not explain
	shareSE float64
}

// regress fits y on the basis and keeps the terms that tell more than noise
// does: those that lower the Bayesian information criterion of Schwarz (Annals
// of Statistics 6 (1978) 461), one of which costs ln n times the variance that
// no term explains.
func (b basis) regress(y []float64) fit {
	n := float64(len(y))
	coefficients := make([]float64, len(b))
	all := 0.0
	for k, column := range b {
		coefficients[k] = product(y, column)
		if k > 0 {
			all += coefficients[k] * coefficients[k]
		}
	}
	total := momentsOf(y).squares
	noise := math.Max(total-all, 0) / math.Max(n-float64(len(b)), 1)
	f := fit{fitted: make([]float64, len(y))}
	explained := 0.0
	for k, column := range b {
		c := coefficients[k]
		if k > 0 {
			if !(c*c > noise*math.Log(n)) {
				continue
			}
			explained += c * c
			f.terms++
		}
		for d := range f.fitted {
			f.fitted[d] += c * column[d]
		}
	}
	f.leftSD = math.Sqrt(math.Max(total-explained, 0) / math.Max(n-1, 1))
	if total > 0 {
		f.share = math.Max(0, (explained-float64(f.terms)*noise)/total)
		f.shareSE = math.Sqrt(4*f.share*square(1-f.share)/n + square(2/n))
	}
	return f
}
