package equil

import "math"

// At held activity coefficients, water activity and mass of water the
// equilibrium is the lowest point of a convex function of the ln activities y,
//
//	W sum_j m_j(y) - sum_c T_c y_c,   m_j = exp(ln K_j + sum_c nu_jc y_c - ln g_j),
//
// with one straight bound a solid, ln(ion product) <= ln K, whose multiplier is
// the amount of the solid. An interior-point method finds that point from
// anywhere. Around it, the ionic strength is the root of "what the answer has"
// less "what the coefficients were taken at", which changes sign between
// nothing and very much, so bisection finds it.

// interiorWork is what the convex search works in.
type interiorWork struct {
	amount, slack    []float64 // one a solid: mol, and ln distance below saturation
	most             []float64 // mol that a solid could at most amount to
	matrix           []float64
	rhs, scale, step []float64
	start            []float64
	free             []int32 // components that are moved
	at               []int32 // component -> place in free, or -1
	solids           []int32 // solids that can form
}

func newInteriorWork(components, solids int) interiorWork {
	return interiorWork{
		amount: make([]float64, solids), slack: make([]float64, solids), most: make([]float64, solids),
		matrix: make([]float64, components*(components+1)),
		rhs:    make([]float64, components), scale: make([]float64, components),
		step: make([]float64, components), start: make([]float64, components),
		free: make([]int32, 0, components), at: make([]int32, components), solids: make([]int32, 0, solids),
	}
}

const (
	bracketRounds  = 60
	interiorRounds = 300
	chargeRounds   = 60
	waterRounds    = 6
	lastBarrier    = 1e-8
	mostSteps      = 40000 // after which a bracketing search gives up: a fraction of a second
)

// bracket narrows the range of the ionic strength, by false position with
// halving, until Newton's method arrives from there. The steps are added to st.
func (s *Solver) bracket(st Status) Status {
	st.Fallback = true
	low, high := math.Log(1e-9), math.Log(1e4)
	lowAt, highAt := 1.0, -1.0
	for round := range bracketRounds {
		middle := (low + high) / 2
		if round%3 == 2 {
			middle = low + (high-low)*lowAt/(lowAt-highAt)
		}
		has, steps := s.atIonicStrength(math.Exp(middle))
		st.Iterations += steps
		if over := math.Log(math.Max(has, 1e-12)) - middle; over > 0 {
			low, lowAt = middle, over
		} else {
			high, highAt = middle, over
		}
		if st.Iterations > mostSteps {
			return st
		}
		if round < 4 {
			continue
		}
		polished := s.newton(2*coldSteps, round%2 == 0)
		st.Iterations += polished.Iterations
		st.Residual, st.Converged = polished.Residual, polished.Converged
		if st.Converged || high-low < 1e-13 {
			return st
		}
	}
	return st
}

// atIonicStrength solves with the activity coefficients of one ionic strength
// and gives the ionic strength that the answer has.
func (s *Solver) atIonicStrength(ionic float64) (has float64, steps int) {
	s.guessAt(ionic)
	s.listFree()
	for range waterRounds {
		if s.close < 0 {
			steps += s.interior()
		} else {
			steps += s.openComponent()
		}
		if s.renewInteriorWater() {
			break
		}
	}
	s.takeOver()
	return s.sumSpecies().ionic + s.inert.Squares/(2*s.water), steps
}

func (s *Solver) listFree() {
	w := &s.spare
	w.free = w.free[:0]
	for c := range w.at {
		w.at[c] = -1
		if s.pos[c] >= 0 && c != s.close {
			w.at[c] = int32(len(w.free))
			w.free = append(w.free, int32(c))
		}
	}
	w.solids = w.solids[:0]
	for k := range s.standing {
		if s.possible(k) {
			w.solids = append(w.solids, int32(k))
		}
	}
}

// renewInteriorWater brings the water activity and the mass of water up to date
// and reports whether they have settled.
func (s *Solver) renewInteriorWater() bool {
	sums := s.sumSpecies()
	before, mass := s.lnWater, s.water
	s.lnWater, _ = s.coeff.lnWater(sums.molality + s.inert.Mol/s.water)
	free := s.waterBase
	if s.close >= 0 && s.sys.charge[s.close] > 0 {
		free += s.Dissolved(s.close) - s.base[s.close]
	}
	for _, k := range s.spare.solids {
		free -= s.sys.solidWater[k] * s.spare.amount[k]
	}
	s.water = math.Max(free, 1) / (1/waterMolarMass + math.Max(sums.bound, -20))
	return math.Abs(s.lnWater-before) < 1e-7 && math.Abs(s.water-mass) < 1e-7*mass
}

