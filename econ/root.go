package econ

import "math"

// rootSteps is the most evaluations of a root finder: bisection alone would
// narrow a range by a factor of a billion in 30.
const rootSteps = 60

// rootWidth is how narrow, as a share of the value, a root is taken.
const rootWidth = 1e-5

// root returns where f changes its sign between a and b, of which fa and fb
// are the values there and differ in sign. It keeps the bracket, so where f jumps
// over nothing the place of the jump is returned.
//
// It is the method of Anderson and Björck (BIT 13 (1973) 253), a secant that
// takes back some of the weight of an end that does not move, with a halving of
// the bracket whenever it has not shrunk by half in three steps.
func root(a, b, fa, fb float64, f func(float64) float64) float64 {
	if fa == 0 {
		return a
	}
	wide, slow := math.Abs(b-a), 0
	for range rootSteps {
		if math.Abs(b-a) <= rootWidth*math.Max(math.Abs(a), math.Abs(b)) || fb == 0 {
			break
		}
		x := a/2 + b/2
		if slow < 3 {
			if secant := (a*fb - b*fa) / (fb - fa); secant > math.Min(a, b) && secant < math.Max(a, b) {
				x = secant
			}
		}
		fx := f(x)
		switch {
		case (fx > 0) == (fb > 0):
			if m := 1 - fx/fb; m > 0 {
				fa *= m
			} else {
				fa /= 2
			}
		default:
			a, fa = b, fb
		}
		b, fb = x, fx
		if slow++; math.Abs(b-a) <= wide/2 {
			wide, slow = math.Abs(b-a), 0
		}
	}
	return b
}
