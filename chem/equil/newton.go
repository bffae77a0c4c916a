package equil

import "math"

const (
	warmSteps = 12
	coldSteps = 60

	// convergedAt is the largest balance error of an answer, relative to the
	// sum of the terms that are balanced.
	convergedAt = 1e-10
	// saturatedAt is how far (in ln) a solid that does not stand may be above
	// saturation in an answer.
	saturatedAt = 1e-9

	steepestRise = 3.0   // largest step up of ln activity
	steepestFall = 20.0  // largest step down
	mostToggles  = 6     // times that a solid may come and go in one search
	highestLn    = 120.0 // held in the exponential
)

// newton searches from where the solver stands. Solids come and go after every
// step; patiently, they do so one at a time and only once the rest has
// converged, which is slower and cannot go round in circles near an answer.
func (s *Solver) newton(limit int, patiently bool) Status {
	clear(s.toggles)
	choose := s.chooseSolids
	if patiently {
		choose = s.chooseOne
	}
	st := Status{}
	for st.Iterations < limit {
		s.assemble()
		st.Residual = s.residual()
		if st.Residual < s.goal && !choose() {
			s.refineSolids()
			st.Converged = s.isAnswer()
			return st
		}
		st.Iterations++
		switch {
		case !s.advance() && !(patiently && s.dropLeast()):
			return st
		case !patiently:
			s.chooseSolids()
		}
	}
	return st
}

// isAnswer looks over a converged state once more: everything finite, no solid
// below nothing, none left above saturation.
func (s *Solver) isAnswer() bool {
	if !(s.ionic >= 0) || !(s.water > 0) || math.IsNaN(s.lnWater) || math.IsInf(s.ionic, 0) {
		return false
	}
	for _, j := range s.live {
		if math.IsNaN(s.molal[j]) || math.IsInf(s.molal[j], 0) {
			return false
		}
	}
	for k, on := range s.standing {
		if on && !(s.amount[k] >= 0) {
			return false
		}
		if !on && s.possible(k) && !(s.lnSaturation(k) <= saturatedAt) {
			return false
		}
	}
	return true
}

// Unknowns beside the component activities, in their order after them: the
// ionic strength, ln of the activity of water, ln of the mass of water. The
// amounts of the standing solids follow.
const (
	ionicAt = iota
	waterActivityAt
	waterMassAt
	solidsAt
)

// assemble works out every molality at the present activities, and the
// equations with their slopes, one row an unknown.
func (s *Solver) assemble() {
	n := len(s.unknown)
	dim := n + solidsAt + len(s.active)
	width := dim + 1
	clear(s.matrix[:dim*width])
	clear(s.scale[:dim])
	s.gammas()
	sums := s.addSpecies(n, width)
	s.addSolids(n, width)
	s.closeRows(n, dim, sums)
}

// gammas works out the activity coefficient of every class.
func (s *Solver) gammas() {
	for i, c := range s.sys.classes {
		s.lnGamma[i], s.slope[i] = s.coeff.lnGamma(c, s.ionic)
	}
}

// speciesSums are totals over the dissolved species, per kg of water, and the
// slopes of some with the ionic strength (I) and ln of the water activity (w).
type speciesSums struct {
	molality, molalityI, molalityW float64
	ionic                          float64
	bound, boundI, boundW          float64 // water taken up in forming species
	charge, chargeI, chargeW       float64
	absolute                       float64 // sum of |z| m
}

func (s *Solver) addSpecies(n, width int) speciesSums {
	sys := s.sys
	var sums speciesSums
	rows := s.matrix[n*width:]
	ionicRow := rows[:width]
	for _, j := range s.live {
		class, water := sys.class[j], sys.water[j]
		l := sys.lnK[j] + water*s.lnWater - s.lnGamma[class]
		for k := sys.off[j]; k < sys.off[j+1]; k++ {
			l += sys.nu[k] * s.ln[sys.idx[k]]
		}
		m := math.Exp(min(l, highestLn))
		s.molal[j] = m
		half, slope, zm := sys.half[j]*m, s.slope[class], sys.z[j]*m
		sums.molality += m
		sums.molalityI -= m * slope
		sums.ionic += half
		ionicRow[n+ionicAt] -= half * slope
		sums.charge += zm
		sums.absolute += math.Abs(zm)
		sums.chargeI -= zm * slope
		if water != 0 {
			bound := water * m
			sums.bound += bound
			sums.boundI -= bound * slope
			sums.boundW += bound * water
			sums.molalityW += bound
			sums.chargeW += zm * water
			ionicRow[n+waterActivityAt] += half * water
		}
		s.addParts(j, n, width)
		if s.close >= 0 && zm != 0 {
			s.addCharge(j, zm)
		}
	}
	return sums
}

