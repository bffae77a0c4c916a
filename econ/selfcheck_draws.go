package econ

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"sync"

	"afterpour/chem/equil"
	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/route"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// subject is a lot under examination: what can be worked out again of it, at
// the central values or at others.
type subject struct {
	req     Request
	a       *Appraisal
	figures *input.Figures // with the inputs that the model registered
	model   *lot.Model
	central input.Values
	watch   *watch
}

// newSubject models the lot once more, apart from the appraisal's own model.
func newSubject(a *Appraisal, req Request) (*subject, error) {
	s := &subject{req: req, a: a, figures: req.Figures.Clone(), watch: &watch{}}
	solver, err := speciation()
	if err != nil {
		return nil, fmt.Errorf("econ: %w", err)
	}
	s.watch.solver = solver
	if s.model, err = req.Lot.ModelWith(s.figures, s.watch); err != nil {
		return nil, fmt.Errorf("econ: %w", err)
	}
	s.central = s.figures.Central()
	return s, nil
}

// job is a simulation of the lot at v that keeps its accounts.
func (s *subject) job(v input.Values) route.Job {
	return route.Job{
		Inventory: s.model.Inventory(v), Values: v, Bench: s.req.Book.Bench(), Shelf: s.req.Book.Shelf(), Equilibrium: s.watch, Trace: true,
		Declared: s.a.Report.Declared, Acknowledged: s.a.Report.Acknowledged,
	}
}

// watch is an equilibrium that remembers how it went.
type watch struct {
	solver   equil.Equilibrator
	mu       sync.Mutex
	calls    int
	residual float64 // the largest
	faults   []string
}

// Equilibrate asks the solver and takes down how that went.
func (w *watch) Equilibrate(stream *substance.Stream) (equil.Outcome, error) {
	out, err := w.solver.Equilibrate(stream)
	w.mu.Lock()
	defer w.mu.Unlock()
	w.calls++
	w.residual = math.Max(w.residual, out.Residual)
	switch {
	case err != nil:
		w.faults = append(w.faults, err.Error())
	case !out.Converged:
		w.faults = append(w.faults, "an answer was given that had not converged")
	}
	return out, err
}

// checkDraws is how many times the whole tree of plans is worked out at drawn
// values, and drawSeed what they are drawn from: the same every time.
const (
	checkDraws = 5
	drawSeed   = 20260101
)

// draws proves conservation away from the central values too, and that every
// equilibrium on the way was found.
func (s *subject) draws(ctx context.Context) (Proof, error) {
	p := proofOf("draws", "no element is lost where the inputs are drawn from their doubts, and every equilibrium is found")
	random := rand.New(rand.NewPCG(drawSeed, drawSeed))
	plans := 0
	for n := range checkDraws {
		v := s.central
		if n > 0 {
			v = drawn(s.figures, random)
		}
		job := s.job(v)
		if n == 0 {
			report := s.a.Report
			p.inventoryAgrees(&report, &job.Inventory)
		}
		tree, err := s.req.Library.Explore(ctx, job)
		if err != nil {
			return *p, fmt.Errorf("econ: %w", err)
		}
		for i := range tree.Outcomes {
			if o := &tree.Outcomes[i]; o.Blocked == nil {
				plans++
				p.balance(fmt.Sprintf("draw %d, %s", n, o.Plan.ID), &o.Balance)
			}
		}
	}
	for _, fault := range s.watch.faults {
		p.note("an equilibrium was not found, and the plan that asked for it is blocked: %s", fault)
	}
	return p.done("%s in %d sets of values followed, %s on the way, the largest residual %.0e",
		plural(plans, "plan", "plans"), checkDraws, plural(s.watch.calls, "equilibrium", "equilibria"), s.watch.residual), nil
}

// drawn draws a value of every input from its distribution.
func drawn(figures *input.Figures, random *rand.Rand) input.Values {
	v := figures.Central()
	for i := range v {
		if d := figures.Get(input.Ref(i)).Dist; d.Shape != units.Exact {
			v[i] = d.Quantile(0.001 + 0.998*random.Float64())
		}
	}
	return v
}
