package equil

import "math"

// guessRounds is how often the first guess is improved.
const guessRounds = 3

// guess finds a place to start from, with all solids dissolved, by bringing
// each balance to meet its total in turn (the positive continued fraction
// method: every sum is kept positive, so it cannot stray), scarce components
// first because they yield to plentiful ones. Then it lets the solids above
// saturation come down.
func (s *Solver) guess() {
	s.start()
	for range guessRounds {
		if s.meetTotals() < 0.1 {
			break
		}
		s.ionic = math.Min(math.Sqrt(s.ionic*math.Max(s.roughIonic(), 1e-7)), 20)
		s.gammas()
	}
	s.precipitate()
}

// guessAt is the same at a held ionic strength, without the solids.
func (s *Solver) guessAt(ionic float64) {
	s.start()
	s.ionic = ionic
	s.gammas()
	for range 4 * guessRounds {
		if s.meetTotals() < 0.05 {
			break
		}
	}
}

// start puts every activity at its total.
func (s *Solver) start() {
	s.lnWater, s.water = 0, 1
	for k := range s.standing {
		s.standing[k], s.amount[k] = false, 0
	}
	s.listActive()
	squares := 0.0
	if s.close >= 0 {
		s.total[s.close] = s.firstOpen()
	}
	for _, c := range s.unknown {
		t := math.Abs(s.total[c])
		squares += t * s.sys.charge[c] * s.sys.charge[c]
		if c != 0 {
			s.ln[c] = math.Log(math.Max(t, 1e-9))
		}
	}
	if !s.fixed {
		s.ln[0] = s.firstHydrogen()
	}
	s.sortByTotal()
	s.ionic = math.Min(math.Max((squares+s.inert.Squares)/2, 1e-7), 20)
	s.gammas()
}

// firstHydrogen is ln a(H+) of free acid or alkali alone.
func (s *Solver) firstHydrogen() float64 {
	const neutral = -7 * math.Ln10
	switch t := s.total[0]; {
	case t > 1e-7:
		return math.Log(t)
	case t < -1e-7:
		return 2*neutral - math.Log(-t)
	}
	return neutral
}

// firstOpen is about how much of the open component balances the charge of the
// other totals and of free acid or alkali at the given pH.
func (s *Solver) firstOpen() float64 {
	charge := s.inert.Charge + math.Exp(s.ln[0]) - math.Exp(-14*math.Ln10-s.ln[0])
	for c := 1; c < s.sys.components(); c++ {
		if c != s.close {
			charge += s.sys.charge[c] * s.total[c]
		}
	}
	return math.Min(math.Max(s.base[s.close], math.Abs(charge))+1e-9, 100)
}

// meetTotals moves every component towards its total in turn and gives the
// largest move (in ln) that was called for.
func (s *Solver) meetTotals() float64 {
	worst := 0.0
	for _, c := range s.order {
		worst = math.Max(worst, math.Abs(s.meetTotal(c)))
	}
	return worst
}

// meetTotal moves one component: what its species hold, with what is wanting
// of them, against what is there, with what they give off.
func (s *Solver) meetTotal(c int32) float64 {
	sys := s.sys
	held, given, weight := 0.0, 0.0, 0.0
	for _, u := range sys.uses[sys.useOff[c]:sys.useOff[c+1]] {
		j := u.species
		if sys.mask[j]&^s.present != 0 {
			continue
		}
		l := sys.lnK[j] - s.lnGamma[sys.class[j]]
		for k := sys.off[j]; k < sys.off[j+1]; k++ {
			l += sys.nu[k] * s.ln[sys.idx[k]]
		}
		v := u.nu * roughExp(l)
		if v > 0 {
			held += v
		} else {
			given -= v
		}
		weight += v * u.nu
	}
	total := s.total[c]
	wanted, have := math.Max(total, 0)+given, held+math.Max(-total, 0)
	if !(wanted > 0) || !(have > 0) || !(weight > 0) {
		return 0
	}
	log := math.Log(wanted / have)
	s.ln[c] += log * (held + given) / weight
	return log
}

// roughIonic is the ionic strength at the present activities, for a guess.
func (s *Solver) roughIonic() float64 {
	sys := s.sys
	sum := s.inert.Squares / 2
	for _, j := range s.live {
		if sys.half[j] == 0 {
			continue
		}
		l := sys.lnK[j] - s.lnGamma[sys.class[j]]
		for k := sys.off[j]; k < sys.off[j+1]; k++ {
			l += sys.nu[k] * s.ln[sys.idx[k]]
		}
		sum += sys.half[j] * roughExp(l)
	}
	return sum
}

// roughExp is exp(x) to 2 parts in 10 000, held between exp(-600) and
// exp(highestLn): plenty for a guess and several times as fast. It is 2^n times
// a cubic in the rest of x / ln 2.
func roughExp(x float64) float64 {
	if !(x > -600) {
		x = -600
	} else if x > highestLn {
		x = highestLn
	}
	x *= math.Log2E
	n := int64(x + 1024) // so that it is rounded down below 0 as well
	f := x + 1024 - float64(n)
	return math.Float64frombits(uint64(n-1)<<52) * (1 + f*(0.695556856+f*(0.226173572+f*0.078192764)))
}

// sortByTotal lists the unknown components from the scarcest.
func (s *Solver) sortByTotal() {
	s.order = append(s.order[:0], s.unknown...)
	for i := 1; i < len(s.order); i++ {
		for k := i; k > 0 && math.Abs(s.total[s.order[k]]) < math.Abs(s.total[s.order[k-1]]); k-- {
			s.order[k], s.order[k-1] = s.order[k-1], s.order[k]
		}
	}
}

// precipitate lets each solid above saturation take its scarcest component
// down to saturation.
func (s *Solver) precipitate() {
	for k := range s.standing {
		if !s.possible(k) {
			continue
		}
		over := s.lnSaturation(k)
		if !(over > 0) {
			continue
		}
		scarcest, mol := -1, math.Inf(1)
		for c, nu := range s.sys.solidRow(k) {
			if c == 0 || nu <= 0 || s.pos[c] < 0 {
				continue
			}
			if t := s.total[c] / nu; t < mol {
				scarcest, mol = c, t
			}
		}
		if scarcest < 0 {
			continue
		}
		s.ln[scarcest] -= over / s.sys.solidRow(k)[scarcest]
		s.takeUp(k)
		s.amount[k] = mol
	}
	s.listActive()
}
