package route

import (
	"context"
	"sync"

	"afterpour/chem/equil"
	"afterpour/chem/substance"
)

// Forest is a set of chains of routes to be carried out again and again, as in
// the draws of a simulation: a beginning that several chains share is carried
// out once, nothing is written for a reader, and a search for an equilibrium
// begins at the answer that the same place had in the run that the forest was
// learnt from. It is not changed once made, and may be shared.
//
// Stops that the practitioner can lift by reading a caution do not block a chain
// here: whether they bite in a draw says nothing of what the chain gives.
type Forest struct {
	lib    *Library
	root   tree
	chains int
}

// tree is a beginning of chains.
type tree struct {
	file     *File
	ends     []int // the chains that end here, by number
	children []*tree
	starts   []equil.Start // in the order in which equilibria are asked for
}

// Forest plants the chains, and carries each out once at the values of the job
// to learn where searches begin. Errors: ErrUnknownRoute, a cancelled context.
func (lib *Library) Forest(ctx context.Context, job Job, chains [][]string) (*Forest, error) {
	f := &Forest{lib: lib, chains: len(chains)}
	for n, routes := range chains {
		at := &f.root
		for _, id := range routes {
			file, err := lib.Route(id)
			if err != nil {
				return nil, err
			}
			at = at.child(file)
		}
		at.ends = append(at.ends, n)
	}
	return f, f.grow(ctx, job, true, func(int, *Outcome) {})
}

func (t *tree) child(file *File) *tree {
	for _, c := range t.children {
		if c.file.ID == file.ID {
			return c
		}
	}
	c := &tree{file: file}
	t.children = append(t.children, c)
	return c
}

// Simulate carries every chain out at the values of a job and shows each outcome
// by the number of its chain. An outcome has no plan, and holds only until the
// next is shown. Errors: a cancelled context.
func (f *Forest) Simulate(ctx context.Context, job Job, show func(chain int, o *Outcome)) error {
	return f.grow(ctx, job, false, show)
}

func (f *Forest) grow(ctx context.Context, job Job, learn bool, show func(int, *Outcome)) error {
	job.Trace, job.Record = false, false
	full, err := defaults(job)
	if err != nil {
		return err
	}
	for i := range full.orders.acknowledged {
		full.orders.acknowledged[i] = true
	}
	b := stores.Get().(*branch)
	defer stores.Put(b)
	b.ctx, b.job, b.learn, b.show = ctx, full, learn, show
	defer b.mem.Release(b.mem.Mark())
	s := state{slots: []slot{{name: "vessel", stream: b.mem.Adopt(job.Inventory.Vessel)}}, ledger: b.ledger[:0]}
	return b.grow(&f.root, s)
}

// stores keeps branches with the memory that they work in.
var stores = sync.Pool{New: func() any { return &branch{ledger: make([]Entry, 0, usualLedger)} }}

// usualLedger is how many entries the ledger of a long chain has.
const usualLedger = 512

// branch is a forest being carried out.
type branch struct {
	ctx    context.Context
	job    *Job
	learn  bool
	show   func(int, *Outcome)
	mem    substance.Store
	run    run
	steps  [1]StepRecord
	ledger []Entry
}

func (b *branch) grow(t *tree, s state) error {
	if len(t.ends) > 0 {
		b.present(t, s)
	}
	for _, c := range t.children {
		if err := b.ctx.Err(); err != nil {
			return err
		}
		mark := b.mem.Mark()
		if err := b.grow(c, b.carryOn(c, s)); err != nil {
			return err
		}
		b.mem.Release(mark)
	}
	return nil
}

// present shows the outcome of the chains that end here.
func (b *branch) present(t *tree, s state) {
	mark := b.mem.Mark()
	out := finish(s, false)
	b.steps[0] = StepRecord{Entries: s.ledger}
	out.Steps = b.steps[:]
	for _, n := range t.ends {
		b.show(n, &out)
	}
	b.mem.Release(mark)
}

// carryOn carries one more route out, on streams of its own.
func (b *branch) carryOn(t *tree, s state) state {
	r := &b.run
	*r = run{ctx: b.ctx, job: b.job, node: t, learn: b.learn, mem: &b.mem, scratch: r.scratch}
	s.slots = cloneSlots(s.slots)
	r.state = s // its lists grow over what the chain before has left in them
	if t.file.Treatment {
		r.pool()
	}
	if r.out.Blocked == nil {
		r.out.Blocked = r.route(t.file)
	}
	return r.state
}

// settle brings a stream to equilibrium, in a forest from where the search of
// the same place began.
func (r *run) settle(s *substance.Stream) (equil.Outcome, error) {
	sp, ok := r.job.Equilibrium.(*equil.Speciation)
	if r.node == nil || !ok {
		return r.job.Equilibrium.Equilibrate(s)
	}
	n := r.asked
	r.asked++
	if r.learn {
		var found equil.Start
		outcome, err := sp.EquilibrateNear(s, nil, &found)
		r.node.starts = append(r.node.starts, found)
		return outcome, err
	}
	if n >= len(r.node.starts) {
		return sp.EquilibrateNear(s, nil, nil)
	}
	return sp.EquilibrateNear(s, &r.node.starts[n], nil)
}
