package lot

import (
	"afterpour/chem/input"
	"afterpour/chem/units"
)

// fixAcid settles what is known of the free acid: the range that the reactions
// leave open, then the weights of sources against measurements.
func (m *Model) fixAcid(figs *input.Figures) {
	a := &m.acid
	forked := m.anyForked()
	a.fromSources = m.acidPoured || m.basePoured && !forked
	if a.fromSources && forked {
		m.narrowBranch(figs)
	}
	if !a.fromSources && len(a.statements) == 0 && m.mayHoldAcid() {
		m.assumeAcid(figs, forked)
	}
	m.fixAcidFound(figs)
	switch {
	case a.fromSources && len(a.statements) > 0:
		m.fixAcidTop(figs)
	case a.fromSources && !m.basePoured:
		m.fixShortage(figs)
	}
}

// assumeAcid registers the free acid of a liquor of which nothing is known.
func (m *Model) assumeAcid(figs *input.Figures, forked bool) {
	most, why := 0.5, "free acid neither stated nor measured: etching baths of metal salts hold up to about 0.5 mol/L (assumption)"
	if forked {
		most, why = 2, "free acid neither stated nor measured: liquors left from dissolving metal in nitric acid hold up to about 2 mol/L (assumption)"
	}
	m.acid.assumed = m.assume(figs, freeAcidID, units.ConcentrationKind, units.UniformDist(0, most), why)
}

// fixShortage treats acid that does not suffice for the metal stated as a
// conflict of the sources with themselves.
func (m *Model) fixShortage(figs *input.Figures) {
	a := &m.acid
	d := m.differAcid(figs)
	short := oneSided(-d.central[0], d.sd(0))
	if !short.disagrees() {
		return
	}
	a.top = short
	a.topSpread = m.assumeDisagreement(figs, "acid/total", short.extra(d.sd(0)), short.p)
}

func (m *Model) anyForked() bool {
	for i := range m.paths {
		if m.paths[i].forked() {
			return true
		}
	}
	return false
}

// mayHoldAcid reports whether the lot is a liquor with metal in it.
func (m *Model) mayHoldAcid() bool {
	for k := range m.metals {
		mt := &m.metals[k]
		if len(mt.liquid.statements) > 0 || mt.sourced && len(mt.paths) > 0 && !m.staysDry(k) {
			return true
		}
	}
	return false
}

// narrowBranch registers the share of the nitric acid reaction that ran to
// nitrogen dioxide: any share, but no more than the acid poured in allows.
func (m *Model) narrowBranch(figs *input.Figures) {
	v := figs.Central()
	most := 1.0
	frugal, wasteful := m.acidAt(v, 0), m.acidAt(v, 1)
	why := "nitric acid runs to nitric oxide in dilute and to nitrogen dioxide in strong acid, trading places near 4 mol/L; the file does not say how strong it was: any share"
	if wasteful < 0 && !m.basePoured {
		most = 0
		if frugal > 0 {
			most = frugal / (frugal - wasteful)
		}
		why += ", up to where the acid poured in was all used"
	}
	m.no2 = m.assume(figs, no2ID, units.Fraction, units.UniformDist(0, most), why)
}

// acidAt is the free acid by the sources at a given share of the reaction to NO2.
func (m *Model) acidAt(v input.Values, no2 float64) float64 {
	st := m.newState(v)
	m.addSources(st)
	m.addTotals(st)
	m.useAcid(st, no2)
	return st.acidLeft()
}

// differAcid works out the differences of what the sources leave, what was
// found, the volume, and every statement about the acid.
func (m *Model) differAcid(figs *input.Figures) differences {
	return m.differ(figs, func(st *state) []float64 {
		m.addTotals(st)
		m.useAcid(st, m.no2Share(st.v))
		out := []float64{st.acidLeft(), m.acidFound(st), st.volume}
		for i := range m.acid.statements {
			out = append(out, m.acidMol(&m.acid.statements[i], st))
		}
		return out
	})
}

// fixAcidFound fixes the weights of the measurements among themselves, as
// concentrations.
func (m *Model) fixAcidFound(figs *input.Figures) {
	a := &m.acid
	n := len(a.statements)
	if n == 0 {
		return
	}
	a.combination.weights = make([]float64, n)
	d := m.differAcid(figs)
	c, u := m.fixMeasured(d, 3, n, d.movers(2))
	a.combination = c
	if extra := c.extra(u); extra > 0 {
		a.spread = m.assumeDisagreement(figs, "acid/measured", extra, c.p)
	}
}

// fixAcidTop fixes the weights of the sources against the measurements.
func (m *Model) fixAcidTop(figs *input.Figures) {
	a := &m.acid
	d := m.differAcid(figs)
	sds := []float64{d.sd(0), d.sd(1)}
	a.top = combine(d.central[:2], sds)
	if extra := a.top.extra(combinedSD(a.top.weights, sds)); extra > 0 {
		a.topSpread = m.assumeDisagreement(figs, "acid/total", extra, a.top.p)
	}
}
