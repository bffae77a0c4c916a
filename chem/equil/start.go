package equil

import (
	"math"
	"slices"

	"afterpour/chem/substance"
)

// Start is where a search may begin: the answer to a question much like the one
// to be asked. The zero Start is none.
type Start struct {
	selection              selection
	ln, amount             []float64
	standing               []bool
	ionic, lnWater, waterK float64
	few, rest              []int32 // species that matter to some balance, and those that do not
}

// nearEnough is the largest balance error, relative to the terms balanced, of
// an answer that a simulation goes on with: a millionth of what any figure of a
// lot is known to.
const nearEnough = 1e-8

// A species is left out of a search where it makes up less than hardly of every
// balance that it is in, at the answer that the search begins at; where it is
// more than little at the answer found, the search goes on with all species.
const (
	hardly = 1e-9
	little = 1e-7
)

// EquilibrateNear is Equilibrate for one who asks much the same very often, as
// the draws of a simulation do. The search begins at from, where that is for
// the same components and solids, and cold where it is not or leads nowhere; it
// ends at nearEnough, and the outcome has no warnings and no sources. The answer
// goes into keep, if that is not nil, to begin other searches at. It hangs on
// the question and on from alone.
func (sp *Speciation) EquilibrateNear(s *substance.Stream, from, keep *Start) (Outcome, error) {
	outcome := Outcome{Method: sp.set.Name(), Converged: true, PH: 7}
	if !(s.Mol[sp.bench.water] > 0) {
		return outcome, nil
	}
	l, _ := sp.liquors.Get().(*liquor)
	if l == nil {
		l = &liquor{}
	}
	defer sp.liquors.Put(l)
	l.lay(sp, s)
	if molality := l.total(sp.bench); !(molality <= mostMolality) {
		return Limiting{}.Equilibrate(s)
	}
	a, st, err := sp.askNear(l, from)
	if err != nil {
		return Outcome{}, err
	}
	defer sp.giveBack(l.selection, a)
	outcome.Iterations, outcome.Residual = st.Iterations, st.Residual
	outcome.PH, outcome.IonicStrength = a.solver.PH(), a.solver.IonicStrength()
	if keep != nil {
		a.solver.keep(l.selection, keep)
	}
	l.book(sp.bench, a)
	copy(s.Mol, l.mol)
	return outcome, nil
}

// askNear poses a liquor's question with a place to begin at.
func (sp *Speciation) askNear(l *liquor, from *Start) (*asked, Status, error) {
	if from != nil && from.selection == l.selection && from.ln != nil {
		a, err := sp.borrow(l.selection)
		if err != nil {
			return nil, Status{}, err
		}
		a.solver.begin, a.solver.goal = from, nearEnough
		st, err := sp.put(l, a)
		a.solver.begin, a.solver.goal = nil, convergedAt
		if err == nil && st.Converged {
			return a, st, nil
		}
		sp.giveBack(l.selection, a)
	}
	return sp.ask(l)
}

// near searches from the place to begin at, first with the species that matter
// there.
func (s *Solver) near() Status {
	s.load(s.begin)
	all := s.live
	s.live = s.few[:0]
	for _, j := range s.begin.few {
		if s.sys.mask[j]&^s.present == 0 {
			s.live = append(s.live, j)
		}
	}
	s.few = s.live
	st := s.newton(warmSteps, false)
	s.live = all
	if st.Converged && s.complete() {
		return st
	}
	tried := st.Iterations
	st = s.newton(warmSteps, false)
	st.Iterations += tried
	return st
}

// complete works out the molalities of the species that were left out, and
// reports that none is more than little of a balance.
func (s *Solver) complete() bool {
	for _, j := range s.begin.rest {
		if s.sys.mask[j]&^s.present != 0 {
			continue
		}
		s.molal[j] = s.molality(j)
		if s.counts(j, little) {
			return false
		}
	}
	return true
}

// molality works out one species at the present activities, in mol/kg.
func (s *Solver) molality(j int32) float64 {
	sys := s.sys
	l := sys.lnK[j] + sys.water[j]*s.lnWater - s.lnGamma[sys.class[j]]
	for k := sys.off[j]; k < sys.off[j+1]; k++ {
		l += sys.nu[k] * s.ln[sys.idx[k]]
	}
	return math.Exp(min(l, highestLn))
}

// counts reports that a species makes up more than a share of some balance, as
// the balances were last put together.
func (s *Solver) counts(j int32, share float64) bool {
	m := s.molal[j]
	if !(s.sys.half[j]*m <= share*max(s.ionic, 1e-9)) {
		return true
	}
	for k := s.sys.off[j]; k < s.sys.off[j+1]; k++ {
		if a := s.pos[s.sys.idx[k]]; a >= 0 && !(math.Abs(s.sys.nu[k])*m*s.water <= share*s.scale[a]) {
			return true
		}
	}
	return false
}

// load puts the solver where a search is to begin.
func (s *Solver) load(from *Start) {
	copy(s.ln, from.ln)
	s.ionic, s.lnWater, s.water = from.ionic, from.lnWater, from.waterK
	for k := range s.standing {
		s.standing[k], s.amount[k] = false, 0
		if from.standing[k] && s.possible(k) {
			s.standing[k], s.amount[k] = true, from.amount[k]
		}
	}
	s.listActive()
}

// keep notes where the solver stands.
func (s *Solver) keep(key selection, into *Start) {
	*into = Start{
		selection: key, ln: slices.Clone(s.ln), amount: slices.Clone(s.amount), standing: slices.Clone(s.standing),
		ionic: s.ionic, lnWater: s.lnWater, waterK: s.water,
	}
	for _, j := range s.live {
		if s.counts(j, hardly) {
			into.few = append(into.few, j)
		} else {
			into.rest = append(into.rest, j)
		}
	}
}
