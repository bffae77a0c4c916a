package lot

import (
	"math"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// sure is how many standard uncertainties make a fact of a difference:
// two-sided 5 % of a normal distribution.
const sure = 1.959964

// fixMetals settles, once and from the stated doubts, how each metal's total
// and phases come about.
func (m *Model) fixMetals(figs *input.Figures) {
	first := m.differ(figs, m.rawFigures)
	for k := range m.metals {
		m.fixEmpty(first, k)
	}
	m.fixChloride(first)
	first = m.differ(figs, m.rawFigures)
	at := m.rawStart()
	for k := range m.metals {
		mt := &m.metals[k]
		at = m.fixPhase(figs, first, at, &mt.liquid, "liquid", mt.symbol)
		at = m.fixPhase(figs, first, at, &mt.solid, "solid", mt.symbol)
	}
	second := m.differ(figs, m.phaseFigures)
	for k := range m.metals {
		m.chooseMode(k)
		m.fixPair(second, k)
	}
	third := m.differ(figs, m.totalFigures)
	for k := range m.metals {
		m.widenTotal(figs, second, third, k)
	}
}

// differ works out the differences of some figures of the model at the central
// values of the inputs known so far.
func (m *Model) differ(figs *input.Figures, f func(*state) []float64) differences {
	return differ(figs.Central(), wiggles(figs, m.refs()), func(v input.Values) []float64 {
		st := m.newState(v)
		m.addSources(st)
		return f(st)
	})
}

// rawFigures are the sources of every metal, the chloride poured in, the acid
// that the sources leave (mol), the volume (L), and every statement (mol).
func (m *Model) rawFigures(st *state) []float64 {
	out := append([]float64(nil), st.source...)
	left := st.acidPoured - st.basePoured
	for i := range m.paths {
		left -= st.pathMol[i] * m.paths[i].acid(evenShare, st.v)
	}
	out = append(out, st.chloride, left, st.volume)
	for k := range m.metals {
		for _, p := range []*phase{&m.metals[k].liquid, &m.metals[k].solid} {
			for i := range p.statements {
				out = append(out, m.statementMol(&p.statements[i], st))
			}
		}
	}
	return out
}

func (m *Model) rawChloride() int { return len(m.metals) }
func (m *Model) rawAcid() int     { return len(m.metals) + 1 }
func (m *Model) rawVolume() int   { return len(m.metals) + 2 }
func (m *Model) rawStart() int    { return len(m.metals) + 3 }

// phaseFigures are source, liquid, solid and liquid plus solid of every metal.
func (m *Model) phaseFigures(st *state) []float64 {
	out := make([]float64, 0, phaseWidth*len(m.metals))
	for k := range m.metals {
		l, q := m.phaseMol(&m.metals[k].liquid, st), m.phaseMol(&m.metals[k].solid, st)
		out = append(out, st.source[k], l, q, l+q)
	}
	return out
}

const phaseWidth = 4

// totalFigures are the combined totals.
func (m *Model) totalFigures(st *state) []float64 {
	m.addTotals(st)
	return st.total
}

// fixPhase fixes the weights of the statements of one phase.
//
// What all measurements of a phase are multiplied by does not weigh among them:
// concentrations are combined with each other and multiplied by the volume
// once, shares of a solid likewise with its dry mass. Their mean is then
// weighed against the chloride poured in, which shares nothing with it.
func (m *Model) fixPhase(figs *input.Figures, d differences, at int, p *phase, name, symbol string) int {
	n := len(p.statements)
	if n == 0 {
		return at
	}
	measured := n
	if p.statements[n-1].kind == chlorideToSalt {
		measured--
	}
	common := d.movers(m.rawVolume())
	if name == "solid" {
		common = m.dryInputs()
	}
	c, u := m.fixMeasured(d, at, measured, common)
	if measured < n {
		c, u = againstLast(c, d, at, measured)
	}
	p.combination = c
	if extra := c.extra(u); extra > 0 {
		p.spread = m.assumeDisagreement(figs, symbol+"/"+name, extra, c.p)
	}
	return at + n
}

// fixMeasured combines n results from at on, leaving out the doubt of what is
// common to them; it returns the doubt of the mean without that.
func (m *Model) fixMeasured(d differences, at, n int, common input.Set) (combination, float64) {
	sds := make([]float64, n)
	for i := range sds {
		sds[i] = d.sdWithout(at+i, common)
	}
	c := combine(d.central[at:at+n], sds)
	return c, combinedSD(c.weights, sds)
}

// againstLast weighs the mean of n results from at on against the one behind
// them; it returns the doubt of the whole.
func againstLast(inner combination, d differences, at, n int) (combination, float64) {
	if n == 0 {
		return combine(d.central[at:at+1], []float64{d.sd(at)}), d.sd(at)
	}
	mean := 0.0
	for i, w := range inner.weights {
		mean += w * d.central[at+i]
	}
	sds := []float64{d.sdOfMean(at, inner.weights), d.sd(at + n)}
	outer := combine([]float64{mean, d.central[at+n]}, sds)
	all := combination{chiSquared: inner.chiSquared + outer.chiSquared, freedom: inner.freedom + outer.freedom}
	for _, w := range inner.weights {
		all.weights = append(all.weights, w*outer.weights[0])
	}
	all.weights = append(all.weights, outer.weights[1])
	all.p = survival(all.chiSquared, all.freedom)
	return all, combinedSD(outer.weights, sds)
}

// dryInputs are the inputs of the dry mass of the solids.
func (m *Model) dryInputs() input.Set {
	var set input.Set
	for i := range m.solids {
		set = set.With(m.solids[i].wetMass, m.solids[i].moisture)
	}
	return set
}

// combinedSD is the standard uncertainty of a weighted mean of independent estimates.
func combinedSD(weights, sds []float64) float64 {
	sum := 0.0
	for i, w := range weights {
		sum += w * w * sds[i] * sds[i]
	}
	return math.Sqrt(sum)
}

// assumeDisagreement registers the input that widens a combined doubt.
func (m *Model) assumeDisagreement(figs *input.Figures, id string, sd, p float64) input.Ref {
	dist := units.NormalDist(0, sd)
	return m.assume(figs, "disagreement/"+id, units.AmountKind, dist,
		"statements contradict each other (p = "+shortP(p)+"): the combined doubt is widened by the root of chi-squared per degree of freedom")
}

// fixEmpty notes phases that hold none of a metal although nothing measured
// them: no solid where nothing forms one, no liquid where nothing dissolves it.
func (m *Model) fixEmpty(d differences, k int) {
	mt := &m.metals[k]
	alkaline := m.basePoured && d.central[m.rawAcid()] < 0
	mt.solid.empty = len(mt.solid.statements) == 0 && !alkaline && !m.formsSolid(d, k)
	mt.liquid.empty = len(mt.liquid.statements) == 0 && mt.sourced && m.staysDry(k)
	if mt.symbol == "Ag" && len(mt.liquid.statements) == 0 && mt.sourced {
		chloride := m.rawChloride()
		surplus := d.central[chloride] - d.central[k]
		mt.liquid.empty = mt.liquid.empty || surplus > sure*d.sdOfDifference(chloride, k)
	}
}

// formsSolid reports whether something in the lot keeps the metal out of the
// liquid or brings it down.
func (m *Model) formsSolid(d differences, k int) bool {
	mt := &m.metals[k]
	for _, i := range mt.paths {
		if m.paths[i].stays || m.paths[i].dry {
			return true
		}
	}
	for i := range m.pieces {
		for _, s := range m.pieces[i].parts {
			if m.pieces[i].inVessel && s.metal == k {
				return true
			}
		}
	}
	chloride := d.central[m.rawChloride()] > 0
	switch mt.symbol {
	case "Ag":
		return chloride || m.cemented != input.NoRef || m.closing != m.ids.nitrate
	case "Pb", "Hg":
		return chloride || m.closing != m.ids.nitrate
	}
	return !mt.soluble
}

// staysDry reports whether every source leaves the metal undissolved.
func (m *Model) staysDry(k int) bool {
	for _, i := range m.metals[k].paths {
		if !m.paths[i].stays && !m.paths[i].dry {
			return false
		}
	}
	for i := range m.pours {
		for _, t := range m.pours[i].enters {
			if t.Species.Species().Formula.Atoms(m.metals[k].symbol) > 0 {
				return false
			}
		}
	}
	return true
}

// fixChloride counts the chloride poured in as a statement about settled
// silver, where it is surely less than the silver: then all of it is there.
func (m *Model) fixChloride(d differences) {
	if m.silver < 0 || !(d.central[m.rawChloride()] > 0) {
		return
	}
	mt := &m.metals[m.silver]
	chloride := m.rawChloride()
	found := m.surelyFound(d, m.silver)
	scarce := false
	if mt.sourced {
		scarce = d.central[m.silver]-d.central[chloride] > sure*d.sdOfDifference(m.silver, chloride)
	}
	m.chlorideSpent = found
	if (mt.sourced && !scarce) || (!mt.sourced && !found) || m.closing == m.ids.chloride {
		return
	}
	mt.solid.statements = append(mt.solid.statements, statement{
		kind: chlorideToSalt, metal: m.silver, label: "solid by the chloride poured in", of: "solid",
		formula: "Ag⁺ + Cl⁻ → AgCl, chloride being the scarcer", basis: "solubility product of silver chloride",
	})
}

// surelyFound reports whether a statement about the liquid found the metal there.
func (m *Model) surelyFound(d differences, k int) bool {
	at := m.rawStart()
	for i := 0; i < k; i++ {
		at += len(m.metals[i].liquid.statements) + len(m.metals[i].solid.statements)
	}
	for i := range m.metals[k].liquid.statements {
		if x := d.central[at+i]; x > 0 && x > sure*d.sd(at+i) {
			return true
		}
	}
	return false
}

// chooseMode settles how total and phases of a metal come about.
func (m *Model) chooseMode(k int) {
	mt := &m.metals[k]
	liquid, solid := len(mt.liquid.statements) > 0, len(mt.solid.statements) > 0
	switch {
	case !liquid && !solid:
		mt.mode = fromSources
	case !mt.sourced:
		mt.mode = phasesOnly
	case mt.liquid.known() && mt.solid.known():
		mt.mode = bothPhases
	case liquid:
		mt.mode = liquidSplits
	default:
		mt.mode = solidSplits
	}
}

// fixPair fixes the weights of sources against phases.
func (m *Model) fixPair(d differences, k int) {
	mt := &m.metals[k]
	s, l, q, both := phaseWidth*k, phaseWidth*k+1, phaseWidth*k+2, phaseWidth*k+3
	switch mt.mode {
	case liquidSplits:
		mt.total.combination = oneSided(d.central[l]-d.central[s], d.sdOfDifference(l, s))
	case solidSplits:
		mt.total.combination = oneSided(d.central[q]-d.central[s], d.sdOfDifference(q, s))
	case bothPhases:
		c := combine([]float64{d.central[s], d.central[both]}, []float64{d.sd(s), d.sd(both)})
		mt.total.combination = c
		u, w := d.sd(l), d.sd(q)
		share := 1.0
		if sum := u*u + w*w; sum > 0 {
			share = u * u / sum
		} else if d.central[both] > 0 {
			share = d.central[l] / d.central[both]
		}
		mt.total.liquidPull = c.weights[0] * share
		mt.total.solidPull = c.weights[0] * (1 - share)
	}
}

// oneSided is the conflict of a phase that holds more than the sources: χ² of
// the excess where there is one, with the weight on the sources.
func oneSided(excess, sd float64) combination {
	c := combination{weights: []float64{1, 0}, freedom: 1, p: 1}
	if excess > 0 && sd > 0 {
		c.chiSquared = excess * excess / (sd * sd)
		c.p = survival(c.chiSquared, 1)
	}
	return c
}

// widenTotal widens the doubt of a total whose statements contradict each other.
func (m *Model) widenTotal(figs *input.Figures, phases, totals differences, k int) {
	mt := &m.metals[k]
	if extra := mt.total.combination.extra(totals.sd(k)); extra > 0 {
		mt.total.spread = m.assumeDisagreement(figs, mt.symbol+"/total", extra, mt.total.combination.p)
	}
}
