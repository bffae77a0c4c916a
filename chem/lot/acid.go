package lot

import (
	"math"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// acid is what is known of the free acid of the liquor.
type acid struct {
	statements  []acidStatement
	combination combination
	spread      input.Ref // mol, where the statements disagree
	fromSources bool      // poured less used is an estimate
	top         combination
	topSpread   input.Ref
	assumed     input.Ref // mol/L, where nothing says anything
}

// acidKind says how a statement about free acid is turned into mol.
type acidKind uint8

const (
	acidByPH acidKind = iota
	acidByTitration
	acidOnStandingMetal
)

// acidStatement is one estimate of the free acid.
type acidStatement struct {
	kind                  acidKind
	value                 input.Ref // pH, or mol/L
	activity              input.Ref // coefficient of the hydrogen ion
	titration             statement
	label, formula, basis string
}

// These are the ids, after "lot/", of inputs that the file
// does not name.
const (
	no2ID      = "nitric/no2-share"
	activityID = "vessel/hydrogen-activity"
	spentID    = "acid/on-standing-metal"
	freeAcidID = "acid/free"
)

// bisulfateK is the second dissociation constant of sulfuric acid, mol/L at
// 25 degC and zero ionic strength: log K −1.987 (minteq.v4 database).
var bisulfateK = math.Pow(10, -1.987)

// waterIons is the ion product of water at 25 degC, log K −13.997 (minteq.v4 database).
var waterIons = math.Pow(10, -13.997)

// acidByActivity is the acid that a pH stands for, in mol/L of H^+ that a base
// would find down to hydrogensulfate:
//
//	a = 10^-pH,  c = a/γ − K_w/(a·γ) + S·a/(a + K₂)
//
// with γ the activity coefficient of the hydrogen ion, S the sulfate in mol/L.
func acidByActivity(ph, activity, sulfate float64) float64 {
	a := math.Pow(10, -ph)
	return (a-waterIons/a)/math.Max(activity, leastActivity) + sulfate*a/(a+bisulfateK)
}

const leastActivity = 0.1

// acidMol is the value of a statement in mol of H^+.
func (m *Model) acidMol(s *acidStatement, st *state) float64 {
	switch s.kind {
	case acidByTitration:
		return titrated(&s.titration, st.v) * st.volume
	case acidOnStandingMetal:
		return st.v.At(s.value) * st.volume
	}
	if !(st.volume > 0) {
		return 0
	}
	sulfate := st.brought[m.ids.sulfate] / st.volume
	return acidByActivity(st.v.At(s.value), st.v.At(s.activity), sulfate) * st.volume
}

// addAcid settles what acid was used and what is free.
func (m *Model) addAcid(st *state) {
	m.useAcid(st, m.no2Share(st.v))
	st.free = m.freeAcid(st)
}

// useAcid works out what dissolving used up, with the metals as combined.
func (m *Model) useAcid(st *state, no2 float64) {
	st.no2, st.acidUsed = no2, 0
	for k := range m.metals {
		mt := &m.metals[k]
		for _, i := range mt.paths {
			st.acidUsed += st.pathMol[i] * st.scale[k] * m.paths[i].acid(no2, st.v)
		}
		if mt.virtual >= 0 {
			st.acidUsed += st.dissolved[k] * m.paths[mt.virtual].acid(no2, st.v)
		}
	}
}

// acidLeft is what the sources leave: poured, less the bases, less what the
// metals used. Negative where more was used than poured.
func (st *state) acidLeft() float64 { return st.acidPoured - st.basePoured - st.acidUsed }

func (m *Model) freeAcid(st *state) float64 {
	a := &m.acid
	left, found := st.acidLeft(), m.acidFound(st)
	floor := 0.0
	free := 0.0
	switch {
	case a.fromSources && len(a.statements) > 0:
		free = a.top.weights[0]*left + a.top.weights[1]*found
		floor = math.Min(0, found)
		if a.topSpread != input.NoRef {
			free += st.v.At(a.topSpread)
		}
	case a.fromSources:
		free = left
		if a.topSpread != input.NoRef {
			free = math.Max(0, left) + st.v.At(a.topSpread)
		}
	case len(a.statements) > 0:
		return found
	case a.assumed != input.NoRef:
		return st.v.At(a.assumed) * st.volume
	}
	if m.basePoured {
		return math.Max(free, -st.basePoured)
	}
	return math.Max(free, floor)
}

// acidFound combines what was measured.
func (m *Model) acidFound(st *state) float64 {
	a := &m.acid
	sum := 0.0
	for i := range a.statements {
		sum += a.combination.weights[i] * m.acidMol(&a.statements[i], st)
	}
	if a.spread != input.NoRef {
		sum += st.v.At(a.spread)
	}
	return sum
}

// no2Share is the part of the nitric acid reaction that ran to NO2; half where
// no input says otherwise.
func (m *Model) no2Share(v input.Values) float64 {
	if m.no2 == input.NoRef {
		return evenShare
	}
	return v.At(m.no2)
}

const evenShare = 0.5

// addAcidStatements collects what was measured of the acid.
func (m *Model) addAcidStatements(figs *input.Figures) {
	a := &m.acid
	if ph := m.lot.Vessel.PH; ph != input.NoRef {
		activity := m.assume(figs, activityID, units.Number, units.NormalDist(0.8, 0.1).Bounded(leastActivity, math.Inf(1)),
			"activity coefficient of the hydrogen ion: 0.7 to 0.9 in acid and salt liquors of 0.1 to 2 mol/kg (Davies equation); assumption that this one is such")
		a.statements = append(a.statements, acidStatement{
			kind: acidByPH, value: ph, activity: activity, label: "pH measured",
			formula: "(10^−pH / activity coefficient + hydrogensulfate) · volume", basis: "definition of pH",
		})
	}
	for _, t := range m.lot.Titrated {
		if t.Of != OfAcid {
			continue
		}
		a.statements = append(a.statements, acidStatement{
			kind:      acidByTitration,
			titration: statement{sample: t.Sample, titrant: t.Titrant, used: t.Used, ratio: t.Ratio},
			label:     "acid titrated", formula: "titrant · used · ratio / sample · volume", basis: "stoichiometry of the titration",
		})
	}
	if m.metalStands() {
		spent := m.assume(figs, spentID, units.ConcentrationKind, units.UniformDist(0, 0.5),
			"free acid where metal less noble than silver still stands: nearly spent, or it would be gone (common practice)")
		a.statements = append(a.statements, acidStatement{
			kind: acidOnStandingMetal, value: spent, label: "metal still stands in the acid",
			formula: "0 to 0.5 mol/L · volume", basis: "common practice",
		})
	}
}

// metalStands reports whether metal less noble than silver was left standing in
// nitric acid.
func (m *Model) metalStands() bool {
	for i := range m.pieces {
		for _, s := range m.pieces[i].parts {
			if m.pieces[i].inVessel && s.base && m.paths[s.path].forked() {
				return true
			}
		}
	}
	return false
}
