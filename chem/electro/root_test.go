package electro

import (
	"math"
	"testing"
)

func TestFallFindsTheRoot(t *testing.T) {
	for want := 1e-12; want < 1e12; want *= 97 {
		e := fall(func(e float64) float64 { return math.Exp(-30 * e) }, want, 0.4)
		near(t, "exponential", e, -math.Log(want)/30, 1e-8)
	}
	step := func(e float64) float64 {
		if e > 0.25 {
			return 1
		}
		return 2
	}
	near(t, "jump", fall(step, 1.5, 0), 0.25, 1e-9)
	near(t, "never so little", fall(func(float64) float64 { return 5 }, 1, 0), 3, 1e-12)
	near(t, "never so much", fall(func(float64) float64 { return 0.5 }, 1, 0), -5, 1e-12)
}
