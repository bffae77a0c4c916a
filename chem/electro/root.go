package electro

import "math"

// fall finds where a positive function of the potential that falls as the
// potential rises equals want, to a relative 1e-8. It searches from near guess
// within −5 to 3 V and returns the nearer end if the function never gets there.
// The function is looked at as (f − want)/(f + want), which runs from 1 to −1
// however steeply f falls.
func fall(f func(float64) float64, want, guess float64) float64 {
	const lowest, highest = -5, 3
	g := func(e float64) float64 {
		v := f(e)
		if math.IsInf(v, 1) {
			return 1
		}
		return (v - want) / (v + want)
	}
	guess = min(highest, max(lowest, guess))
	a, b := guess, guess
	ga := g(guess)
	gb := ga
	for step := 0.004; ga < 0 && a > lowest; step *= 5 {
		b, gb = a, ga
		a = max(lowest, a-step)
		ga = g(a)
	}
	for step := 0.004; gb > 0 && b < highest; step *= 5 {
		a, ga = b, gb
		b = min(highest, b+step)
		gb = g(b)
	}
	return bracketed(g, a, b, ga, gb)
}

// bracketed finds the root of g between a and b, where ga ≥ 0 ≥ gb, by inverse
// quadratic interpolation where that is safe and halving where it is not
// (Chandrupatla, Advances in Engineering Software 28 (1997) 145).
func bracketed(g func(float64) float64, a, b, ga, gb float64) float64 {
	const close, narrow = 5e-9, 1e-14
	if ga <= close {
		return a
	}
	if gb >= -close {
		return b
	}
	x1, x2, f1, f2 := b, a, gb, ga
	x3, f3 := x1, f1
	t := f1 / (f1 - f2)
	for range 200 {
		x := x1 + t*(x2-x1)
		fx := g(x)
		if math.Abs(fx) < close || math.Abs(x2-x1) < narrow {
			return x
		}
		if (fx > 0) == (f1 > 0) {
			x3, f3 = x1, f1
		} else {
			x3, f3 = x2, f2
			x2, f2 = x1, f1
		}
		x1, f1 = x, fx
		t = 0.5
		xi, phi := (x1-x2)/(x3-x2), (f1-f2)/(f3-f2)
		if phi*phi < xi && (1-phi)*(1-phi) < 1-xi {
			t = f1/(f2-f1)*f3/(f2-f3) + (x3-x1)/(x2-x1)*f1/(f3-f1)*f2/(f3-f2)
		}
		t = min(1-1e-9, max(1e-9, t))
	}
	return (x1 + x2) / 2
}
