package econ

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"

	"afterpour/chem/input"
	"afterpour/chem/route"
)

// simulate makes the nth batch of draws for those of the chains that lack it.
// What a draw gives depends on its number alone, so the work is handed out to
// as many threads as there are.
func (s *study) simulate(ctx context.Context, nth int, sp batch, chains []int) error {
	h := s.draws.prepare(nth, sp, chains)
	if len(h.chains) == 0 {
		return ctx.Err()
	}
	plans := make([]route.Plan, len(h.chains))
	for k, c := range h.chains {
		plans[k] = s.chains[c].ends[0].Plan
	}
	err := inParallel(ctx, sp.n, func() func(int) error {
		w := &drawer{study: s, harvest: h, plans: plans, values: make(input.Values, len(s.central))}
		return w.draw
	})
	if err != nil {
		return err
	}
	s.draws.keep(h)
	return nil
}

// drawer is one thread's share of the making of draws.
type drawer struct {
	study   *study
	harvest *harvest
	plans   []route.Plan
	values  input.Values
	account account
}

// draw makes the ith draw of the batch.
func (w *drawer) draw(i int) error {
	s, h := w.study, w.harvest
	s.physical.fill(w.values, h.from+i)
	job := s.job(w.values)
	h.facts.put(i, s.draws.metals, &job.Inventory)
	outcomes, err := s.req.Library.SimulateAll(context.Background(), job, w.plans)
	if err != nil {
		return err
	}
	for k := range outcomes {
		s.draws.put(h, k, i, &outcomes[k], &w.account)
	}
	return nil
}

// inParallel does the tasks 0 to n−1 on as many threads as there are, each with
// a worker of its own, and stops early on an error or when ctx ends.
func inParallel(ctx context.Context, n int, worker func() func(int) error) error {
	threads := min(runtime.GOMAXPROCS(0), n)
	var next atomic.Int64
	var failed atomic.Pointer[error]
	var wait sync.WaitGroup
	for range threads {
		wait.Go(func() {
			work := worker()
			for {
				i := int(next.Add(1)) - 1
				if i >= n || ctx.Err() != nil || failed.Load() != nil {
					return
				}
				if err := work(i); err != nil {
					failed.CompareAndSwap(nil, &err)
				}
			}
		})
	}
	wait.Wait()
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := failed.Load(); err != nil {
		return *err
	}
	return nil
}