// addParts adds one species to the balances of its components.
func (s *Solver) addParts(j int32, n, width int) {
	sys := s.sys
	lo, hi := sys.off[j], sys.off[j+1]
	m, water, slope := s.molal[j], sys.water[j], s.slope[sys.class[j]]
	half, mol := sys.half[j]*m, m*s.water
	rows := s.matrix[n*width:]
	ionicRow, activityRow, massRow := rows[:width], rows[width:2*width], rows[2*width:3*width]
	for k := lo; k < hi; k++ {
		a := s.pos[sys.idx[k]]
		if a < 0 {
			continue
		}
		nu := sys.nu[k]
		ionicRow[a] += half * nu
		activityRow[a] += m * nu
		massRow[a] += water * m * nu
		v := nu * mol
		s.scale[a] += math.Abs(v)
		row := s.matrix[int(a)*width : int(a)*width+width]
		row[width-1] -= v
		row[n+ionicAt] -= v * slope
		row[n+waterActivityAt] += v * water
		row[n+waterMassAt] += v
		for i := lo; i < hi; i++ {
			if b := s.pos[sys.idx[i]]; b >= 0 {
				row[b] += v * sys.nu[i]
			}
		}
	}
}

// addCharge adds one species to the slopes of the charge, kept in step until
// they replace the row of the component whose total is open.
func (s *Solver) addCharge(j int32, zm float64) {
	for k := s.sys.off[j]; k < s.sys.off[j+1]; k++ {
		if b := s.pos[s.sys.idx[k]]; b >= 0 {
			s.step[b] += zm * s.sys.nu[k]
		}
	}
}

func (s *Solver) addSolids(n, width int) {
	for i, k := range s.active {
		col := n + solidsAt + i
		row := s.matrix[col*width : (col+1)*width]
		for c, nu := range s.sys.solidRow(int(k)) {
			a := s.pos[c]
			if nu == 0 || a < 0 {
				continue
			}
			row[a] = nu
			held := nu * s.amount[k]
			s.matrix[int(a)*width+col] = nu
			s.matrix[int(a)*width+width-1] -= held
			s.scale[a] += 1e-4 * math.Abs(held)
		}
		row[n+waterActivityAt] = s.sys.solidWater[k]
		row[width-1] = -s.lnSaturation(int(k))
		s.scale[col] = 1
	}
}

// closeRows completes the balances with the totals, the rows of the ionic
// strength and of water, and puts the charge balance in its place. Then every
// row is divided by the sum of its terms, so that pivots compare.
func (s *Solver) closeRows(n, dim int, sums speciesSums) {
	width := dim + 1
	for a, c := range s.unknown {
		s.matrix[a*width+dim] += s.total[c]
	}
	s.closeIonic(n, dim, sums)
	s.closeWaterActivity(n, dim, sums)
	s.closeWaterMass(n, dim, sums)
	if s.close >= 0 {
		s.closeCharge(n, dim, sums)
	}
	for a := range dim {
		inverse := 1 / math.Max(s.scale[a], 1e-280)
		row := s.matrix[a*width : (a+1)*width]
		for k := range row {
			row[k] *= inverse
		}
	}
}

func (s *Solver) closeIonic(n, dim int, sums speciesSums) {
	at := n + ionicAt
	row := s.matrix[at*(dim+1) : (at+1)*(dim+1)]
	inert := s.inert.Squares / (2 * s.water)
	row[at]--
	row[n+waterMassAt] = -inert
	row[dim] = s.ionic - sums.ionic - inert
	s.scale[at] = math.Max(s.ionic, 1e-9)
}

func (s *Solver) closeWaterActivity(n, dim int, sums speciesSums) {
	at := n + waterActivityAt
	row := s.matrix[at*(dim+1) : (at+1)*(dim+1)]
	inert := s.inert.Mol / s.water
	value, slope := s.coeff.lnWater(sums.molality + inert)
	for a := range n {
		row[a] *= -slope
	}
	row[n+ionicAt] = -slope * sums.molalityI
	row[at] = 1 - slope*sums.molalityW
	row[n+waterMassAt] = slope * inert
	row[dim] = value - s.lnWater
	s.scale[at] = 1
}

