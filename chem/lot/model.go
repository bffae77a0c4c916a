package lot

import (
	"afterpour/chem/equil"
	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// Model is a lot made ready for calculation: which estimates there are of each
// metal and of the acid, and with which weights they are combined. It does not
// change once made, so that any number of goroutines can use it.
type Model struct {
	lot *Lot
	eq  equil.Equilibrator
	ids fixedIDs

	metals []metal
	paths  []path
	pours  []pour
	pieces []piece
	plates []plate
	takes  []taking
	solids []solidEntry
	acid   acid

	agent        string // what dissolved a metal whose statement does not say
	agentAssumed bool
	species      int
	silver       int // index of silver; -1 if the lot has none

	volumeFrom   volumeRule
	volumeFactor input.Ref
	no2          input.Ref
	cemented     input.Ref
	peroxideLeft input.Ref
	standing     []base
	oxidants     []substance.SpeciesID // metal ions poured in that dissolving uses up
	bases        []pouredBase
	binders      []binder

	acidPoured, basePoured, nitratePoured bool
	chlorideSpent                         bool // silver found in the liquid: no chloride is left there
	closing                               substance.SpeciesID
	closingCharge                         float64
	closingAssumed                        bool

	own     []input.Ref // inputs that the file does not name
	inputs  input.Set   // every input of the lot
	wiggles []wiggle
	assumed []input.Ref // inputs whose value or doubt is assumed
}

// Model fixes the weights from the doubts of the figures and registers the
// inputs that the file does not name: the share of nitric acid reduced to
// nitrogen dioxide, and a disagreement where statements contradict each other.
// Errors: a figure that cannot be turned into moles.
func (l *Lot) Model(figs *input.Figures) (*Model, error) {
	return l.ModelWith(figs, equil.Limiting{})
}

// ModelWith is Model with another equilibrium.
func (l *Lot) ModelWith(figs *input.Figures, eq equil.Equilibrator) (*Model, error) {
	m := &Model{
		lot: l, eq: eq, ids: findIDs(), species: len(substance.AllSpecies()), silver: -1,
		volumeFactor: input.NoRef, no2: input.NoRef, cemented: input.NoRef, peroxideLeft: input.NoRef,
	}
	m.acid.spread, m.acid.topSpread, m.acid.assumed = input.NoRef, input.NoRef, input.NoRef
	if err := m.compile(figs); err != nil {
		return nil, err
	}
	m.silver = m.index("Ag")
	m.findBinders()
	m.findVolume(figs)
	m.addShares(figs)
	m.addStatements(figs)
	m.addAcidStatements(figs)
	m.chooseClosing()
	m.fixMetals(figs)
	m.fixAcid(figs)
	m.close(figs)
	return m, nil
}

// close collects the inputs once all are registered.
func (m *Model) close(figs *input.Figures) {
	refs := m.refs()
	m.inputs = input.Set{}.With(refs...)
	m.wiggles = wiggles(figs, refs)
	for _, r := range refs {
		if figs.Get(r).Origin == input.Assumed {
			m.assumed = append(m.assumed, r)
		}
	}
}

// refs are the inputs of the lot so far: those of the file, then the model's own.
func (m *Model) refs() []input.Ref {
	return append(append([]input.Ref(nil), m.lot.figs...), m.own...)
}

// assume registers an input that the file does not name.
func (m *Model) assume(figs *input.Figures, id string, kind units.Kind, dist units.Dist, source string) input.Ref {
	ref := figs.Add(input.Figure{
		ID: "lot/" + id, Kind: kind, Dist: dist, Text: units.FormatDist(kind, dist), Origin: input.Assumed, Source: source,
	})
	m.own = append(m.own, ref)
	return ref
}

// defaultAgent settles what dissolved metal whose statement does not say: what
// another piece says, else what was poured in, else nitric acid.
func (m *Model) defaultAgent() {
	for _, d := range m.lot.Dissolved {
		if d.By != "" {
			m.agent = d.By
			return
		}
	}
	poured := map[string]bool{}
	for _, a := range m.lot.Added {
		poured[a.Reagent] = true
	}
	for _, guess := range agentGuesses {
		if poured[guess.first] && (guess.second == "" || poured[guess.second]) {
			m.agent = guess.agent
			return
		}
	}
	m.agent, m.agentAssumed = "nitric acid", true
}

// agentGuesses are tried in order: nitric acid with a little hydrochloric acid
// is a parting acid to which chloride was added, not aqua regia.
var agentGuesses = []struct{ agent, first, second string }{
	{"nitric acid", "nitric-acid", ""},
	{"hydrochloric acid + peroxide", "hydrochloric-acid", "hydrogen-peroxide"},
	{"sulfuric acid + peroxide", "sulfuric-acid", "hydrogen-peroxide"},
	{"iron(III) chloride", "iron-chloride", ""},
	{"copper(II) chloride", "copper-chloride", ""},
	{"hydrochloric acid", "hydrochloric-acid", ""},
	{"sulfuric acid", "sulfuric-acid", ""},
}

// findVolume settles where the volume of the liquid comes from.
func (m *Model) findVolume(figs *input.Figures) {
	poured := 0.0
	for i := range m.pours {
		poured += m.pours[i].litres(figs.Central())
	}
	switch {
	case m.lot.Vessel.Liquid != input.NoRef:
		m.volumeFrom = statedVolume
	case poured > 0:
		m.volumeFrom = pouredVolume
		m.volumeFactor = m.assume(figs, "vessel/liquid-over-poured", units.Number, units.NormalDist(1, 0.1).Bounded(0, 2),
			"volume not stated: the sum of what was poured in, with 10 % for evaporation, rinses and shrinkage (assumption)")
	case len(m.pieces)+len(m.plates) > 0:
		m.volumeFrom = dilutedVolume
		m.volumeFactor = m.assume(figs, "vessel/litres-per-kilogram", units.Number, units.LognormalDist(10, 4),
			"volume not stated: about 10 L a kilogram dissolved, as parting liquors of some 100 g/L have (assumption)")
	case len(m.solids) > 0:
		m.volumeFrom = moistureOnly
	}
}

// addShares registers the shares in which reactions branch.
func (m *Model) addShares(figs *input.Figures) {
	for i := range m.paths {
		p := &m.paths[i]
		symbol := m.metals[p.metal].symbol
		why := "how much " + symbol + " reduces nitrate further than nitric oxide depends on how cold and dilute the acid was (assumption: up to 40 % each)"
		if p.has(branchN2O) {
			p.n2o = m.assume(figs, "nitric/"+symbol+"/n2o-share", units.Fraction, units.UniformDist(0, 0.4), why)
		}
		if p.has(branchNH4) {
			p.nh4 = m.assume(figs, "nitric/"+symbol+"/ammonium-share", units.Fraction, units.UniformDist(0, 0.4), why)
		}
	}
	for _, a := range m.lot.Added {
		if a.Reagent == "hydrogen-peroxide" && m.peroxideLeft == input.NoRef {
			m.peroxideLeft = m.assume(figs, "peroxide/left", units.Fraction, units.UniformDist(0, 1),
				"hydrogen peroxide that metal did not use decomposes on copper within hours to days (assumption: any share may be left)")
		}
	}
	m.findOxidants()
	if m.silver >= 0 && m.metalStands() {
		m.addStanding(figs)
	}
}

// findOxidants lists the metal ions that were poured in and that dissolving
// uses up.
func (m *Model) findOxidants() {
	for _, name := range []string{"Fe^3+", "Cu^2+"} {
		if id := substance.MustFind(name); m.pourBrings(id) {
			m.oxidants = append(m.oxidants, id)
		}
	}
}

func (m *Model) pourBrings(id substance.SpeciesID) bool {
	for i := range m.pours {
		for _, t := range m.pours[i].enters {
			if t.Species == id {
				return true
			}
		}
	}
	return false
}

// addStanding lists the metals on which silver has cemented.
func (m *Model) addStanding(figs *input.Figures) {
	m.cemented = m.assume(figs, "vessel/cemented-share", units.Fraction, units.TriangularDist(0.5, 1, 1),
		"silver already down on the metal that still stands there: most of it within hours (common practice; a salt drop tells)")
	for _, symbol := range lessNobleThanSilver {
		k := m.index(symbol)
		if k < 0 || !m.metals[k].soluble {
			continue
		}
		ion := m.metals[k].ion
		if symbol == "Sn" { // tin turns to its oxide in nitric acid, it does not wait for silver
			continue
		}
		m.standing = append(m.standing, base{element: m.metals[k].element, ion: ion, charge: float64(ion.Species().Charge)})
	}
}

// chooseClosing settles which anion balances the charge: that of the acids
// which made the liquor; nitrate where nothing says otherwise.
func (m *Model) chooseClosing() {
	m.closing, m.closingCharge = m.ids.nitrate, 1
	anions := map[substance.SpeciesID]bool{}
	for i := range m.pours {
		for _, t := range m.pours[i].enters {
			anions[t.Species] = anions[t.Species] || m.pours[i].makesLiquor()
		}
	}
	agents := map[string]bool{}
	for i := range m.paths {
		agents[m.paths[i].agent] = true
	}
	if len(m.paths) == 0 {
		agents[m.agent] = true
	}
	nitric := m.nitratePoured || !m.agentAssumed && (agents["nitric acid"] || agents["aqua regia"])
	switch {
	case nitric:
	case anions[m.ids.chloride] || agents["hydrochloric acid"] || agents["hydrochloric acid + peroxide"] || agents["iron(III) chloride"] || agents["copper(II) chloride"]:
		m.closing = m.ids.chloride
	case anions[m.ids.sulfate] || agents["sulfuric acid"] || agents["sulfuric acid + peroxide"] || agents["hot strong sulfuric acid"]:
		m.closing, m.closingCharge = m.ids.sulfate, 2
	default:
		m.closingAssumed = true
	}
}