// openComponent finds the activity of the open component at which the charges
// balance. More of a cation always leaves more positive charge, so a change of
// sign is closed in on (by the rule of false position, halving a stale end).
func (s *Solver) openComponent() (steps int) {
	sign := 1.0
	if s.sys.charge[s.close] < 0 {
		sign = -1
	}
	excess := func(y float64) float64 {
		s.ln[s.close] = y
		steps += s.interior()
		sums := s.sumSpecies()
		inert := s.inert.Charge / s.water
		return sign * (sums.charge + inert) / (sums.absolute + math.Abs(inert) + 1e-300)
	}
	low, high := s.ln[s.close], s.ln[s.close]
	at := excess(low)
	lowAt, highAt := at, at
	for width := 1.0; lowAt > 0 && low > -100; width *= 2 {
		high, highAt = low, lowAt
		low -= width
		lowAt = excess(low)
	}
	for width := 1.0; highAt < 0 && high < 40; width *= 2 {
		low, lowAt = high, highAt
		high += width
		highAt = excess(high)
	}
	side := 0
	for range chargeRounds {
		if high-low < 1e-10 {
			break
		}
		y := low + (high-low)*lowAt/(lowAt-highAt)
		if !(y > low && y < high) {
			y = (low + high) / 2
		}
		at := excess(y)
		switch {
		case math.Abs(at) < 1e-10:
			return steps
		case at < 0:
			low, lowAt = y, at
			if side < 0 {
				highAt /= 2
			}
			side = -1
		default:
			high, highAt = y, at
			if side > 0 {
				lowAt /= 2
			}
			side = 1
		}
	}
	return steps
}

// takeOver makes those solids stand that the convex search left at saturation.
func (s *Solver) takeOver() {
	clear(s.standing)
	clear(s.amount)
	for _, k := range s.spare.solids {
		if s.spare.slack[k] < 1e-4 && s.spare.amount[k] > 0 {
			s.takeUp(int(k))
			s.amount[k] += s.spare.amount[k]
		}
	}
	s.listActive()
}

// sumSpecies works out every molality and their sums at the present activities.
func (s *Solver) sumSpecies() speciesSums {
	sys := s.sys
	var sums speciesSums
	for _, j := range s.live {
		l := sys.lnK[j] + sys.water[j]*s.lnWater - s.lnGamma[sys.class[j]]
		for k := sys.off[j]; k < sys.off[j+1]; k++ {
			l += sys.nu[k] * s.ln[sys.idx[k]]
		}
		m := math.Exp(min(l, highestLn))
		s.molal[j] = m
		sums.molality += m
		sums.ionic += sys.half[j] * m
		sums.bound += sys.water[j] * m
		sums.charge += sys.z[j] * m
		sums.absolute += math.Abs(sys.z[j] * m)
	}
	return sums
}

// interior finds the lowest point at the present coefficients, water activity
// and mass of water. It starts with every solid below saturation, keeps it so,
// and lets the barrier that does this fade step by step. The barrier of a solid
// is in proportion to what the solid could at most amount to, so that it fades
// alike for traces and for masses.
func (s *Solver) interior() (steps int) {
	w := &s.spare
	smallest := s.smallestTotal()
	s.stepInside()
	barrier := 0.1
	for _, k := range w.solids {
		w.most[k] = s.mostOf(int(k))
		w.slack[k] = math.Max(-s.lnSaturation(int(k)), 1e-300)
		w.amount[k] = barrier * w.most[k] / w.slack[k]
	}
	for steps < interiorRounds {
		worst := s.interiorSystem(barrier, smallest)
		if worst < math.Max(1e-6, 0.1*barrier) {
			if barrier <= lastBarrier || len(w.solids) == 0 && worst < 1e-9 {
				break
			}
			barrier = math.Max(barrier*0.05, lastBarrier)
			continue
		}
		steps++
		if !s.interiorStep(barrier, smallest) {
			break
		}
	}
	for _, k := range w.solids {
		w.amount[k] = barrier * w.most[k] / w.slack[k]
	}
	return steps
}

// smallestTotal is the smallest total there is, at most 1 mol.
func (s *Solver) smallestTotal() float64 {
	smallest := 1.0
	for _, c := range s.spare.free {
		if t := math.Abs(s.total[c]); t > 0 {
			smallest = min(smallest, t)
		}
	}
	return smallest
}

// mostOf is what a solid could at most amount to, mol.
func (s *Solver) mostOf(k int) float64 {
	most := math.Inf(1)
	for c, nu := range s.sys.solidRow(k) {
		if c != 0 && nu > 0 && s.pos[c] >= 0 && c != s.close {
			most = min(most, s.total[c]/nu)
		}
	}
	if math.IsInf(most, 1) {
		return 1
	}
	return most
}

// stepInside lowers the activities of whatever makes solids until all of them
// are below saturation. No solid holds less than nothing of any component but
// hydrogen, so that always succeeds.
func (s *Solver) stepInside() {
	for _, k := range s.spare.solids {
		over := s.lnSaturation(int(k)) + 1
		if over <= 0 {
			continue
		}
		sum := 0.0
		row := s.sys.solidRow(int(k))
		for _, c := range s.spare.free {
			if c != 0 && row[c] > 0 {
				sum += row[c]
			}
		}
		for _, c := range s.spare.free {
			if c != 0 && row[c] > 0 {
				s.ln[c] -= over / sum
			}
		}
	}
}

