package econ

import (
	"context"
	"fmt"
	"slices"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// replay carries one plan of an appraised lot out again, at any values of the
// inputs.
type replay struct {
	*study
	plan route.Plan
}

// at carries the plan out at v, with or without its record for the bench.
func (r *replay) at(ctx context.Context, v input.Values, trace, record bool) (route.Outcome, error) {
	job := r.job(v)
	job.Trace, job.Record = trace, record
	o, err := r.req.Library.Simulate(ctx, job, r.plan)
	if err != nil {
		return o, fmt.Errorf("econ: %w", err)
	}
	return o, nil
}

// record carries the plan out at the central values, for the bench.
func (r *replay) record(ctx context.Context) (route.Outcome, error) {
	return r.at(ctx, r.central, true, true)
}

// stepRange is how the masses after a step scatter: of the stream that it works
// on or gives first, dry and wet.
type stepRange struct{ dry, wet span }

// span is the tenth and the nine-tenths mark of some draws; both are 0 without.
type span struct{ low, high float64 }

// planRange is how the masses of a plan scatter, step by step and product by
// product.
type planRange struct {
	steps    []stepRange
	products []span
}

// ranges carries the plan out at the draws that the odds rest on and returns how
// its masses scatter. Draws in which the plan is blocked or runs otherwise are left out;
// with fewer than half of them there are no ranges.
func (r *replay) ranges(ctx context.Context, draws, steps, products int) (planRange, error) {
	dry, wet, made := make([][]float64, steps), make([][]float64, steps), make([][]float64, products)
	v := make(input.Values, len(r.central))
	for draw := range draws {
		r.physical.fill(v, draw)
		o, err := r.at(ctx, v, false, true)
		if err != nil {
			return planRange{}, err
		}
		if o.Blocked != nil || len(o.Steps) != steps || len(o.Products) != products {
			continue
		}
		for i := range o.Steps {
			p := solidAfter(&o.Steps[i])
			dry[i] = append(dry[i], float64(p.Dry))
			wet[i] = append(wet[i], float64(p.Wet))
		}
		for i := range o.Products {
			made[i] = append(made[i], float64(o.Products[i].Mass))
		}
	}
	result := planRange{steps: make([]stepRange, steps), products: make([]span, products)}
	for i := range result.steps {
		result.steps[i] = stepRange{tenths(dry[i], draws), tenths(wet[i], draws)}
	}
	for i := range result.products {
		result.products[i] = tenths(made[i], draws)
	}
	return result, nil
}

// solidAfter is what a step leaves in the stream that can be weighed: the first
// one that it gives.
func solidAfter(s *route.StepRecord) route.Portion {
	if len(s.Out) > 0 {
		return s.AfterOf(s.Out[0])
	}
	return s.AfterOf(s.In)
}

// tenths returns the tenth and the nine-tenths mark.
func tenths(list []float64, draws int) span {
	if len(list) < 10 || 2*len(list) < draws {
		return span{}
	}
	slices.Sort(list)
	n := len(list)
	return span{list[n/10], list[n-1-n/10]}
}

// mass returns a span as masses.
func (s span) mass() (low, high units.Mass) { return units.Mass(s.low), units.Mass(s.high) }
