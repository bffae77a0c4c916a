package econ

import (
	"slices"
	"strings"
	"sync"

	"afterpour/chem/lot"
	"afterpour/chem/route"
	"afterpour/chem/substance"
)

// physics keeps what every draw of a lot gave, before any price: for each chain
// of routes its quantities, and for the lot what an assay could tell. It is
// shared by all appraisals of the lot on the same bench, so that another price
// book is reckoned on the draws that there are.
//
// Draws come in spans; a chain has those from the first on, up to where it was
// set aside. A batch is not changed once it is there.
type physics struct {
	turn    chan struct{} // held by whoever makes draws
	watched []string
	metals  []string // symbols

	mu      sync.RWMutex // guards what follows
	spans   []batch
	columns []*columns // by chain
	facts   []facts    // by batch
}

// batch is a run of draws: n of them, the first being number from.
type batch struct{ from, n int }

func (s batch) end() int { return s.from + s.n }

// columns holds one chain's quantities, place by place.
type columns struct {
	mu      sync.Mutex
	central *layout
	layout  *layout
	chunks  []chunk // by batch
}

// chunk holds one batch of a chain: by place, by draw; nil where all are 0.
// Seven digits are plenty: no quantity is known to more than three.
type chunk [][]float32

// facts is what could be measured of a lot, draw by draw.
type facts struct {
	contained [][]float32 // kg by metal
	acid      []float32   // mol of free acid
	litres    []float32
	solids    []float32 // kg, dry
}

func newPhysics(s *study) *physics {
	p := &physics{turn: make(chan struct{}, 1), watched: s.req.Book.watched()}
	for _, m := range s.report.Metals {
		p.metals = append(p.metals, m.Metal)
	}
	for _, c := range s.chains {
		p.columns = append(p.columns, &columns{central: c.account.layout, layout: c.account.layout.copied()})
	}
	return p
}

// copied returns a layout that can grow without the other.
func (l *layout) copied() *layout {
	c := &layout{
		reagents: slices.Clone(l.reagents), pieces: slices.Clone(l.pieces),
		products: slices.Clone(l.products), waste: slices.Clone(l.waste), size: l.size,
	}
	for i := range c.products {
		c.products[i].shares = slices.Clone(c.products[i].shares)
	}
	for i := range c.waste {
		c.waste[i].shares = slices.Clone(c.waste[i].shares)
	}
	return c
}

// settled returns the layout as it stands, with all that came to it after the
// central run in an order of its own: which draw needed a place first must not
// decide in which order amounts are added.
func (c *columns) settled() *layout {
	c.mu.Lock()
	defer c.mu.Unlock()
	l, central := c.layout.copied(), c.central
	slices.SortFunc(l.reagents[len(central.reagents):], func(a, b reagentPlace) int { return strings.Compare(a.id, b.id) })
	slices.SortFunc(l.pieces[len(central.pieces):], func(a, b piecePlace) int { return strings.Compare(a.id, b.id) })
	slices.SortFunc(l.products[len(central.products):], func(a, b productPlace) int { return a.key.compare(b.key) })
	slices.SortFunc(l.waste[len(central.waste):], func(a, b wastePlace) int { return strings.Compare(a.class, b.class) })
	for i := range l.products {
		sortShares(l.products[i].shares)
	}
	for i := range l.waste {
		sortShares(l.waste[i].shares)
	}
	return l
}

// size is how many places the layout has as it stands.
func (c *columns) size() int {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.layout.size
}

func sortShares(list []sharePlace) {
	slices.SortFunc(list, func(a, b sharePlace) int { return strings.Compare(a.element, b.element) })
}

func (k productKey) compare(o productKey) int {
	for _, pair := range [][2]string{{k.route, o.route}, {k.form, o.form}, {k.sale, o.sale}, {k.metal, o.metal}, {k.compound, o.compound}} {
		if order := strings.Compare(pair[0], pair[1]); order != 0 {
			return order
		}
	}
	return k.nth - o.nth
}

// harvest is a batch of draws being made, for the chains that lack it.
type harvest struct {
	nth int
	batch
	chains []int
	chunks []chunk // by place in chains
	facts  facts
}

// prepare makes ready for the nth batch for those of the chains that have all
// before it and not itself.
func (p *physics) prepare(nth int, sp batch, chains []int) *harvest {
	p.mu.RLock()
	defer p.mu.RUnlock()
	h := &harvest{nth: nth, batch: sp, facts: newFacts(len(p.metals), sp.n)}
	for _, c := range chains {
		if len(p.columns[c].chunks) == nth {
			h.chains = append(h.chains, c)
		}
	}
	h.chunks = make([]chunk, len(h.chains))
	return h
}

