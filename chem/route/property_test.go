package route

import (
	"context"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/input"
)

// extensive are the ledger kinds that grow with the lot.
var extensive = []EntryKind{Reagent, Electricity, Fuel, Gas, Captured, FreshAir, Loss}

// TestScaleFree: k times the lot takes k times the reagents, heat, gas and
// losses, and gives k times the product and waste, where no vessel limit and no
// fixed figure bites. Routes with a cell are left out: the plates stay as large
// as they are.
func TestScaleFree(t *testing.T) {
	vast := roomy
	vast.LargestVessel, vast.Extraction, vast.RoomM3 = 1e9, 1e12, 1e9
	for _, sample := range []string{"nitrate-liquor", "chloride-settled", "chloride-sludge"} {
		lib, job, _ := sampleJob(t, sample, vast)
		found, err := lib.Explore(context.Background(), job)
		if err != nil {
			t.Fatal(err)
		}
		rapid.Check(t, func(rt *rapid.T) {
			k := rapid.Float64Range(0.2, 20).Draw(rt, "k")
			o := &found.Outcomes[rapid.IntRange(0, len(found.Outcomes)-1).Draw(rt, "plan")]
			if o.Blocked != nil || usesCell(lib, o.Plan) {
				return
			}
			grown := job
			grown.Inventory.Vessel = job.Inventory.Vessel.Clone()
			grown.Inventory.Vessel.Scale(k)
			g, err := lib.Simulate(context.Background(), grown, o.Plan)
			if err != nil {
				rt.Fatal(err)
			}
			if g.Blocked != nil {
				rt.Fatalf("%s %s × %.3g is blocked: %s", sample, o.Plan.ID, k, g.Blocked.Reason)
			}
			checkScaled(rt, o, &g, k)
		})
	}
}

func usesCell(lib *Library, p Plan) bool {
	for _, id := range p.Routes {
		f, err := lib.Route(id)
		if err != nil || slices.ContainsFunc(f.Steps, func(s StepFile) bool { return s.Kind == "electrolyse" }) {
			return true
		}
	}
	return false
}

func checkScaled(t *rapid.T, o, g *Outcome, k float64) {
	same := func(what string, small, large float64) {
		if math.Abs(large-k*small) > 1e-6*math.Abs(k*small)+1e-9 {
			t.Errorf("%s: %s is %.9g, × %.3g it is %.9g", o.Plan.ID, what, small, k, large)
		}
	}
	for _, kind := range extensive {
		same(kind.String(), o.Sum(kind), g.Sum(kind))
	}
	for i := range o.Products {
		same("product", float64(o.Products[i].Mass), float64(g.Products[i].Mass))
	}
	for i := range o.Waste {
		same("waste", float64(o.Waste[i].Mass), float64(g.Waste[i].Mass))
	}
}

// TestAnyValuesConserve draws every figure of a route file and a lot over its
// range: whatever the values, elements and charge are conserved and no product
// holds more metal than the lot.
func TestAnyValuesConserve(t *testing.T) {
	for _, sample := range []string{"nitrate-liquor", "chloride-settled"} {
		lib, job, figs := sampleJob(t, sample, roomy)
		plans := lib.Plans(job.Inventory)
		rapid.Check(t, func(rt *rapid.T) {
			trial := job
			trial.Values = slices.Clone(job.Values)
			for i := range trial.Values {
				trial.Values[i] = figs.Get(input.Ref(i)).Dist.Quantile(rapid.Float64Range(0.001, 0.999).Draw(rt, "p"))
			}
			o, err := lib.Simulate(context.Background(), trial, plans[rapid.IntRange(0, len(plans)-1).Draw(rt, "plan")])
			if err != nil {
				rt.Fatal(err)
			}
			if o.Blocked != nil {
				return
			}
			for _, e := range o.Balance.Elements {
				if math.Abs(e.In-e.Out) > 1e-9*e.In {
					rt.Errorf("%s: %s in %.12g, out %.12g mol", o.Plan.ID, e.Element, e.In, e.Out)
				}
			}
			for _, p := range o.Products {
				if held := float64(job.Inventory.Vessel.ElementMass(p.Metal)); p.Metal == "Ag" && float64(p.MetalMass) > held {
					rt.Errorf("%s: %.6g kg of %s from %.6g kg", o.Plan.ID, float64(p.MetalMass), p.Metal, held)
				}
			}
		})
	}
}
