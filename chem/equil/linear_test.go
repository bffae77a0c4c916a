package equil

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestSolveLinear: the solution put back into random equations gives their
// right-hand sides.
func TestSolveLinear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 12).Draw(t, "n")
		a := make([]float64, n*(n+1))
		for i := range a {
			a[i] = rapid.Float64Range(-1, 1).Draw(t, "a")
		}
		for i := range n {
			a[i*(n+1)+i] += float64(n) + 1 // keeps it well posed
		}
		before := append([]float64(nil), a...)
		if !solveLinear(a, n) {
			t.Fatal("solveLinear gave up on well-posed equations")
		}
		for row := range n {
			sum := 0.0
			for k := range n {
				sum += before[row*(n+1)+k] * a[k*(n+1)+n]
			}
			if math.Abs(sum-before[row*(n+1)+n]) > 1e-10 {
				t.Fatalf("row %d gives %g, want %g", row, sum, before[row*(n+1)+n])
			}
		}
	})
}

func TestSolveLinearSingular(t *testing.T) {
	if solveLinear([]float64{1, 2, 3, 2, 4, 6}, 2) {
		t.Error("two rows in proportion were solved")
	}
	if solveLinear([]float64{math.NaN(), 1, 1, 1, 1, 1}, 2) && solveLinear([]float64{math.Inf(1), 1, 1, 1, 1, 1}, 2) {
		t.Error("rows that are not finite were solved")
	}
}

// TestSolveLinearPivots: a zero on the diagonal calls for another row.
func TestSolveLinearPivots(t *testing.T) {
	a := []float64{0, 2, 4, 3, 1, 5}
	if !solveLinear(a, 2) || !near(a[2], 1, 1e-12) || !near(a[5], 2, 1e-12) {
		t.Errorf("solution %g, %g, want 1, 2", a[2], a[5])
	}
}
