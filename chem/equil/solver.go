package equil

import (
	"fmt"
	"math"
)

// Solver finds equilibria of one selection of components and solids.
//
// It keeps its last answer and starts the next search there; Reset makes the
// next search start cold. After it has been made it allocates nothing, so one
// Solver serves one goroutine.
//
// Unknowns are the natural logarithms of the component activities, the ionic
// strength and the amounts of the solids that stand. Equations are one mass
// balance a component (the charge balance takes the place of one where the pH
// is fixed), the definition of ionic strength and one solubility product a
// solid. They are solved together by Newton's method; where that strays, a
// convex search at held activity coefficients inside a bracketing search for
// the ionic strength finds the way (see interior.go).
type Solver struct {
	set    *Set
	sys    *system
	coeff  coefficients
	kelvin float64

	// What is asked.
	total     []float64 // mol of each component, hydrogen by charge
	base      []float64 // the same before a titrant
	waterBase float64   // mol of water, free and as hydroxide, before a titrant
	inert     Inert
	fixed     bool // the pH is given
	close     int  // component whose total is open where the pH is fixed, else -1
	titrant   float64

	// Where the search stands.
	ln       []float64 // ln activity of each component
	amount   []float64 // mol of each solid
	standing []bool
	ionic    float64
	lnWater  float64 // ln of the activity of water
	water    float64 // kg
	warm     bool
	begin    *Start  // where the next search begins and nowhere else; nil: as it says above
	goal     float64 // balance error of an answer

	// What follows from it.
	molal   []float64
	lnGamma []float64
	slope   []float64

	present uint32
	live    []int32 // species whose components are all there
	few     []int32 // those of them that a search begins with
	pos     []int32 // component -> unknown, or -1
	unknown []int32 // unknown -> component
	order   []int32 // the same from the scarcest
	active  []int32 // solids standing, in the order of their unknowns
	toggles []int8

	scale  []float64
	matrix []float64
	step   []float64
	spare  interiorWork
}

// Inert is what else is dissolved: it takes part in the charge balance, the
// ionic strength and the water activity, and in nothing else.
type Inert struct {
	Mol     float64 // mol of all such species
	Charge  float64 // mol of charge
	Squares float64 // sum of mol times charge squared
}

// Question is one equilibrium asked of a Solver, per kg of water put in.
//
// Totals and Solids run in the order of Components and Solids of the Solver;
// the total of hydrogen is ignored, because H+ or OH- makes up the charge.
type Question struct {
	Totals  []float64 // mol put in as ions (ammonia as the neutral molecule)
	Solids  []float64 // mol of solids put in besides; nil for none
	Inert   Inert
	FixedPH bool    // then PH is reached with NaOH, or with HNO3 where that takes acid
	PH      float64 // -log10 of the hydrogen-ion activity
}

// Status says how a search ended.
type Status struct {
	Converged  bool
	Residual   float64 // largest error of a balance, relative to its terms
	Iterations int     // Newton steps, those of the bracketing search included
	Fallback   bool    // the bracketing search was needed
}

// NewSolver prepares for the given components and solids of a set. Solids that
// cannot form from the components are passed by. Errors wrap ErrUnsupported.
func NewSolver(set *Set, components, solids []string) (*Solver, error) {
	sys, err := newSystem(set, components, solids)
	if err != nil {
		return nil, err
	}
	n, k, m := sys.components(), sys.solids(), len(sys.species)
	dim := n + solidsAt + k
	s := &Solver{
		set: set, sys: sys, close: -1, goal: convergedAt,
		total: make([]float64, n), base: make([]float64, n),
		ln: make([]float64, n), amount: make([]float64, k), standing: make([]bool, k),
		molal: make([]float64, m), lnGamma: make([]float64, len(sys.classes)), slope: make([]float64, len(sys.classes)),
		live: make([]int32, 0, m), pos: make([]int32, n), unknown: make([]int32, 0, n), order: make([]int32, 0, n),
		active: make([]int32, 0, k), toggles: make([]int8, k),
		scale: make([]float64, dim), matrix: make([]float64, dim*(dim+1)), step: make([]float64, dim),
	}
	s.spare = newInteriorWork(n, k)
	s.SetTemperature(roomKelvin)
	return s, nil
}

// SetTemperature works out the constants at a temperature in kelvin.
func (s *Solver) SetTemperature(kelvin float64) {
	s.kelvin = kelvin
	s.coeff = s.set.coefficients(kelvin)
	s.sys.setTemperature(s.set, kelvin)
}

// Reset forgets the last answer, so that the next search starts cold.
func (s *Solver) Reset() { s.warm = false }

// Components are the names of the totals, in order; the first is hydrogen.
func (s *Solver) Components() []string {
	names := make([]string, s.sys.components())
	for i, c := range s.sys.component {
		names[i] = s.set.components[c].name
	}
	return names
}

// Solids are the names of the solids, in order.
func (s *Solver) Solids() []string {
	names := make([]string, s.sys.solids())
	for i, k := range s.sys.solid {
		names[i] = s.set.solids[k].name
	}
	return names
}