// interiorSystem fills the balances and their slopes and gives the worst
// balance, a solid's amount being what the barrier makes it.
func (s *Solver) interiorSystem(barrier, smallest float64) (worst float64) {
	w := &s.spare
	n := len(w.free)
	width := n + 1
	clear(w.matrix[:n*width])
	s.sumSpecies()
	for a, c := range w.free {
		w.rhs[a] = s.total[c]
		w.scale[a] = smallest * 1e-6
	}
	for _, j := range s.live {
		s.addInterior(j, width)
	}
	for _, k := range w.solids {
		held := barrier * w.most[k] / w.slack[k]
		for a, c := range w.free {
			if nu := s.sys.solidRow(int(k))[c]; nu != 0 {
				w.rhs[a] -= nu * held
				w.scale[a] += math.Abs(nu * held)
			}
		}
	}
	for a := range n {
		worst = math.Max(worst, math.Abs(w.rhs[a])/w.scale[a])
	}
	return worst
}

func (s *Solver) addInterior(j int32, width int) {
	sys, w := s.sys, &s.spare
	mol := s.molal[j] * s.water
	for k := sys.off[j]; k < sys.off[j+1]; k++ {
		a := w.at[sys.idx[k]]
		if a < 0 {
			continue
		}
		v := sys.nu[k] * mol
		w.rhs[a] -= v
		w.scale[a] += math.Abs(v)
		row := w.matrix[int(a)*width : int(a)*width+width]
		for i := sys.off[j]; i < sys.off[j+1]; i++ {
			if b := w.at[sys.idx[i]]; b >= 0 {
				row[b] += v * sys.nu[i]
			}
		}
	}
}

// interiorStep moves along the primal-dual direction as far as lowers the
// function with its barrier.
func (s *Solver) interiorStep(barrier, smallest float64) bool {
	w := &s.spare
	n := len(w.free)
	width := n + 1
	for _, k := range w.solids {
		weight := w.amount[k] / w.slack[k]
		row := s.sys.solidRow(int(k))
		for a, c := range w.free {
			if row[c] == 0 {
				continue
			}
			for b, d := range w.free {
				w.matrix[a*width+b] += weight * row[c] * row[d]
			}
		}
	}
	for a := range n {
		w.matrix[a*width+a] += 1e-12 * smallest
		w.matrix[a*width+n] = w.rhs[a]
	}
	if !solveLinear(w.matrix[:n*width], n) {
		return false
	}
	descent := 0.0
	for a := range n {
		d := w.matrix[a*width+n]
		if d != d || math.IsInf(d, 0) {
			return false
		}
		descent += d * w.rhs[a]
		w.step[a] = d
	}
	s.lineSearch(barrier, descent)
	return true
}

// height is the convex function with its barrier, in mol.
func (s *Solver) height(barrier float64) float64 {
	w := &s.spare
	sum := s.sumSpecies().molality * s.water
	for _, c := range w.free {
		sum -= s.total[c] * s.ln[c]
	}
	for _, k := range w.solids {
		slack := -s.lnSaturation(int(k))
		if !(slack > 0) {
			return math.Inf(1)
		}
		sum -= barrier * w.most[k] * math.Log(slack)
	}
	return sum
}

func (s *Solver) lineSearch(barrier, descent float64) {
	w := &s.spare
	share := s.longestStep()
	before := s.height(barrier)
	noise := 1e-13 * (1 + math.Abs(before))
	copy(w.start, s.ln)
	for range 40 {
		for a, c := range w.free {
			s.ln[c] = w.start[c] + share*w.step[a]
		}
		if after := s.height(barrier); after <= before-1e-4*share*descent+noise {
			break
		}
		share /= 2
	}
	for _, k := range w.solids {
		old := w.slack[k]
		now := math.Max(-s.lnSaturation(int(k)), 1e-300)
		// Along the step the product of amount and distance aims at the barrier.
		aim := barrier * w.most[k]
		next := w.amount[k] + share*((aim-w.amount[k]*now)/old)
		centre := aim / now
		w.amount[k] = min(max(next, centre*1e-8), centre*1e8)
		w.slack[k] = now
	}
}

// longestStep keeps every solid below saturation and no species rising beyond
// reason.
func (s *Solver) longestStep() float64 {
	sys, w := s.sys, &s.spare
	share, most := 1.0, 1.0
	for _, c := range w.free {
		most += math.Abs(s.total[c])
	}
	ceiling := math.Log(10 * most)
	for _, j := range s.live {
		rise := 0.0
		for k := sys.off[j]; k < sys.off[j+1]; k++ {
			if a := w.at[sys.idx[k]]; a >= 0 {
				rise += sys.nu[k] * w.step[a]
			}
		}
		if rise > 2 {
			allowed := math.Max(2, ceiling-math.Log(math.Max(s.molal[j], 1e-300)))
			share = min(share, allowed/rise)
		}
	}
	for _, k := range w.solids {
		rise := 0.0
		row := s.sys.solidRow(int(k))
		for a, c := range w.free {
			rise += row[c] * w.step[a]
		}
		if rise > 0 {
			share = min(share, 0.95*w.slack[k]/rise)
		}
	}
	return share
}
