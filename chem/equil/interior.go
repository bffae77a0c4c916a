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
	held, given, weight []float64 // one a component, for the first guess as well
	amount, slack, over []float64 // one a solid
	matrix              []float64
	rhs, scale          []float64
	free                []int32 // components that are moved
	at                  []int32 // component -> place in free, or -1
	solids              []int32 // solids that can form
}

func newInteriorWork(components, solids, _ int) interiorWork {
	return interiorWork{
		held: make([]float64, components), given: make([]float64, components), weight: make([]float64, components),
		amount: make([]float64, solids), slack: make([]float64, solids), over: make([]float64, solids),
		matrix: make([]float64, components*(components+1)),
		rhs:    make([]float64, components), scale: make([]float64, components),
		free: make([]int32, 0, components), at: make([]int32, components), solids: make([]int32, 0, solids),
	}
}

const (
	bracketRounds  = 64
	interiorRounds = 120
	chargeRounds   = 80
)

// bracket halves the range of the ionic strength until Newton's method arrives
// from there. The steps are added to st.
func (s *Solver) bracket(st Status) Status {
	st.Fallback = true
	low, high := math.Log(1e-9), math.Log(1e4)
	for round := range bracketRounds {
		middle := (low + high) / 2
		ionic, steps := s.atIonicStrength(math.Exp(middle))
		st.Iterations += steps
		if ionic > math.Exp(middle) {
			low = middle
		} else {
			high = middle
		}
		if round%6 == 5 {
			s.ionic = ionic
			polished := s.newton(coldSteps)
			st.Iterations += polished.Iterations
			st.Residual, st.Converged = polished.Residual, polished.Converged
			if st.Converged {
				return st
			}
		}
	}
	return st
}

// atIonicStrength solves with the activity coefficients of one ionic strength
// and gives the ionic strength that the answer has.
func (s *Solver) atIonicStrength(ionic float64) (has float64, steps int) {
	s.guess()
	s.ionic = ionic
	s.gammas()
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
	if s.close < 0 {
		steps = s.interior()
	} else {
		steps = s.openComponent()
	}
	s.takeOver()
	s.ionic = ionic
	return s.sumSpecies().ionic + s.inert.Squares/(2*s.water), steps
}

// openComponent finds the activity of the open component at which the charges
// balance. More of a cation always leaves more positive charge, so halving works.
func (s *Solver) openComponent() (steps int) {
	low, high := -80.0, 40.0
	sign := 1.0
	if s.sys.charge[s.close] < 0 {
		sign = -1
	}
	for range chargeRounds {
		s.ln[s.close] = (low + high) / 2
		steps += s.interior()
		sums := s.sumSpecies()
		if sign*(sums.charge+s.inert.Charge/s.water) > 0 {
			high = s.ln[s.close]
		} else {
			low = s.ln[s.close]
		}
		if high-low < 1e-9 {
			break
		}
	}
	return steps
}