// keep adds a harvest that is complete.
func (p *physics) keep(h *harvest) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if h.nth == len(p.spans) {
		p.spans = append(p.spans, h.batch)
		p.facts = append(p.facts, h.facts)
	}
	for k, c := range h.chains {
		p.columns[c].chunks = append(p.columns[c].chunks, h.chunks[k])
	}
}

// put enters what the ith draw of the batch gave its kth chain. a is scratch.
func (p *physics) put(h *harvest, k, i int, o *route.Outcome, a *account) {
	c := p.columns[h.chains[k]]
	c.mu.Lock()
	defer c.mu.Unlock()
	a.layout = c.layout
	a.enter(o, p.watched)
	into := h.chunks[k]
	for len(into) < c.layout.size {
		into = append(into, nil)
	}
	for place, amount := range a.row[:c.layout.size] {
		if amount == 0 {
			continue
		}
		if into[place] == nil {
			into[place] = make([]float32, h.n)
		}
		into[place][i] = float32(amount)
	}
	h.chunks[k] = into
}

// row sets a row to the quantities of the ith draw of a chunk.
func (k chunk) row(i int, row []float64) {
	clear(row)
	for place, column := range k {
		if column != nil {
			row[place] = float64(column[i])
		}
	}
}

// has returns how many spans a chain has, and how many draws those are.
func (p *physics) has(chain int) (spans, draws int) {
	p.mu.RLock()
	defer p.mu.RUnlock()
	if spans = len(p.columns[chain].chunks); spans > 0 {
		draws = p.spans[spans-1].end()
	}
	return spans, draws
}

// batch returns the nth batch, which begins with draw at: the one that there is,
// else one to the end of the first look, of a block, or to draw most.
func (p *physics) batch(nth, at, most int) batch {
	p.mu.RLock()
	defer p.mu.RUnlock()
	if nth < len(p.spans) {
		return p.spans[nth]
	}
	end := at - at%block + block
	if at < firstLook {
		end = firstLook
	}
	return batch{from: at, n: min(end, most) - at}
}

// chunksOf returns the nth batch of some chains.
func (p *physics) chunksOf(nth int, chains []int) []chunk {
	p.mu.RLock()
	defer p.mu.RUnlock()
	list := make([]chunk, len(chains))
	for k, c := range chains {
		list[k] = p.columns[c].chunks[nth]
	}
	return list
}

// list returns the spans that there are.
func (p *physics) list() []batch {
	p.mu.RLock()
	defer p.mu.RUnlock()
	return slices.Clone(p.spans)
}

// most is how many draws the chains drawn most have.
func (p *physics) most() int {
	p.mu.RLock()
	defer p.mu.RUnlock()
	if len(p.spans) == 0 {
		return 0
	}
	return p.spans[len(p.spans)-1].end()
}

func newFacts(metals, n int) facts {
	f := facts{acid: make([]float32, n), litres: make([]float32, n), solids: make([]float32, n)}
	for range metals {
		f.contained = append(f.contained, make([]float32, n))
	}
	return f
}

// put notes what an inventory holds.
func (f *facts) put(i int, metals []string, inv *lot.Inventory) {
	for k, symbol := range metals {
		f.contained[k][i] = float32(inv.Vessel.ElementMass(symbol))
	}
	f.acid[i], f.litres[i] = float32(inv.FreeAcid), float32(inv.Volume)
	f.solids[i] = float32(inv.Vessel.MassOf(substance.Undissolved))
}

// metal is the place of a metal among those whose content is kept, −1 for none.
func (p *physics) metal(symbol string) int { return slices.Index(p.metals, symbol) }

// fact lists one fact of the lot in the first n draws; fewer if there are fewer.
func (p *physics) fact(n int, of func(f *facts) []float32) []float64 {
	p.mu.RLock()
	defer p.mu.RUnlock()
	list := make([]float64, 0, n)
	for i := range p.facts {
		for _, x := range of(&p.facts[i]) {
			if len(list) < n {
				list = append(list, float64(x))
			}
		}
	}
	return list
}

// metalOut lists how much of a metal the products of a chain hold, in kg, in the
// first n draws.
func (p *physics) metalOut(chain, n int, symbol string) []float64 {
	l := p.columns[chain].settled()
	p.mu.RLock()
	defer p.mu.RUnlock()
	var list []float64
	row := make([]float64, l.size)
	for nth, k := range p.columns[chain].chunks {
		for i := range p.spans[nth].n {
			if len(list) == n {
				return list
			}
			k.row(i, row)
			sum := 0.0
			for _, product := range l.products {
				if product.key.metal == symbol {
					sum += row[product.metal]
				}
			}
			list = append(list, sum)
		}
	}
	return list
}