// closeWaterMass: water put in, and brought by sodium hydroxide, is free, bound
// in species or bound in solids.
func (s *Solver) closeWaterMass(n, dim int, sums speciesSums) {
	at := n + waterMassAt
	width := dim + 1
	row := s.matrix[at*width : (at+1)*width]
	for a := range n {
		row[a] *= s.water
	}
	free := s.water / waterMolarMass
	row[n+ionicAt] = s.water * sums.boundI
	row[n+waterActivityAt] = s.water * sums.boundW
	row[at] = free + s.water*sums.bound
	row[dim] = s.waterBase - free - s.water*sums.bound
	for i, k := range s.active {
		row[n+solidsAt+i] = s.sys.solidWater[k]
		row[dim] -= s.sys.solidWater[k] * s.amount[k]
	}
	if s.close >= 0 {
		s.titrant = s.openAmount()
		if s.sys.charge[s.close] > 0 {
			// The balance row of the open component, not yet replaced, has the
			// slopes of its amount.
			open := s.matrix[int(s.pos[s.close])*width : (int(s.pos[s.close])+1)*width]
			for k := range dim {
				row[k] -= open[k]
			}
			row[dim] += s.titrant
		}
	}
	s.scale[at] = s.waterBase
}

func (s *Solver) closeCharge(n, dim int, sums speciesSums) {
	width := dim + 1
	a := int(s.pos[s.close])
	row := s.matrix[a*width : (a+1)*width]
	inert := s.inert.Charge / s.water
	clear(row)
	copy(row[:n], s.step[:n])
	clear(s.step[:n])
	row[n+ionicAt] = sums.chargeI
	row[n+waterActivityAt] = sums.chargeW
	row[n+waterMassAt] = -inert
	row[dim] = -sums.charge - inert
	s.scale[a] = sums.absolute + math.Abs(inert)
}

// openAmount is how much more of the open component there is than was put in.
func (s *Solver) openAmount() float64 {
	sum := -s.base[s.close] + s.Dissolved(s.close)
	for _, k := range s.active {
		sum += s.sys.solidRow(int(k))[s.close] * s.amount[k]
	}
	return sum
}

// residual is the largest right-hand side; rows are in units of their terms.
func (s *Solver) residual() float64 {
	dim := len(s.unknown) + solidsAt + len(s.active)
	worst := 0.0
	for a := range dim {
		v := math.Abs(s.matrix[a*(dim+1)+dim])
		if !(v <= worst) { // lets NaN through to the caller
			worst = v
		}
	}
	return worst
}

// advance takes one damped step and reports whether it could.
func (s *Solver) advance() bool {
	n := len(s.unknown)
	dim := n + solidsAt + len(s.active)
	if !solveLinear(s.matrix[:dim*(dim+1)], dim) {
		return false
	}
	share := 1.0
	for a := range n {
		d := s.matrix[a*(dim+1)+dim]
		switch {
		case d != d || math.IsInf(d, 0):
			return false
		case d > steepestRise:
			share = min(share, steepestRise/d)
		case d < -steepestFall:
			share = min(share, -steepestFall/d)
		}
	}
	for a, c := range s.unknown {
		s.ln[c] += share * s.matrix[a*(dim+1)+dim]
	}
	s.stepIonic(share * s.matrix[(n+ionicAt)*(dim+1)+dim])
	s.stepWater(share*s.matrix[(n+waterActivityAt)*(dim+1)+dim], share*s.matrix[(n+waterMassAt)*(dim+1)+dim])
	for i, k := range s.active {
		s.amount[k] += share * s.matrix[(n+solidsAt+i)*(dim+1)+dim]
	}
	return true
}

// stepIonic changes the ionic strength by no more than a factor of four.
func (s *Solver) stepIonic(d float64) {
	next := s.ionic + d
	s.ionic = min(max(next, s.ionic/4, 1e-12), 4*s.ionic+1e-3, 2*highestIonicStrength)
}

// stepWater keeps the activity of water above its floor and changes its mass by
// no more than half.
func (s *Solver) stepWater(activity, mass float64) {
	floor := math.Log(lowestWaterActivity)
	s.lnWater = max(s.lnWater+activity, floor)
	s.water *= math.Exp(min(max(mass, -0.7), 0.7))
}
