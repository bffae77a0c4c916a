package lot

import (
	"fmt"
	"math"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// statementKind says how a statement about a phase is turned into mol.
type statementKind uint8

const (
	assayInGrams   statementKind = iota // g/L · V / M
	assayInMoles                        // mol/L · V
	titration                           // c · used · ratio / sample · V
	weighedSolid                        // dry mass · purity · atoms / M of the compound
	assayOfSolid                        // dry mass · share / M
	chlorideToSalt                      // one mol of silver chloride per mol of chloride poured in
)

// statement is one estimate of a metal in one phase.
type statement struct {
	kind                      statementKind
	metal                     int
	value                     input.Ref // of an assay
	sample, titrant, used     input.Ref // of a titration
	ratio                     input.Ref
	label, of, formula, basis string
}

// phase is what is known of a metal in the liquid or in the solid.
type phase struct {
	statements  []statement
	combination combination
	spread      input.Ref // mol, added where the statements disagree; else NoRef
	empty       bool      // no statement, but nothing can be there
}

// known reports whether the phase is measured or fixed by other facts, rather
// than merely what the others leave.
func (p *phase) known() bool { return p.empty || len(p.statements) > 0 }

// pair is how the sources and the sum of the phases are brought together.
type pair struct {
	combination combination
	liquidPull  float64   // share of the mismatch that the liquid takes up
	solidPull   float64   // … and the solid; the sources take up the rest
	spread      input.Ref // mol, added where sources and phases disagree; else NoRef
}

// mode is how the total and the phases of a metal come about.
type mode uint8

const (
	fromSources  mode = iota // the sources say all; the equilibrium splits it
	liquidSplits             // the sources give the total, the liquid was measured
	solidSplits              // the sources give the total, the solid was measured
	bothPhases               // two estimates of the total
	phasesOnly               // no source: what was measured is all there is
)

// mol is the value of a statement in mol of the metal in its phase.
func (m *Model) statementMol(s *statement, st *state) float64 {
	v := st.v
	switch s.kind {
	case assayInGrams:
		return v.At(s.value) * st.volume / m.metals[s.metal].molar
	case assayInMoles:
		return v.At(s.value) * st.volume
	case titration:
		return titrated(s, v) * st.volume
	case weighedSolid:
		return m.weighed(s.metal, v)
	case assayOfSolid:
		return m.dryMass(v) * v.At(s.value) * gramsPerKilogram / m.metals[s.metal].molar
	case chlorideToSalt:
		return st.chloride
	}
	return 0
}

// titrated is the concentration that a titration gives, in mol/L:
// c = c_titrant · V_used · ratio / V_sample.
func titrated(s *statement, v input.Values) float64 {
	sample := math.Max(v.At(s.sample), smallestSample)
	return v.At(s.titrant) * v.At(s.used) * v.At(s.ratio) / sample
}

// smallestSample, in litres, keeps a draw of a very doubtful sample volume from
// dividing by zero: a tenth of a drop.
const smallestSample = 5e-6

// dry is the dry mass of a solid in kg.
func (s *solidEntry) dry(v input.Values) float64 {
	return v.At(s.wetMass) * math.Max(0, 1-v.At(s.moisture))
}

func (m *Model) dryMass(v input.Values) float64 {
	sum := 0.0
	for i := range m.solids {
		sum += m.solids[i].dry(v)
	}
	return sum
}

// compoundMol is the compound in a solid, in mol.
func (s *solidEntry) compoundMol(v input.Values) float64 {
	return s.dry(v) * v.At(s.purity) * s.molPerKg
}

// weighed is a metal in all weighed solids that hold it, in mol.
func (m *Model) weighed(k int, v input.Values) float64 {
	sum := 0.0
	for _, h := range m.metals[k].solids {
		sum += m.solids[h.entry].compoundMol(v) * h.atoms
	}
	return sum
}

// phaseMol combines the statements of a phase with their fixed weights.
func (m *Model) phaseMol(p *phase, st *state) float64 {
	if len(p.statements) == 0 {
		return 0
	}
	sum := 0.0
	for i := range p.statements {
		sum += p.combination.weights[i] * m.statementMol(&p.statements[i], st)
	}
	if p.spread != input.NoRef {
		sum += st.v.At(p.spread)
	}
	return math.Max(0, sum)
}

// addTotals settles total, dissolved and solid of every metal.
func (m *Model) addTotals(st *state) {
	for k := range m.metals {
		mt := &m.metals[k]
		source := math.Max(0, st.source[k])
		liquid, solid := m.phaseMol(&mt.liquid, st), m.phaseMol(&mt.solid, st)
		st.total[k], st.dissolved[k], st.settled[k] = mt.split(source, liquid, solid, st.v)
		st.scale[k] = 1
		if mt.sourced && source > 0 {
			st.scale[k] = st.total[k] / source
		}
	}
}

// split brings sources S and phases L and Q together:
//
//	mismatch r = S − (L + Q);  D = L + a·r,  Q' = Q + b·r,  T = D + Q'
//
// which is the inverse-variance mean of S and L + Q when a and b are the
// shares of the variances of L and of Q in that of r.
func (mt *metal) split(source, liquid, solid float64, v input.Values) (total, dissolved, settled float64) {
	total, dissolved, settled = source, source, 0
	switch mt.mode {
	case fromSources:
		return total, dissolved, settled
	case phasesOnly:
		return liquid + solid, liquid, solid
	case liquidSplits:
		total = math.Max(0, source+mt.surplus(v))
		dissolved = math.Min(liquid, total)
		return total, dissolved, total - dissolved
	case solidSplits:
		total = math.Max(0, source+mt.surplus(v))
		settled = math.Min(solid, total)
		return total, total - settled, settled
	}
	r := source - liquid - solid
	dissolved = math.Max(0, liquid+mt.total.liquidPull*r)
	settled = math.Max(0, solid+mt.total.solidPull*r)
	if sum := dissolved + settled; sum > 0 && mt.total.spread != input.NoRef {
		by := math.Max(0, 1+mt.surplus(v)/sum)
		dissolved, settled = dissolved*by, settled*by
	}
	return dissolved + settled, dissolved, settled
}

// surplus is the value of the disagreement input of the total, 0 where there is none.
func (mt *metal) surplus(v input.Values) float64 {
	if mt.total.spread == input.NoRef {
		return 0
	}
	return v.At(mt.total.spread)
}

// addStatements collects what was measured of each metal.
func (m *Model) addStatements(figs *input.Figures) {
	for _, s := range m.lot.Measured {
		m.addAssay(s, figs)
	}
	for _, t := range m.lot.Titrated {
		if t.Of == OfAcid {
			continue
		}
		k := m.index(t.Of)
		m.metals[k].liquid.statements = append(m.metals[k].liquid.statements, statement{
			kind: titration, metal: k, sample: t.Sample, titrant: t.Titrant, used: t.Used, ratio: t.Ratio,
			label: "liquid by titration", of: "dissolved",
			formula: "titrant · used · ratio / sample · volume", basis: "stoichiometry of the titration",
		})
	}
	for k := range m.metals {
		if len(m.metals[k].solids) > 0 {
			m.metals[k].solid.statements = append(m.metals[k].solid.statements, statement{
				kind: weighedSolid, metal: k, label: "solid weighed", of: "solid",
				formula: "wet mass · (1 − moisture) · purity · metal share of the compound", basis: "formula of the compound",
			})
		}
	}
}

// widestMethod is how much of the name of a method is shown.
const widestMethod = 40

func (m *Model) addAssay(s Measured, figs *input.Figures) {
	k := m.index(s.Metal)
	by := input.Clean(s.By, widestMethod)
	if by == "" {
		by = "assay"
	}
	if s.In == InSolid {
		m.metals[k].solid.statements = append(m.metals[k].solid.statements, statement{
			kind: assayOfSolid, metal: k, value: s.Value, label: "solid by " + by, of: "solid",
			formula: "dry mass · share found", basis: by,
		})
		return
	}
	kind := assayInGrams
	if figs.Get(s.Value).Kind == units.ConcentrationKind {
		kind = assayInMoles
	}
	m.metals[k].liquid.statements = append(m.metals[k].liquid.statements, statement{
		kind: kind, metal: k, value: s.Value, label: fmt.Sprintf("liquid by %s", by), of: "dissolved",
		formula: "concentration · volume", basis: by,
	})
}
