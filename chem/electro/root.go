package electro

import "math"

// fall finds where a positive function of the potential that falls as the
// potential rises equals want, to a relative 1e-10. It searches from near guess
// within −5 to 3 V and returns the nearer end if the function never gets there.
// The regula falsi (Illinois rule) works on the logarithm, in which currents
// are nearly straight lines of the potential.
func fall(f func(float64) float64, want, guess float64) float64 {
	const lowest, highest = -5, 3
	g := func(e float64) float64 { return math.Log(max(f(e), math.SmallestNonzeroFloat64) / want) }
	guess = min(highest, max(lowest, guess))
	a, b := guess, guess
	ga := g(guess)
	gb := ga
	for step := 0.01; ga < 0 && a > lowest; step *= 4 {
		b, gb = a, ga
		a = max(lowest, a-step)
		ga = g(a)
	}
	for step := 0.01; gb > 0 && b < highest; step *= 4 {
		a, ga = b, gb
		b = min(highest, b+step)
		gb = g(b)
	}
	return illinois(g, a, b, ga, gb)
}

// illinois finds the root of g between a and b, where ga ≥ 0 ≥ gb.
func illinois(g func(float64) float64, a, b, ga, gb float64) float64 {
	if ga <= 0 {
		return a
	}
	if gb >= 0 {
		return b
	}
	for range 200 {
		e := (a*gb - b*ga) / (gb - ga)
		if !(e > a && e < b) {
			e = (a + b) / 2
		}
		ge := g(e)
		switch {
		case math.Abs(ge) < 1e-10 || b-a < 1e-14:
			return e
		case ge > 0:
			a, ga = e, ge
			gb /= 2
		default:
			b, gb = e, ge
			ga /= 2
		}
	}
	return (a + b) / 2
}
