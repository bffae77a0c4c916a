package route

import (
	"context"
	"testing"

	"afterpour/chem/equil"
)

// TestSolubilityCostsSilver: with the solver, washing and strong chloride carry
// silver away, so less is recovered than where each reaction runs to its end.
func TestSolubilityCostsSilver(t *testing.T) {
	for _, sample := range []string{"nitrate-liquor", "chloride-sludge"} {
		lib, job, _ := sampleJob(t, sample, roomy)
		won := func(e equil.Equilibrator) float64 {
			job.Equilibrium = e
			o, err := lib.Simulate(context.Background(), job, NewPlan([]string{"chloride-oxide-sugar"}, "dispose"))
			if err != nil {
				t.Fatal(err)
			}
			if o.Blocked != nil {
				t.Fatal(o.Blocked.Reason)
			}
			return o.Products[0].MetalMass.Grams()
		}
		solver, limiting := won(nil), won(equil.Limiting{})
		if solver > limiting*(1+1e-9) || solver < limiting*0.97 {
			t.Errorf("%s: %.4f g with the solver, %.4f g with limiting reactions", sample, solver, limiting)
		}
		t.Logf("%s: %.4f g with the solver, %.4f g with limiting reactions", sample, solver, limiting)
	}
}
