package equil

import "math"

// solveLinear solves the n equations held row by row in a, each row followed
// by its right-hand side, by elimination with row pivoting. The solution
// replaces the right-hand sides; a is spoilt. It reports false where the
// equations do not determine the unknowns.
func solveLinear(a []float64, n int) bool {
	width := n + 1
	for col := range n {
		pivot, best := col, math.Abs(a[col*width+col])
		for row := col + 1; row < n; row++ {
			if v := math.Abs(a[row*width+col]); v > best {
				pivot, best = row, v
			}
		}
		if !(best > 1e-250) || math.IsInf(best, 1) {
			return false
		}
		top := a[col*width : col*width+width]
		if pivot != col {
			other := a[pivot*width : pivot*width+width]
			for k := col; k < width; k++ {
				top[k], other[k] = other[k], top[k]
			}
		}
		inverse := 1 / top[col]
		for row := col + 1; row < n; row++ {
			r := a[row*width : row*width+width]
			if r[col] == 0 {
				continue
			}
			factor := r[col] * inverse
			for k := col + 1; k < width; k++ {
				r[k] -= factor * top[k]
			}
		}
	}
	for row := n - 1; row >= 0; row-- {
		r := a[row*width : row*width+width]
		sum := r[n]
		for k := row + 1; k < n; k++ {
			sum -= r[k] * a[k*width+n]
		}
		r[n] = sum / r[row]
	}
	return true
}
