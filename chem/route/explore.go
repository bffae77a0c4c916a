package route

import (
	"context"
	"slices"
	"strings"
)

// Exploration is every plan that makes sense for a lot, carried out on paper.
type Exploration struct {
	Outcomes []Outcome
	Chains   int // sequences of routes that were simulated
}

// Explore carries out the tree of all sensible sequences of routes over a lot,
// each stage on exactly what the stage before left, shared beginnings once.
//
// A route opens a plan where the lot holds a metal that it takes; if it cannot
// reach it, the plan is listed as blocked. A route follows others where at least
// 1 % of a metal that it takes is left and within its reach, and its anion is
// there; for a metal that the plan has worked on already it is againShare, since
// what a route leaves of its own metal are fines, and a second route on fines is
// no plan; and no metal is worked more than twice. No route comes twice. Every
// sequence is listed with each ending, and once more with each treatment before
// a carrier takes the rest. Nothing is cut off: the tree ends by itself, since
// each route uses up what the next would need.
func (lib *Library) Explore(ctx context.Context, job Job) (Exploration, error) {
	full, err := defaults(job)
	if err != nil {
		return Exploration{}, err
	}
	w := &walk{lib: lib, ctx: ctx, job: full}
	w.list(nil, start(job.Inventory.Vessel))
	if err := w.grow(nil, start(job.Inventory.Vessel)); err != nil {
		return Exploration{}, err
	}
	return Exploration{Outcomes: w.outcomes, Chains: w.chains}, nil
}

// walk is an exploration in progress.
type walk struct {
	lib      *Library
	ctx      context.Context
	job      *Job
	outcomes []Outcome
	chains   int
}

// grow follows every route that can come next.
func (w *walk) grow(chain []string, s state) error {
	for i := range w.lib.routes {
		f := &w.lib.routes[i]
		if f.Treatment || slices.Contains(chain, f.ID) || !w.follows(f, chain, s) {
			continue
		}
		next, longer, err := w.run(chain, s, f)
		if err != nil {
			return err
		}
		w.list(longer, next)
		if next.out.Blocked != nil {
			continue
		}
		if err := w.grow(longer, next); err != nil {
			return err
		}
	}
	return w.treat(chain, s)
}

// run carries one more route out.
func (w *walk) run(chain []string, s state, f *File) (state, []string, error) {
	if err := w.ctx.Err(); err != nil {
		return s, nil, err
	}
	w.chains++
	r := &run{ctx: w.ctx, job: w.job, state: s.clone()}
	r.out.Blocked = r.route(f)
	return r.state, append(slices.Clone(chain), f.ID), nil
}

// follows tells whether a route can come next: always as the first, if the lot
// holds its metal at all.
func (w *walk) follows(f *File, chain []string, s state) bool {
	vessel := s.slots[0].stream
	if len(chain) == 0 && !f.Prepares {
		return holds(vessel, f.Takes)
	}
	if vessel.Mass() <= 0 || lacks(vessel, f.anions) != "" {
		return false
	}
	for _, metal := range f.Takes {
		contained := w.job.Inventory.Vessel.Element(metal)
		if contained <= 0 {
			continue
		}
		within := 0.0
		for _, id := range f.reaches {
			within += vessel.Mol[id] * id.Species().Formula.Atoms(metal)
		}
		least := joinShare
		switch w.worked(chain, metal) {
		case 0:
		case 1:
			least = againShare
		default: // once for what is dissolved and once for what is settled
			continue
		}
		if within >= least*contained {
			return true
		}
	}
	return false
}

// againShare is the share of a metal that must be left for a second route to
// that metal: more than the fines that careful work leaves. Assumption.
const againShare = 0.1

// worked counts the routes of the chain that have taken that metal.
func (w *walk) worked(chain []string, metal string) int {
	n := 0
	for _, id := range chain {
		if f, err := w.lib.Route(id); err == nil && !f.Prepares && (slices.Contains(f.Takes, metal) || slices.Contains(f.Brings, metal)) {
			n++
		}
	}
	return n
}

// list books a sequence with each ending.
func (w *walk) list(chain []string, s state) {
	out := finish(s, w.job.Trace)
	out.UserRoutes = w.lib.userRoutes(chain)
	for _, ending := range Endings {
		ended := out
		ended.Plan = NewPlan(chain, ending)
		w.job.close(&ended, &s, ending)
		w.outcomes = append(w.outcomes, ended)
	}
}

// treat books a sequence once more with each treatment before the carrier, if
// the treatment's first step finds anything to do.
func (w *walk) treat(chain []string, s state) error {
	for i := range w.lib.routes {
		f := &w.lib.routes[i]
		if !f.Treatment {
			continue
		}
		pooled := s.clone()
		pooled.pool()
		if pooled.slots[0].stream.LiquidVolume() <= 0 {
			continue
		}
		next, longer, err := w.run(chain, pooled, f)
		if err != nil {
			return err
		}
		if first := len(s.out.Steps); len(next.out.Steps) > first && next.out.Steps[first].Skipped {
			continue // nothing here to treat
		}
		out := finish(next, w.job.Trace)
		out.Plan = NewPlan(longer, "dispose")
		out.UserRoutes = w.lib.userRoutes(longer)
		w.job.close(&out, &next, "dispose")
		w.outcomes = append(w.outcomes, out)
	}
	return nil
}

// defaults fills in what a job leaves open, and what its lot says about the
// rules.
func defaults(job Job) (*Job, error) {
	var err error
	if job.Equilibrium == nil {
		if job.Equilibrium, err = speciation(); err != nil {
			return nil, err
		}
	}
	if job.rules, err = theRules(); err != nil {
		return nil, err
	}
	job.orders = orders(job.rules.list, job.Declared, job.Acknowledged)
	return &job, nil
}

// chainKey names a sequence of routes.
func chainKey(routes []string) string { return strings.Join(routes, "+") }
