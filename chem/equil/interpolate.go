package equil

import "sort"

// interpolateLine is the value at x on straight lines through the rows; beyond
// the table its end rows hold.
func interpolateLine(xs, ys []float64, x float64) float64 {
	last := len(xs) - 1
	if !(x > xs[0]) {
		return ys[0]
	}
	if x >= xs[last] {
		return ys[last]
	}
	i := sort.SearchFloat64s(xs, x)
	share := (x - xs[i-1]) / (xs[i] - xs[i-1])
	return ys[i-1] + share*(ys[i]-ys[i-1])
}

// interpolateCubic is the value at x of the cubic through the four nearest
// rows (Lagrange); beyond the table its end rows hold.
func interpolateCubic(xs, ys []float64, x float64) float64 {
	last := len(xs) - 1
	if last < 3 || !(x > xs[0]) || x >= xs[last] {
		return interpolateLine(xs, ys, x)
	}
	first := min(max(sort.SearchFloat64s(xs, x)-2, 0), last-3)
	sum := 0.0
	for i := first; i < first+4; i++ {
		term := ys[i]
		for j := first; j < first+4; j++ {
			if j != i {
				term *= (x - xs[j]) / (xs[i] - xs[j])
			}
		}
		sum += term
	}
	return sum
}
