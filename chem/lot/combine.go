package lot

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// disagreeAt is the probability below which statements count as contradicting
// each other.
const disagreeAt = 0.05

// leastRelative keeps a statement that claims no doubt at all from dividing by
// zero: no bench figure is better than one part in a million.
const leastRelative = 1e-6

// combination is how several estimates of one quantity become one: fixed
// weights, and how far the estimates disagree.
type combination struct {
	weights    []float64 // sum 1, in the order of the estimates
	chiSquared float64
	freedom    int     // degrees of freedom: one less than there are estimates
	p          float64 // probability of a larger chi-squared; 1 without freedom
}

// combine fixes the weights of independent estimates by inverse variance:
//
//	w_i = (1/u_i^2) / Σ 1/u_j^2,   χ² = Σ (x_i − x̄)²/u_i²
//
// Source: JCGM 100:2008, F.1.2.4 note and the weighted mean with its χ² of
// Bevington and Robinson, Data Reduction, chapter 4 (from memory, check there).
func combine(values, sds []float64) combination {
	c := combination{weights: make([]float64, len(values)), freedom: len(values) - 1, p: 1}
	sum := 0.0
	for i, u := range floored(values, sds) {
		c.weights[i] = 1 / (u * u)
		sum += c.weights[i]
	}
	mean := 0.0
	for i := range c.weights {
		c.weights[i] /= sum
		mean += c.weights[i] * values[i]
	}
	for i, w := range c.weights {
		c.chiSquared += (values[i] - mean) * (values[i] - mean) * w * sum
	}
	c.p = survival(c.chiSquared, c.freedom)
	return c
}

// floored are the standard uncertainties, none of them zero.
func floored(values, sds []float64) []float64 {
	largest := 0.0
	for _, x := range values {
		largest = math.Max(largest, math.Abs(x))
	}
	least := math.Max(leastRelative*largest, math.SmallestNonzeroFloat32)
	out := make([]float64, len(sds))
	for i, u := range sds {
		out[i] = math.Max(u, least)
	}
	return out
}

// survival is the probability that chi-squared with so many degrees of freedom
// exceeds x; 1 without any freedom.
func survival(x float64, freedom int) float64 {
	if freedom < 1 || !(x > 0) {
		return 1
	}
	return mathext.GammaIncRegComp(float64(freedom)/2, x/2)
}

// disagrees reports whether the estimates contradict each other.
func (c combination) disagrees() bool { return c.p < disagreeAt }

// extra is the standard uncertainty to add, in quadrature, to a combined one of
// u, so that it is widened by the root of chi-squared per degree of freedom; 0
// where the estimates agree.
func (c combination) extra(u float64) float64 {
	if !c.disagrees() {
		return 0
	}
	return u * math.Sqrt(math.Max(0, c.chiSquared/float64(c.freedom)-1))
}
