package route

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// extremes are the least and the most that a route file may state, by kind, in
// its base unit.
var extremes = map[units.Kind][]float64{
	units.Fraction: {0, 1}, units.Number: {0, 1e6}, units.CountKind: {0, 1e4}, units.ConcentrationKind: {0, 1e3},
	units.MassConcentrationKind: {0, 1e5}, units.TemperatureKind: {1, 3000}, units.LengthKind: {0, 1e3},
}

// TestExtremeFigures sets each figure of each route in turn to one end of what a
// file may state (the other end every second time, to save time): the plan is carried out with balanced and finite figures, or blocked
// with a reason.
func TestExtremeFigures(t *testing.T) {
	lib := library(t)
	vessel := parting(0.3).and(poured{"AgCl(s)": 0.1, "Cu(s)": 0.1, "Zn^2+": 0.05, "NO3^-": 0.1}).stream(20)
	figs := lib.Figures()
	for ref := range input.Ref(figs.Len()) {
		parts := strings.Split(figs.Get(ref).ID, "/")
		if len(parts) < 3 || testing.Short() {
			continue
		}
		if ends := extremes[figs.Get(ref).Kind]; len(ends) > 0 {
			value := ends[int(ref)%2]
			job := jobOn(t, lib, vessel, roomy)
			job.Values = slices.Clone(job.Values)
			job.Values[ref] = value
			job.Acknowledged = []string{"silver-ammonia"}
			o, err := lib.Simulate(context.Background(), job, NewPlan([]string{parts[1]}, "dispose"))
			if err != nil {
				t.Fatal(err)
			}
			if o.Blocked != nil && o.Blocked.Reason == "" {
				t.Errorf("%s = %g: blocked without a reason", figs.Get(ref).ID, value)
			}
			checkBalance(t, figs.Get(ref).ID, &o)
			for _, s := range o.Steps {
				for _, e := range s.Entries {
					if math.IsNaN(e.Amount) || math.IsInf(e.Amount, 0) || e.Amount < 0 {
						t.Errorf("%s = %g: %s %v %s %g", figs.Get(ref).ID, value, s.Step, e.Kind, e.Item, e.Amount)
					}
				}
			}
		}
	}
}
