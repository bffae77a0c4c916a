package lot

import (
	"math"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// Report is what the lot holds, at the central values, each figure with its
// standard uncertainty.
type Report struct {
	Title       string
	Date        time.Time // zero if not stated
	Metals      []MetalReport
	Acid        AcidReport
	Volume      units.Volume // of the liquid
	VolumeSD    units.Volume
	SolidVolume units.Volume // of the solids alone, without pores: liquid and solids together fill the vessel to Volume + SolidVolume
	// SettledVolume is the layer that the solids settle to, with the liquor
	// between their grains, which is part of Volume.
	SettledVolume, SettledVolumeSD units.Volume
	Temperature                    units.Temperature
	PH                             float64
	Notes                          []Note
	Assumed                        []input.Ref // figures of the lot that rest on a default or an assumption
	Declared                       []string
	Acknowledged                   []string
	LotsPerYear                    float64 // 0 if not stated
}

// MetalReport is one metal of the lot. Contained = Dissolved + Solid.
type MetalReport struct {
	Metal                  string // element symbol
	Contained, SD          units.Mass
	Dissolved, DissolvedSD units.Mass
	Solid, SolidSD         units.Mass
	Estimates              []Estimate
	ChiSquared, P          float64 // of the estimates that disagree most; P is 1 with fewer than two
	Disagree               bool    // P < 0.05, or more in a phase than in all
	Inputs                 []input.Ref
	SolidForms             []SolidForm
	Formula                string // in words, how the total came about
}

// SolidForm is one solid that holds the metal.
type SolidForm struct {
	Species string // canonical name
	Mass    units.Mass
	Metal   units.Mass // of the metal in it
}

// Estimate is one statement about a metal's mass, before it is combined.
type Estimate struct {
	Label    string // "sources", "liquid and solid", "liquid by AAS", …
	Of       string // "total", "dissolved", "solid"
	Mass, SD units.Mass
	Weight   float64 // among the estimates of the same thing, 0 to 1
	Inputs   []input.Ref
	Formula  string
	Source   string
	Disagree bool
}

// AcidReport is the free acid of the liquor.
type AcidReport struct {
	FreeMol, SD     float64             // mol of H^+; negative: alkali left over
	Concentration   units.Concentration // mol/L; 0 where there is no liquid
	ConcentrationSD units.Concentration
	LowMol, HighMol float64 // what the sources alone leave, from all nitrogen dioxide to all nitric oxide; not below 0 unless a base went in
	Estimates       []AcidEstimate
	ChiSquared, P   float64
	Disagree        bool
	Inputs          []input.Ref
}

// AcidEstimate is one statement about the free acid, in mol of H^+.
type AcidEstimate struct {
	Label    string
	Mol, SD  float64
	Weight   float64 // among the estimates of the same thing, 0 to 1
	Inputs   []input.Ref
	Formula  string
	Source   string
	Disagree bool
}

// Report works out the central figures and their doubts at v, by differences
// over the lot's inputs (JCGM 100:2008, 5.1.3, note 2). A doubt is a standard
// uncertainty and never negative.
func (m *Model) Report(v input.Values) Report {
	d := differ(v, m.wiggles, m.figures)
	inv := m.Inventory(v)
	r := Report{
		Title: m.lot.Title, Date: m.lot.Date, Declared: m.lot.Declared, Acknowledged: m.lot.Acknowledged,
		Volume: inv.Volume, VolumeSD: units.Volume(d.sd(figureVolume)), PH: inv.PH,
		Temperature: units.Temperature(v.At(m.lot.Vessel.Temperature)),
	}
	solids := m.bedOf(v, inv.Vessel, inv.Volume)
	r.SolidVolume, r.SettledVolume = solids.own, solids.layer()
	r.SettledVolumeSD = units.Volume(math.Hypot(d.sd(figureSettled), float64(solids.doubt())))
	if m.lot.LotsPerYear != input.NoRef {
		r.LotsPerYear = v.At(m.lot.LotsPerYear)
	}
	for k := range m.metals {
		r.Metals = append(r.Metals, m.metalReport(d, k, inv.Vessel))
	}
	st := m.settle(v)
	for k := range m.metals {
		r.Metals[k].Disagree = r.Metals[k].Disagree || m.overdrawn(st, k) || k == m.silver && m.silverAgainstChloride(st)
	}
	r.Acid = m.acidReport(d, v)
	r.Assumed = m.assumed
	r.Notes = m.notes(&r, inv, v)
	return r
}

// The figures that Report differentiates: first those of the lot as a whole,
// then a block for each metal, then the statements about the acid.
const (
	figureVolume = iota
	figureFree
	figureMolar
	figureAcidLeft
	figureAcidFound
	figureSettled
	figuresOfLot
)

// The block of a metal, in kg; its statements follow.
const (
	figureContained = iota
	figureDissolved
	figureSolid
	figureSource
	figurePhases
	figuresOfMetal
)

// metalAt is where the block of a metal starts.
func (m *Model) metalAt(k int) int {
	at := figuresOfLot
	for i := 0; i < k; i++ {
		at += figuresOfMetal + m.statements(i)
	}
	return at
}

func (m *Model) statements(k int) int {
	return len(m.metals[k].liquid.statements) + len(m.metals[k].solid.statements)
}

// figures works out everything that Report shows with a doubt.
func (m *Model) figures(v input.Values) []float64 {
	st := m.settle(v)
	inv := m.Inventory(v)
	out := make([]float64, 0, m.metalAt(len(m.metals))+len(m.acid.statements))
	out = append(out, st.volume, st.free, ratio(st.free, st.volume), st.acidLeft(), m.acidFound(st), float64(m.bedOf(v, inv.Vessel, inv.Volume).layer()))
	for k := range m.metals {
		out = m.metalFigures(out, st, k, inv.Vessel)
	}
	for i := range m.acid.statements {
		out = append(out, m.acidMol(&m.acid.statements[i], st))
	}
	return out
}

func (m *Model) metalFigures(out []float64, st *state, k int, s substance.Stream) []float64 {
	mt := &m.metals[k]
	kg := mt.molar / gramsPerKilogram
	wet, dry := 0.0, 0.0
	for _, f := range mt.forms {
		if f.dissolved {
			wet += f.atoms * s.Mol[f.id] * kg
		} else {
			dry += f.atoms * s.Mol[f.id] * kg
		}
	}
	phases := m.phaseMol(&mt.liquid, st) + m.phaseMol(&mt.solid, st)
	out = append(out, wet+dry, wet, dry, st.source[k]*kg, phases*kg)
	for _, p := range []*phase{&mt.liquid, &mt.solid} {
		for i := range p.statements {
			out = append(out, m.statementMol(&p.statements[i], st)*kg)
		}
	}
	return out
}

func (m *Model) metalReport(d differences, k int, s substance.Stream) MetalReport {
	mt := &m.metals[k]
	at := m.metalAt(k)
	r := MetalReport{
		Metal:     mt.symbol,
		Contained: units.Mass(d.central[at+figureContained]), SD: units.Mass(d.sd(at + figureContained)),
		Dissolved: units.Mass(d.central[at+figureDissolved]), DissolvedSD: units.Mass(d.sd(at + figureDissolved)),
		Solid: units.Mass(d.central[at+figureSolid]), SolidSD: units.Mass(d.sd(at + figureSolid)),
		Inputs: d.rests(at + figureContained), Formula: modeWords[mt.mode],
	}
	r.ChiSquared, r.P = mt.worst()
	r.Disagree = r.P < disagreeAt
	r.Estimates = m.estimates(d, k)
	for _, f := range mt.forms {
		if n := s.Mol[f.id]; !f.dissolved && n > 0 {
			sp := f.id.Species()
			r.SolidForms = append(r.SolidForms, SolidForm{
				Species: sp.Name,
				Mass:    units.Mass(n * float64(sp.MolarMass) / gramsPerKilogram),
				Metal:   units.Mass(n * f.atoms * mt.molar / gramsPerKilogram),
			})
		}
	}
	return r
}

// overdrawn reports whether more of a metal was taken out than went in.
func (m *Model) overdrawn(st *state, k int) bool { return m.metals[k].sourced && st.source[k] < 0 }

// silverAgainstChloride reports whether silver was found in a liquid that
// should hold none, since more chloride than silver went in.
func (m *Model) silverAgainstChloride(st *state) bool {
	if m.silver < 0 || !m.chlorideSpent || !m.metals[m.silver].sourced {
		return false
	}
	liquid := m.phaseMol(&m.metals[m.silver].liquid, st)
	return st.chloride > 0 && st.chloride >= st.source[m.silver]+liquid/2
}

// modeWords say how a total came about.
var modeWords = map[mode]string{
	fromSources:  "what went in, less what was taken out",
	liquidSplits: "what went in, less what was taken out; the liquid measured, the solid the balance",
	solidSplits:  "what went in, less what was taken out; the solid measured, the liquid the balance",
	bothPhases:   "inverse-variance mean of what went in and of liquid plus solid",
	phasesOnly:   "liquid plus solid as measured; nothing is stated to have gone in",
}

// worst is the combination of a metal's statements with the least probability.
func (mt *metal) worst() (chiSquared, p float64) {
	p = 1
	for _, c := range []combination{mt.liquid.combination, mt.solid.combination, mt.total.combination} {
		if c.freedom > 0 && c.p <= p && (c.p < p || c.chiSquared > chiSquared) {
			chiSquared, p = c.chiSquared, c.p
		}
	}
	return chiSquared, p
}

// estimates lists the statements about one metal.
func (m *Model) estimates(d differences, k int) []Estimate {
	mt := &m.metals[k]
	at := m.metalAt(k)
	var list []Estimate
	add := func(j int, e Estimate) {
		e.Mass, e.SD, e.Inputs = units.Mass(d.central[j]), units.Mass(d.sd(j)), d.rests(j)
		list = append(list, e)
	}
	torn := mt.total.combination.freedom > 0 && mt.total.combination.disagrees()
	if mt.sourced {
		e := Estimate{Label: "sources", Of: "total", Weight: 1, Disagree: torn, Formula: "dissolved + plated + added − taken", Source: "statements of what went in"}
		if mt.mode == bothPhases {
			e.Weight = mt.total.combination.weights[0]
		}
		add(at+figureSource, e)
	}
	if mt.mode == bothPhases {
		add(at+figurePhases, Estimate{Label: "liquid and solid", Of: "total", Weight: mt.total.combination.weights[1], Disagree: torn, Formula: "liquid + solid", Source: "measurements of the phases"})
	}
	at += figuresOfMetal
	for _, p := range []*phase{&mt.liquid, &mt.solid} {
		for i, s := range p.statements {
			add(at, Estimate{
				Label: s.label, Of: s.of, Weight: p.combination.weights[i], Formula: s.formula, Source: s.basis,
				Disagree: p.combination.disagrees() || mt.mode != bothPhases && torn,
			})
			at++
		}
	}
	return list
}

func (m *Model) acidReport(d differences, v input.Values) AcidReport {
	a := &m.acid
	r := AcidReport{
		FreeMol: d.central[figureFree], SD: d.sd(figureFree),
		Concentration: units.Concentration(d.central[figureMolar]), ConcentrationSD: units.Concentration(d.sd(figureMolar)),
		Inputs: d.rests(figureFree), P: 1,
	}
	r.LowMol, r.HighMol = r.FreeMol, r.FreeMol
	if a.fromSources {
		r.LowMol, r.HighMol = m.acidAt(v, 1), m.acidAt(v, 0)
		if !m.basePoured {
			r.LowMol, r.HighMol = math.Max(0, r.LowMol), math.Max(0, r.HighMol)
		}
	}
	for _, c := range []combination{a.combination, a.top} {
		if c.freedom > 0 && c.p < r.P {
			r.ChiSquared, r.P = c.chiSquared, c.p
		}
	}
	r.Disagree = r.P < disagreeAt
	r.Estimates = m.acidEstimates(d)
	return r
}

// labelAcidLeft is the label of the sources' estimate of the free acid.
const labelAcidLeft = "poured in less used"

func (m *Model) acidEstimates(d differences) []AcidEstimate {
	a := &m.acid
	var list []AcidEstimate
	add := func(j int, e AcidEstimate) {
		e.Mol, e.SD, e.Inputs = d.central[j], d.sd(j), d.rests(j)
		list = append(list, e)
	}
	torn := a.top.freedom > 0 && a.top.disagrees()
	if a.fromSources {
		e := AcidEstimate{Label: labelAcidLeft, Weight: 1, Disagree: torn, Formula: "acid − bases − used by dissolving", Source: "dissolving reactions"}
		if len(a.top.weights) > 0 {
			e.Weight = a.top.weights[0]
		}
		add(figureAcidLeft, e)
	}
	at := m.metalAt(len(m.metals))
	for i, s := range a.statements {
		add(at+i, AcidEstimate{
			Label: s.label, Weight: a.combination.weights[i], Formula: s.formula, Source: s.basis,
			Disagree: torn || a.combination.disagrees(),
		})
	}
	return list
}
