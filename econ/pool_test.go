package econ

import (
	"testing"
)

// By hand, at 10.00 an hour. Each lot brings 56.40 and takes 0.36 of energy,
// 40.00 of labour, 0.60 of papers, 0.20 for slag: 15.24 are left. Together:
//
//	four   4 × 15.24 = 60.96, lye (1.20 − 0.05) kg × 9.00 = 10.35, acid 8.00, sale 37.00, liquor 60.00
//	       −54.39, −13.5975 each; ended as they stand 12 L × 4.00, at least 60.00: −15 each
//	three  45.72 − 7.65 − 6.00 − 37.00 − 60.00 = −64.93; ended −20 each, so no gain
func TestPoolByHand(t *testing.T) {
	b, v := decoded(t, swapped(t, smallBook, `rate = "20.00 / h"`, `rate = "10.00 / h"`))
	o, end := silverWork(), untouchedLot("dispose")
	for n, want := range map[int][2]float64{1: {-86.01, -60}, 3: {-64.93 / 3, -20}, 4: {-13.5975, -15}} {
		work, _ := b.eachOf(&o, n, v)
		ended, _ := b.eachOf(&end, n, v)
		near(t, "worked, each", work.Float(), want[0], 1e-9)
		near(t, "ended, each", ended.Float(), want[1], 1e-9)
	}
}
