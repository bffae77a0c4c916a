package equil

import (
	"fmt"
	"slices"
	"sync"

	"afterpour/chem/substance"
)

// Speciation brings streams to equilibrium with a set of constants.
//
// It takes the stream's dissolved totals and the solids that the set knows,
// solves, and books the answer back: solids as they stand, every metal's
// dissolved complexes under its plain ion, acid as H^+ or OH^-. Of solids, those
// that come down within hours at the bench may form; aged ones take part where
// the stream holds them. Carbon dioxide beyond its solubility leaves as gas.
// What the set does not know stays as it is; of dissolved strangers the charge
// and ionic strength are counted. Each change is a balanced reaction, so
// elements and charge are conserved to rounding.
//
// Every search starts cold, so the answer does not depend on what was asked
// before. A Speciation may be used by several goroutines at once.
type Speciation struct {
	set          *Set
	bench        *bench
	ions, solids uint32 // rows of the bench table that the set knows
	sources      []string
	others       []*Speciation
	liquors      sync.Pool
	askers       sync.Map // selection -> *sync.Pool of *asked
}

// asked is a solver with its ties to the bench table.
type asked struct {
	solver   *Solver
	question Question
	ions     []int // component of the solver -> row of ions, -1 for hydrogen
	solids   []int // solid of the solver -> row of solids
	returns  []int // row of forms -> species of the solver, or -1
}

// NewSpeciation takes a set by its name; see SetNames.
func NewSpeciation(set string) (*Speciation, error) {
	s, err := LoadSet(set)
	if err != nil {
		return nil, err
	}
	b, err := loadBench()
	if err != nil {
		return nil, err
	}
	sp := &Speciation{set: s, bench: b, sources: s.cites()}
	for i, ion := range b.Ions {
		if s.componentIndex(ion.Component) >= 0 {
			sp.ions |= 1 << i
		}
	}
	for k, solid := range b.Solids {
		if s.solidIndex(solid.Name) >= 0 && solid.ions&^sp.ions == 0 {
			sp.solids |= 1 << k
		}
	}
	return sp, nil
}

// WithSpread gives a Speciation that also asks the other sets and reports how
// far they disagree. It takes about four times as long.
func (sp *Speciation) WithSpread() (*Speciation, error) {
	with, err := NewSpeciation(sp.set.Name())
	if err != nil {
		return nil, err
	}
	for _, name := range SetNames() {
		if name == sp.set.Name() {
			continue
		}
		other, err := NewSpeciation(name)
		if err != nil {
			return nil, err
		}
		with.others = append(with.others, other)
	}
	return with, nil
}

// Set is the set of constants in use.
func (sp *Speciation) Set() *Set { return sp.set }

// Equilibrate brings the stream to equilibrium at its temperature. A stream
// without liquid water is left alone. Errors wrap ErrUnsupported or
// ErrNotConverged; the stream is then unchanged.
func (sp *Speciation) Equilibrate(s *substance.Stream) (Outcome, error) {
	outcome := Outcome{Method: sp.set.Name(), Converged: true, PH: 7, Sources: sp.sources}
	if !(s.Mol[sp.bench.water] > 0) {
		outcome.Warnings = []string{"no liquid water: nothing is dissolved and the pH has no meaning"}
		return outcome, nil
	}
	l, _ := sp.liquors.Get().(*liquor)
	if l == nil {
		l = &liquor{}
	}
	defer sp.liquors.Put(l)
	l.lay(sp, s)
	if molality := l.total(sp.bench); !(molality <= mostMolality) {
		return tooConcentrated(s, molality)
	}
	a, err := sp.settle(l, &outcome)
	if err != nil {
		return Outcome{}, err
	}
	defer sp.giveBack(l.selection, a)
	if sp.others != nil {
		outcome.Spread = sp.compare(l, a)
	}
	l.book(sp.bench, a)
	copy(s.Mol, l.mol)
	return outcome, nil
}

// ProblemOf poses the stream as it stands as a problem for 1 kg of its water,
// for curves and for other sets. Dissolved strangers are left out.
func (sp *Speciation) ProblemOf(s substance.Stream) (Problem, error) {
	if !(s.Mol[sp.bench.water] > 0) {
		return Problem{}, fmt.Errorf("equil: no liquid water")
	}
	l := &liquor{}
	l.lay(sp, &s)
	p := Problem{
		TemperatureC: s.Temperature.Celsius(),
		Total:        map[string]float64{}, SolidAdded: map[string]float64{},
	}
	for i, ion := range sp.bench.Ions {
		if l.selection.ions&(1<<i) != 0 {
			p.Total[ion.Component] = max(l.mol[ion.id], 0) / l.water
		}
	}
	for k := range sp.bench.Solids {
		solid := &sp.bench.Solids[k]
		if l.selection.solids&(1<<k) == 0 {
			continue
		}
		p.Allowed = append(p.Allowed, solid.Name)
		if mol := solid.standing(l.mol); mol > 0 {
			p.SolidAdded[solid.Name] = mol / l.water
		}
	}
	return p, nil
}