// takeOver makes those solids stand that the convex search left at saturation.
func (s *Solver) takeOver() {
	clear(s.standing)
	clear(s.amount)
	for _, k := range s.spare.solids {
		if s.spare.slack[k] < 1e-6 && s.spare.amount[k] > 0 {
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
	}
	return sums
}

// interior finds the lowest point by steps that keep the amounts and the
// distances to saturation of all solids above nothing.
func (s *Solver) interior() int {
	w := &s.spare
	smallest := math.Inf(1)
	for _, c := range w.free {
		if t := math.Abs(s.total[c]); t > 0 {
			smallest = min(smallest, t)
		}
	}
	smallest = min(smallest, 1)
	for _, k := range w.solids {
		w.amount[k] = 1e-2 * smallest
		w.slack[k] = math.Max(-s.lnSaturation(int(k)), 1)
	}
	for round := range interiorRounds {
		gap, worst := s.interiorSystem(smallest)
		if worst < 1e-9 && gap < 1e-14*smallest {
			return round
		}
		if !s.interiorStep(gap, smallest) {
			return round
		}
	}
	return interiorRounds
}

// interiorSystem fills the balances and their slopes, renews water, and gives
// the mean of amount times distance over the solids and the worst balance.
func (s *Solver) interiorSystem(smallest float64) (gap, worst float64) {
	w := &s.spare
	n := len(w.free)
	width := n + 1
	clear(w.matrix[:n*width])
	sums := s.sumSpecies()
	s.renewInteriorWater(sums)
	for a, c := range w.free {
		w.rhs[a] = s.total[c]
		w.scale[a] = smallest * 1e-6
	}
	for _, j := range s.live {
		s.addInterior(j, width)
	}
	for _, k := range w.solids {
		w.over[k] = s.lnSaturation(int(k))
		gap += w.amount[k] * w.slack[k]
		for c, nu := range s.sys.solidRow(int(k)) {
			if a := w.at[c]; a >= 0 {
				w.rhs[a] -= nu * w.amount[k]
				w.scale[a] += math.Abs(nu * w.amount[k])
			}
		}
		worst = math.Max(worst, math.Abs(w.over[k]+w.slack[k]))
	}
	if len(w.solids) > 0 {
		gap /= float64(len(w.solids))
	}
	for a := range n {
		worst = math.Max(worst, math.Abs(w.rhs[a])/w.scale[a])
	}
	return gap, worst
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

func (s *Solver) renewInteriorWater(sums speciesSums) {
	s.lnWater = (s.lnWater + s.coeff.lnWater(sums.molality+s.inert.Mol/s.water)) / 2
	free := s.waterBase
	if s.close >= 0 && s.sys.charge[s.close] > 0 {
		for _, j := range s.live {
			for k := s.sys.off[j]; k < s.sys.off[j+1]; k++ {
				if int(s.sys.idx[k]) == s.close {
					free += s.sys.nu[k] * s.molal[j] * s.water
				}
			}
		}
		free -= s.base[s.close]
	}
	for _, k := range s.spare.solids {
		free -= s.sys.solidWater[k] * s.spare.amount[k]
	}
	next := math.Max(free, 1) / (1/waterMolarMass + math.Max(sums.bound, -20))
	s.water = (s.water + math.Min(next, 10)) / 2
}

// interiorStep solves for the step and goes as far along it as keeps
// everything positive and no species rising beyond reason.
func (s *Solver) interiorStep(gap, smallest float64) bool {
	w := &s.spare
	n := len(w.free)
	width := n + 1
	aim := 0.1 * gap
	for _, k := range w.solids {
		weight := w.amount[k] / w.slack[k]
		pull := (aim + w.amount[k]*w.over[k]) / w.slack[k]
		row := s.sys.solidRow(int(k))
		for a, c := range w.free {
			if row[c] == 0 {
				continue
			}
			w.rhs[a] -= row[c] * pull
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
	for a := range n {
		w.rhs[a] = w.matrix[a*width+n]
		if w.rhs[a] != w.rhs[a] || math.IsInf(w.rhs[a], 0) {
			return false
		}
	}
	s.interiorMove(aim, s.longestStep(aim))
	return true
}

// solidChange is how a solid's distance and amount change along the step.
func (s *Solver) solidChange(k int32, aim float64) (slack, amount float64) {
	w := &s.spare
	row := s.sys.solidRow(int(k))
	slack = -(w.over[k] + w.slack[k])
	for a, c := range w.free {
		slack -= row[c] * w.rhs[a]
	}
	amount = (aim - w.amount[k]*w.slack[k] - w.amount[k]*slack) / w.slack[k]
	return slack, amount
}

func (s *Solver) longestStep(aim float64) float64 {
	sys, w := s.sys, &s.spare
	share := 1.0
	most := 1.0
	for _, c := range w.free {
		most += math.Abs(s.total[c])
	}
	ceiling := math.Log(10 * most)
	for _, j := range s.live {
		rise := 0.0
		for k := sys.off[j]; k < sys.off[j+1]; k++ {
			if a := w.at[sys.idx[k]]; a >= 0 {
				rise += sys.nu[k] * w.rhs[a]
			}
		}
		if rise > 2 {
			allowed := math.Max(2, ceiling-math.Log(math.Max(s.molal[j], 1e-300)))
			share = min(share, allowed/rise)
		}
	}
	for _, k := range w.solids {
		slack, amount := s.solidChange(k, aim)
		if slack < 0 {
			share = min(share, -0.95*w.slack[k]/slack)
		}
		if amount < 0 {
			share = min(share, -0.95*w.amount[k]/amount)
		}
	}
	return share
}

func (s *Solver) interiorMove(aim, share float64) {
	w := &s.spare
	for _, k := range w.solids {
		slack, amount := s.solidChange(k, aim)
		w.slack[k] = math.Max(w.slack[k]+share*slack, 1e-300)
		w.amount[k] = math.Max(w.amount[k]+share*amount, 1e-300)
	}
	for a, c := range w.free {
		s.ln[c] += share * w.rhs[a]
	}
}
