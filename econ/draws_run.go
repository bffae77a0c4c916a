package econ

import (
	"context"
	"fmt"
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
	forest, err := s.forest(ctx, h.chains)
	if err != nil {
		return err
	}
	err = inParallel(ctx, sp.n, func() func(int) error { return s.drawer(h, forest).draw })
	if err != nil {
		return err
	}
	s.draws.keep(h)
	return nil
}

// forest plants chains, ready to be carried out at any values of the inputs.
func (s *study) forest(ctx context.Context, chains []int) (*route.Forest, error) {
	routes := make([][]string, len(chains))
	for k, c := range chains {
		routes[k] = s.chains[c].routes
	}
	f, err := s.req.Library.Forest(ctx, s.job(s.central), routes)
	if err != nil {
		return nil, fmt.Errorf("econ: %w", err)
	}
	return f, nil
}

// drawer is one thread's share of the making of draws.
type drawer struct {
	study   *study
	harvest *harvest
	forest  *route.Forest
	values  input.Values
	account account
}

func (s *study) drawer(h *harvest, f *route.Forest) *drawer {
	return &drawer{study: s, harvest: h, forest: f, values: make(input.Values, len(s.central))}
}

// draw makes the ith draw of the batch.
func (w *drawer) draw(i int) error {
	s, h := w.study, w.harvest
	s.physical.fill(w.values, h.from+i)
	job := s.job(w.values)
	h.facts.put(i, s.draws.metals, &job.Inventory)
	return w.forest.Simulate(context.Background(), job, func(k int, o *route.Outcome) {
		s.draws.put(h, k, i, o, &w.account)
	})
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
