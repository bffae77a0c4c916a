package equil

import "math"

// chooseSolids lets go of solids that have run out and takes up those above
// saturation; of solids that compete for the same thing it takes the least
// soluble. It reports whether anything changed.
func (s *Solver) chooseSolids() bool {
	changed := false
	for k, on := range s.standing {
		if on && s.amount[k] < 0 {
			s.standing[k], s.amount[k] = false, 0
			changed = true
		}
	}
	for k, on := range s.standing {
		if on || !s.possible(k) || s.toggles[k] >= mostToggles || !(s.lnSaturation(k) > saturatedAt) {
			continue
		}
		s.toggles[k]++
		s.takeUp(k)
		changed = true
	}
	if changed {
		s.listActive()
	}
	return changed
}

// chooseOne lets go of the solid that is most below nothing or, if there is
// none, takes up the one most above saturation. It reports whether there was
// one.
func (s *Solver) chooseOne() bool {
	worst, which := 0.0, -1
	for k, on := range s.standing {
		if on && s.amount[k] < worst {
			worst, which = s.amount[k], k
		}
	}
	if which >= 0 {
		s.standing[which], s.amount[which] = false, 0
		s.listActive()
		return true
	}
	worst = saturatedAt
	for k, on := range s.standing {
		if on || !s.possible(k) {
			continue
		}
		if over := s.lnSaturation(k); over > worst {
			worst, which = over, k
		}
	}
	if which < 0 {
		return false
	}
	s.takeUp(which)
	s.listActive()
	return true
}

// dropLeast lets go of the solid of which least stands, where the standing
// solids do not determine each other. It reports whether there was one.
func (s *Solver) dropLeast() bool {
	least, which := math.Inf(1), -1
	for k, on := range s.standing {
		if on && s.amount[k] < least {
			least, which = s.amount[k], k
		}
	}
	if which < 0 {
		return false
	}
	s.standing[which], s.amount[which] = false, 0
	s.listActive()
	return true
}

// takeUp makes a solid stand. Where another stands that differs only in its
// constant, the amount goes over to the new one.
func (s *Solver) takeUp(k int) {
	for i, on := range s.standing {
		if !on {
			continue
		}
		if ratio, ok := s.parallel(i, k); ok {
			s.standing[i] = false
			s.amount[k], s.amount[i] = s.amount[i]*ratio, 0
			break
		}
	}
	s.standing[k] = true
}

// parallel reports whether two solids draw on the unknown components in one
// and the same proportion, and how many units of b one unit of a makes.
func (s *Solver) parallel(a, b int) (float64, bool) {
	rowA, rowB := s.sys.solidRow(a), s.sys.solidRow(b)
	ratio := 0.0
	for c := range rowA {
		if s.pos[c] < 0 || (rowA[c] == 0 && rowB[c] == 0) {
			continue
		}
		if rowA[c] == 0 || rowB[c] == 0 {
			return 0, false
		}
		r := rowA[c] / rowB[c]
		if ratio != 0 && math.Abs(r-ratio) > 1e-9 {
			return 0, false
		}
		ratio = r
	}
	return ratio, ratio > 0
}

// refineSolids takes each solid's amount from the balance of the component of
// which least is left dissolved, where no other solid standing draws on that: so
// total less solid gives the trace that is dissolved to full precision.
func (s *Solver) refineSolids() {
	for _, k := range s.active {
		best, share := -1, math.Inf(1)
		for c, nu := range s.sys.solidRow(int(k)) {
			if c == 0 || !(nu > 0) || s.pos[c] < 0 || c == s.close || !s.drawsAlone(int(k), c) {
				continue
			}
			if r := s.Dissolved(c) / s.total[c]; r < share {
				best, share = c, r
			}
		}
		if best >= 0 {
			s.amount[k] = math.Max(0, (s.total[best]-s.Dissolved(best))/s.sys.solidRow(int(k))[best])
		}
	}
}

func (s *Solver) drawsAlone(solid, component int) bool {
	for _, k := range s.active {
		if int(k) != solid && s.sys.solidRow(int(k))[component] != 0 {
			return false
		}
	}
	return true
}