// Species are the names of the dissolved species, in the order of Molalities.
func (s *Solver) Species() []string {
	names := make([]string, len(s.sys.species))
	for i, j := range s.sys.species {
		names[i] = s.set.species[j].name
	}
	return names
}

// Solve finds the equilibrium. Where Status.Converged is false the accessors
// give the last iterate, which is not an answer. A question with figures that
// are not finite, or totals below 0, is an error.
func (s *Solver) Solve(q Question) (Status, error) {
	if err := s.pose(q); err != nil {
		return Status{}, err
	}
	if !s.fixed {
		s.bind(-1)
		return s.search(), nil
	}
	return s.titrate()
}

// search runs Newton's method from where the solver stands, and the bracketing
// search where that does not arrive.
func (s *Solver) search() Status {
	if s.begin != nil {
		return s.near()
	}
	st := s.quickSearch()
	if !st.Converged {
		st = s.bracket(st)
	}
	s.warm = st.Converged
	return st
}

// quickSearch runs Newton's method from the last answer and, where that does
// not arrive, from a fresh guess.
func (s *Solver) quickSearch() Status {
	tried := 0
	if s.warm {
		st := s.newton(warmSteps, false)
		if st.Converged {
			return st
		}
		tried = st.Iterations
	}
	s.guess()
	st := s.newton(coldSteps, false)
	st.Iterations += tried
	s.warm = st.Converged
	return st
}

// pose takes the question over: the totals with the solids put in, and the
// hydrogen and water that the charge calls for.
func (s *Solver) pose(q Question) error {
	n := s.sys.components()
	if len(q.Totals) != n || (q.Solids != nil && len(q.Solids) != s.sys.solids()) {
		return fmt.Errorf("equil: the question has %d totals and %d solids, the solver %d and %d",
			len(q.Totals), len(q.Solids), n, s.sys.solids())
	}
	if q.FixedPH && !(math.Abs(q.PH) <= 100) {
		return fmt.Errorf("equil: pH %g is not a pH", q.PH)
	}
	charge := q.Inert.Charge
	for i := 1; i < n; i++ {
		t := q.Totals[i]
		if !(t >= 0 && t <= mostTotal) {
			return fmt.Errorf("equil: %g mol dissolved in 1 kg of water is not between 0 and %g", t, mostTotal)
		}
		s.base[i] = t
		charge += s.sys.charge[i] * t
	}
	if !(math.Abs(charge) <= mostMol) || !(q.Inert.Squares >= 0) || !(q.Inert.Mol >= 0) {
		return fmt.Errorf("equil: what is inert is not a finite amount")
	}
	s.base[0] = -charge
	s.waterBase = 1/waterMolarMass + math.Max(0, charge)
	for k, mol := range q.Solids {
		if !(mol >= 0) || mol > mostMol {
			return fmt.Errorf("equil: %g mol of a solid is not between 0 and %g", mol, mostMol)
		}
		for i, nu := range s.sys.solidRow(k) {
			s.base[i] += nu * mol
		}
		s.waterBase += s.sys.solidWater[k] * mol
	}
	s.inert = q.Inert
	s.fixed = q.FixedPH
	s.titrant = 0
	copy(s.total, s.base)
	if s.fixed {
		s.ln[0] = -q.PH * math.Ln10
	}
	return nil
}

// What may be asked, in mol per kg of water: beyond it there is no solution to
// speak of, and a search could take long.
const (
	mostTotal = 100.0
	mostMol   = 1e5 // of a solid
)

// bind fixes which components are unknown: those that are there, without
// hydrogen where the pH is given. close is the component whose total is open.
func (s *Solver) bind(closing int) {
	s.close = closing
	present := uint32(1)
	for i := 1; i < s.sys.components(); i++ {
		if s.total[i] > 0 || i == closing {
			present |= 1 << i
		}
	}
	if present != s.present {
		s.warm = false
	}
	s.present = present
	s.unknown = s.unknown[:0]
	for i := range s.pos {
		s.pos[i] = -1
		if present&(1<<i) == 0 || (i == 0 && s.fixed) {
			continue
		}
		s.pos[i] = int32(len(s.unknown))
		s.unknown = append(s.unknown, int32(i))
	}
	s.live = s.live[:0]
	for j, mask := range s.sys.mask {
		s.molal[j] = 0
		if mask&^present == 0 {
			s.live = append(s.live, int32(j))
		}
	}
	for k, mask := range s.sys.solidMask {
		if mask&^present != 0 {
			s.standing[k], s.amount[k] = false, 0
		}
	}
	s.listActive()
}

func (s *Solver) listActive() {
	s.active = s.active[:0]
	for k, on := range s.standing {
		if on {
			s.active = append(s.active, int32(k))
		}
	}
}

// possible reports whether a solid's components are all there.
func (s *Solver) possible(k int) bool { return s.sys.solidMask[k]&^s.present == 0 }

// lnSaturation is the natural logarithm of the ion product over the constant.
func (s *Solver) lnSaturation(k int) float64 {
	sum := s.sys.solidWater[k]*s.lnWater - s.sys.solidLnK[k]
	for i, nu := range s.sys.solidRow(k) {
		if nu != 0 {
			sum += nu * s.ln[i]
		}
	}
	return sum
}
