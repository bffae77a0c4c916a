package equil

import "math"

// near reports whether two figures agree within a share of the wanted one, or
// within 1e-15 where that is less.
func near(got, want, share float64) bool {
	return math.Abs(got-want) <= math.Max(share*math.Abs(want), 1e-15)
}
