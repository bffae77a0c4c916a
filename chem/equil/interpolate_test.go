package equil

import "testing"

func TestInterpolateLine(t *testing.T) {
	xs, ys := []float64{0, 25, 60, 100}, []float64{0.49, 0.51, 0.55, 0.60}
	for x, want := range map[float64]float64{-5: 0.49, 0: 0.49, 25: 0.51, 42.5: 0.53, 80: 0.575, 100: 0.60, 200: 0.60} {
		if got := interpolateLine(xs, ys, x); !near(got, want, 1e-12) {
			t.Errorf("interpolateLine(%g) = %g, want %g", x, got, want)
		}
	}
}

// TestInterpolateCubic: a cubic is met exactly between its rows.
func TestInterpolateCubic(t *testing.T) {
	f := func(x float64) float64 { return 1 + x*(0.5+x*(-0.01+x*0.001)) }
	xs := []float64{0, 10, 20, 25, 30, 40}
	ys := make([]float64, len(xs))
	for i, x := range xs {
		ys[i] = f(x)
	}
	for x := 0.0; x <= 40; x += 0.7 {
		if got := interpolateCubic(xs, ys, x); !near(got, f(x), 1e-12) {
			t.Errorf("interpolateCubic(%g) = %g, want %g", x, got, f(x))
		}
	}
	if got := interpolateCubic(xs, ys, 99); !near(got, f(40), 1e-12) {
		t.Errorf("beyond the table %g, want its last row %g", got, f(40))
	}
}
