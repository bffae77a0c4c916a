package econ

import (
	"context"
	"slices"
	"sync"

	"afterpour/chem/input"
)

// priceDraws keeps the draws of a lot in money, for one price book: the net of
// every plan in every draw. The physical draws may be shared with other books.
type priceDraws struct {
	mu    sync.Mutex
	bills []*bill       // by chain, for its layout as it stands
	open  [][]bool      // by chain, ending: it can be priced at the central values
	nets  [][][]float64 // by chain, ending, draw; none of a plan that is blocked
	fails [][][]bool    // likewise: it could not be carried out or sold as planned
}

func newPriceDraws(s *study) *priceDraws {
	n := len(s.chains)
	p := &priceDraws{bills: make([]*bill, n), open: make([][]bool, n), nets: make([][][]float64, n), fails: make([][][]bool, n)}
	for i, c := range s.chains {
		p.open[i] = make([]bool, len(c.ends))
		p.nets[i] = make([][]float64, len(c.ends))
		p.fails[i] = make([][]bool, len(c.ends))
	}
	return p
}

// base is the ending of the untouched lot that gains are counted from.
type base struct {
	chain, end int
	none       bool
}

// reckon prices those draws of the chains that are not priced yet, up to the
// draw most.
func (s *study) reckon(ctx context.Context, chains []int, zero base, most int) error {
	p := s.prices
	p.mu.Lock()
	defer p.mu.Unlock()
	if !zero.none && !slices.Contains(chains, zero.chain) {
		chains = append([]int{zero.chain}, chains...)
	}
	for nth, sp := range s.draws.list() {
		if sp.end() > most {
			break
		}
		var todo []int
		for _, c := range chains {
			if have, _ := s.draws.has(c); have > nth && p.count(c) == sp.from {
				todo = append(todo, c)
			}
		}
		if err := s.reckonSpan(ctx, nth, sp, todo, zero); err != nil {
			return err
		}
	}
	return nil
}

// count is how many draws of a chain are priced; −1 if none of its endings can be.
func (p *priceDraws) count(chain int) int {
	for e, open := range p.open[chain] {
		if open {
			return len(p.nets[chain][e])
		}
	}
	return -1
}

// reckonSpan prices one batch of some chains; on an error none of it is kept.
func (s *study) reckonSpan(ctx context.Context, nth int, sp batch, todo []int, zero base) error {
	if len(todo) == 0 {
		return nil
	}
	p := s.prices
	for _, c := range todo {
		p.bills[c] = s.billOf(c, p.bills[c])
		p.resize(c, sp.end())
	}
	chunks := s.draws.chunksOf(nth, todo)
	err := inParallel(ctx, sp.n, func() func(int) error {
		w := &reckoner{study: s, chunks: chunks, batch: sp, todo: todo, zero: zero}
		w.v = make(input.Values, len(s.central))
		return w.price
	})
	if err != nil {
		for _, c := range todo {
			p.resize(c, sp.from)
		}
	}
	return err
}

// billOf returns the bill of a chain for its layout as it stands, the one at hand
// where that still fits.
func (s *study) billOf(chain int, have *bill) *bill {
	if have == nil {
		have = s.chains[chain].bill
	}
	if s.draws.columns[chain].size() == have.layout.size {
		return have
	}
	return s.req.Book.bill(s.draws.columns[chain].settled())
}

func (p *priceDraws) resize(chain, n int) {
	for e, open := range p.open[chain] {
		if open {
			p.nets[chain][e] = resized(p.nets[chain][e], n)
			p.fails[chain][e] = resized(p.fails[chain][e], n)
		}
	}
}

func resized[T any](list []T, n int) []T {
	return slices.Grow(list, max(0, n-len(list)))[:n]
}

// reckoner is one thread's share of the pricing of a batch.
type reckoner struct {
	study *study
	batch
	todo   []int
	chunks []chunk // by place in todo
	zero   base
	v      input.Values
	row    []float64
	cost   pricing
}

// price prices the ith draw of the batch in every chain.
//
// A draw in which a plan cannot be carried to its end counts as it would turn
// out: what it took until then is spent, and the lot goes the way of the
// baseline. What nobody takes brings nothing.
func (w *reckoner) price(i int) error {
	s, p := w.study, w.study.prices
	d := w.from + i
	s.priced.fill(w.v, d)
	w.cost.v = w.v
	for k, c := range w.todo {
		n := p.bills[c]
		w.row = resized(w.row, n.layout.size)
		w.chunks[k].row(i, w.row)
		w.cost.bill, w.cost.row, w.cost.sums, w.cost.short = n, w.row, sums{}, false
		w.cost.chain()
		worked, short := w.cost.sums, w.cost.short
		for e, open := range p.open[c] {
			if open {
				w.cost.sums, w.cost.short = worked, short
				p.nets[c][e][d], p.fails[c][e][d] = w.end(s.chains[c].ends[e].Plan.Ending, d)
			}
		}
	}
	return nil
}

// end prices an ending of the chain in hand, and tells whether it failed.
func (w *reckoner) end(ending string, d int) (net float64, failed bool) {
	stuck := w.row[atStuck] > 0
	if !stuck {
		w.cost.ending(ending)
	}
	m, _ := w.cost.sums.net()
	if stuck && !w.zero.none {
		m += Money(w.study.prices.nets[w.zero.chain][w.zero.end][d])
	}
	return m.Float(), stuck || w.cost.short
}