// mostMolality is the sum of dissolved totals, mol/kg, above which what stands
// there is a wet salt cake and no solution that activity models know of.
const mostMolality = 50.0

// tooConcentrated leaves a wet salt cake to the limiting reactions and says so.
func tooConcentrated(s *substance.Stream, molality float64) (Outcome, error) {
	outcome, err := Limiting{}.Equilibrate(s)
	if err == nil {
		outcome.Warnings = append(outcome.Warnings, fmt.Sprintf(
			"%.3g mol dissolved in a kg of water is beyond any activity model: limiting reactions instead", molality))
	}
	return outcome, err
}

// settle solves and takes down how that went.
func (sp *Speciation) settle(l *liquor, outcome *Outcome) (*asked, error) {
	a, st, err := sp.ask(l)
	if err != nil {
		return nil, err
	}
	outcome.Iterations, outcome.Residual = st.Iterations, st.Residual
	outcome.PH, outcome.IonicStrength = a.solver.PH(), a.solver.IonicStrength()
	outcome.Warnings = append(l.warnings(sp.bench), sp.set.rangeWarnings(a.solver.place())...)
	return a, nil
}

// ask poses a liquor's question to the set.
func (sp *Speciation) ask(l *liquor) (*asked, Status, error) {
	a, err := sp.borrow(l.selection)
	if err != nil {
		return nil, Status{}, err
	}
	st, err := sp.put(l, a)
	if err == nil && !st.Converged {
		err = fmt.Errorf("equil: %s: %w after %d steps, residual %.1e",
			sp.set.Name(), ErrNotConverged, st.Iterations, st.Residual)
	}
	if err != nil {
		sp.giveBack(l.selection, a)
		return nil, st, err
	}
	return a, st, nil
}

// put puts a liquor's question to a solver.
func (sp *Speciation) put(l *liquor, a *asked) (Status, error) {
	if kelvin := float64(l.temperature); kelvin != a.solver.kelvin {
		a.solver.SetTemperature(kelvin)
	}
	a.pose(sp.bench, l)
	a.solver.Reset()
	return a.solver.Solve(a.question)
}

func (a *asked) pose(b *bench, l *liquor) {
	for c, i := range a.ions {
		a.question.Totals[c] = 0
		if i >= 0 {
			a.question.Totals[c] = max(l.mol[b.Ions[i].id], 0) / l.water
		}
	}
	for s, k := range a.solids {
		a.question.Solids[s] = b.Solids[k].standing(l.mol) / l.water
	}
	a.question.Inert = l.inert
}

func (sp *Speciation) borrow(key selection) (*asked, error) {
	pool, ok := sp.askers.Load(key)
	if !ok {
		pool, _ = sp.askers.LoadOrStore(key, &sync.Pool{})
	}
	if a, ok := pool.(*sync.Pool).Get().(*asked); ok {
		return a, nil
	}
	return sp.newAsked(key)
}

func (sp *Speciation) giveBack(key selection, a *asked) {
	if pool, ok := sp.askers.Load(key); ok {
		pool.(*sync.Pool).Put(a)
	}
}

// newAsked makes a solver for a selection. Errors wrap ErrUnsupported.
func (sp *Speciation) newAsked(key selection) (*asked, error) {
	b := sp.bench
	totals := map[string]float64{}
	for i, ion := range b.Ions {
		if key.ions&(1<<i) != 0 {
			totals[ion.Component] = 0
		}
	}
	if err := sp.set.checkGaps(totals); err != nil {
		return nil, err
	}
	var solids []string
	for k, solid := range b.Solids {
		if key.solids&(1<<k) != 0 {
			solids = append(solids, solid.Name)
		}
	}
	solver, err := NewSolver(sp.set, sortedKeys(totals), solids)
	if err != nil {
		return nil, err
	}
	a := &asked{solver: solver}
	a.tie(b)
	return a, nil
}

// tie finds the rows of the bench table behind the solver's components, solids
// and species.
func (a *asked) tie(b *bench) {
	for _, name := range a.solver.Components() {
		a.ions = append(a.ions, slices.IndexFunc(b.Ions, func(i benchIon) bool { return i.Component == name }))
	}
	for _, name := range a.solver.Solids() {
		a.solids = append(a.solids, slices.IndexFunc(b.Solids, func(s benchSolid) bool { return s.Name == name }))
	}
	species := a.solver.Species()
	for _, f := range b.Forms {
		j := -1
		if f.Returns != "" {
			j = slices.Index(species, f.Returns)
		}
		a.returns = append(a.returns, j)
	}
	a.question.Totals = make([]float64, len(a.ions))
	a.question.Solids = make([]float64, len(a.solids))
}

// cites are the works behind a set's rows, without repeats.
func (s *Set) cites() []string {
	var cites []string
	for _, row := range slices.Concat(s.definition.Species, s.definition.Solids) {
		if text := s.definition.Sources[row.Source].Text; text != "" && !slices.Contains(cites, text) {
			cites = append(cites, text)
		}
	}
	return cites
}
