package lot

import (
	"math"

	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// fixedIDs are the species that the inventory itself names.
type fixedIDs struct {
	water, hydrogen, hydroxide, sodium, chloride, nitrate, sulfate, ammonium, ammonia substance.SpeciesID
	silverIon, silver, silverChloride, peroxide                                       substance.SpeciesID
	gases                                                                             []substance.SpeciesID
	nonMetals                                                                         []substance.SpeciesID // dissolved species that reactions may use up
}

func findIDs() fixedIDs {
	find := substance.MustFind
	ids := fixedIDs{
		water: find("H2O(l)"), hydrogen: find("H^+"), hydroxide: find("OH^-"), sodium: find("Na^+"),
		chloride: find("Cl^-"), nitrate: find("NO3^-"), sulfate: find("SO4^2-"), ammonium: find("NH4^+"),
		ammonia: find("NH3(aq)"), silverIon: find("Ag^+"), silver: find("Ag(s)"), silverChloride: find("AgCl(s)"),
		peroxide: find("H2O2(aq)"),
	}
	for _, sp := range substance.AllSpecies() {
		switch {
		case sp.Phase == substance.Gas:
			ids.gases = append(ids.gases, sp.ID)
		case sp.Phase == substance.Aqueous && sp.Metal == "":
			ids.nonMetals = append(ids.nonMetals, sp.ID)
		}
	}
	return ids
}

// liquor puts the vessel together: everything that came in, each metal scaled
// to its combined total and split between liquid and solid as stated, the free
// acid, the anions that balance the charge, and water up to the volume.
func (m *Model) liquor(st *state) substance.Stream {
	s := substance.NewStream(units.Temperature(st.v.At(m.lot.Vessel.Temperature)))
	s.Inputs = m.inputs
	m.placeBrought(&s, st)
	for i := range m.paths {
		m.placePath(&s, st, i)
	}
	for k := range m.metals {
		m.settleOxidation(&s, k)
	}
	m.settleOthers(&s, st)
	m.cement(&s, st)
	chloride, sulfate := m.boundAnions(&s)
	for k := range m.metals {
		m.placePhases(&s, st, k)
	}
	m.freeAnions(&s, chloride, sulfate)
	m.placeAcid(&s, st)
	m.balanceCharge(&s)
	if st.volume > 0 {
		_, _ = s.FillToVolume(units.Volume(st.volume)) // Inventory says where there is no room for water
	}
	return s
}

// placeBrought adds what was poured in, except acid; bases keep the part that
// no acid took up.
func (m *Model) placeBrought(s *substance.Stream, st *state) {
	copy(s.Mol, st.brought)
	for k := range m.metals {
		if st.scale[k] == 1 {
			continue
		}
		for _, f := range m.metals[k].forms {
			s.Mol[f.id] *= st.scale[k]
		}
	}
	left := 0.0
	if st.basePoured > 0 {
		left = math.Min(1, math.Max(0, -st.free/st.basePoured))
	}
	for _, b := range m.bases {
		s.Mol[b.leaves] += s.Mol[b.species] * (1 - left) * b.count
		s.Mol[b.species] *= left
	}
}

// placePath adds what dissolving made: the metal's ions or solids, and what
// the reaction took of the oxidants that stand in the liquor.
func (m *Model) placePath(s *substance.Stream, st *state, i int) {
	p := &m.paths[i]
	n := st.pathMol[i] * st.scale[p.metal]
	if m.metals[p.metal].virtual == i {
		n = st.dissolved[p.metal]
	}
	if st.standby[i] > 0 {
		s.Mol[p.start] += st.standby[i] * st.scale[p.metal] / p.startAtoms
	}
	if n == 0 {
		return
	}
	for b := range p.branches {
		share := p.share(p.branches[b].name, st.no2, st.v)
		for _, t := range p.branches[b].terms {
			s.Mol[t.Species] += n * share * t.Nu
		}
	}
}

// settleOxidation mends a metal one of whose ions was used up below zero, as
// iron(III) that dissolved more copper than it could: the shortfall comes out
// of its other ions, so that the element's total stands.
func (m *Model) settleOxidation(s *substance.Stream, k int) {
	missing, present := 0.0, 0.0
	for _, f := range m.metals[k].forms {
		if n := s.Mol[f.id]; n < 0 {
			missing -= n * f.atoms
			s.Mol[f.id] = 0
		} else if f.dissolved {
			present += n * f.atoms
		}
	}
	if missing == 0 {
		return
	}
	keep := math.Max(0, ratio(present-missing, present))
	for _, f := range m.metals[k].forms {
		if f.dissolved {
			s.Mol[f.id] *= keep
		}
	}
}

// settleOthers mends ions and oxidants that reactions used up below zero, and
// lets peroxide decompose.
func (m *Model) settleOthers(s *substance.Stream, st *state) {
	for _, id := range m.ids.nonMetals {
		s.Mol[id] = math.Max(0, s.Mol[id])
	}
	if m.peroxideLeft != input.NoRef {
		s.Mol[m.ids.peroxide] *= st.v.At(m.peroxideLeft)
	}
}

// cement lets metal that still stands in the liquor bring silver down, as far
// as the input "cemented" says: n Ag⁺ + M → n Ag + M^n+. Chloride goes first.
func (m *Model) cement(s *substance.Stream, st *state) {
	if m.cemented == input.NoRef {
		return
	}
	mt := &m.metals[m.silver]
	wanted := st.v.At(m.cemented) * math.Max(0, s.Mol[m.ids.silverIon]-st.chloride)
	switch {
	case len(mt.solids) > 0:
		return
	case mt.mode != fromSources:
		wanted = math.Max(0, st.settled[m.silver]-st.chloride-s.Mol[m.ids.silver])
	}
	for _, b := range m.standing {
		x := math.Min(wanted, math.Min(s.Mol[m.ids.silverIon], b.charge*s.Mol[b.element]))
		if !(x > 0) {
			continue
		}
		s.Mol[m.ids.silverIon] = math.Max(0, s.Mol[m.ids.silverIon]-x)
		s.Mol[m.ids.silver] += x
		s.Mol[b.element] = math.Max(0, s.Mol[b.element]-x/b.charge)
		s.Mol[b.ion] += x / b.charge
		wanted -= x
	}
}

// base is a metal on which silver cements.
type base struct {
	element, ion substance.SpeciesID
	charge       float64
}

// placePhases moves a metal to the split that was measured.
func (m *Model) placePhases(s *substance.Stream, st *state, k int) {
	mt := &m.metals[k]
	if mt.mode == fromSources {
		return
	}
	wet, dry := 0.0, 0.0
	for _, f := range mt.forms {
		if f.dissolved {
			wet += s.Mol[f.id] * f.atoms
		} else {
			dry += s.Mol[f.id] * f.atoms
		}
	}
	m.placeDissolved(s, st, k, wet)
	m.placeSettled(s, st, k, dry)
}

func (m *Model) placeDissolved(s *substance.Stream, st *state, k int, present float64) {
	mt := &m.metals[k]
	if !(present > 0) {
		if mt.soluble {
			s.Mol[mt.ion] += st.dissolved[k] / mt.ionAtoms
		}
		return
	}
	by := st.dissolved[k] / present
	for _, f := range mt.forms {
		if f.dissolved {
			s.Mol[f.id] *= by
		}
	}
}

// placeSettled spreads a metal's solid over the compounds that were weighed;
// with none, over those that the sources leave; with none, its usual solid.
func (m *Model) placeSettled(s *substance.Stream, st *state, k int, present float64) {
	mt := &m.metals[k]
	settled, weighed := st.settled[k], m.weighed(k, st.v)
	if k == m.silver && !(weighed > 0) {
		salt := math.Min(settled, st.chloride)
		settled -= salt
		defer s.Add(m.ids.silverChloride, salt)
	}
	by := 0.0
	if !(weighed > 0) && present > 0 {
		by = settled / present
		settled = 0
	}
	for _, f := range mt.forms {
		if !f.dissolved {
			s.Mol[f.id] *= by
		}
	}
	if !(weighed > 0) {
		s.Mol[mt.hydroxide] += settled / mt.hydroxideAtoms
		return
	}
	for _, h := range mt.solids {
		e := &m.solids[h.entry]
		s.Mol[e.compound] += settled * e.compoundMol(st.v) / weighed
	}
}

// binder is a species of a metal that holds chloride or sulfate.
type binder struct {
	id                substance.SpeciesID
	chloride, sulfate float64 // in one formula
}

// findBinders lists the species of the lot's metals that hold chloride or sulfate.
func (m *Model) findBinders() {
	for k := range m.metals {
		for _, f := range m.metals[k].forms {
			formula := f.id.Species().Formula
			b := binder{id: f.id, chloride: formula.Atoms("Cl")}
			if formula.Atoms("O") >= 4 {
				b.sulfate = formula.Atoms("S")
			}
			if b.chloride > 0 || b.sulfate > 0 {
				m.binders = append(m.binders, b)
			}
		}
	}
}

// boundAnions is the chloride and the sulfate that the metals hold, in mol.
func (m *Model) boundAnions(s *substance.Stream) (chloride, sulfate float64) {
	for _, b := range m.binders {
		chloride += b.chloride * s.Mol[b.id]
		sulfate += b.sulfate * s.Mol[b.id]
	}
	return chloride, sulfate
}

// freeAnions takes from the liquor the chloride and sulfate that the metals
// hold more than before they were placed. A solid that holds more than was
// poured in brought its own. Where silver was found in the liquid no chloride
// is left there.
func (m *Model) freeAnions(s *substance.Stream, chloride, sulfate float64) {
	c, u := m.boundAnions(s)
	s.Mol[m.ids.chloride] = math.Max(0, s.Mol[m.ids.chloride]-(c-chloride))
	s.Mol[m.ids.sulfate] = math.Max(0, s.Mol[m.ids.sulfate]-(u-sulfate))
	if m.chlorideSpent && s.Mol[m.ids.silverIon] > 0 {
		s.Mol[m.ids.chloride] = 0
	}
}

func (m *Model) placeAcid(s *substance.Stream, st *state) {
	s.Mol[m.ids.hydrogen] = math.Max(0, st.free)
	if alkali := -st.free - st.basePoured; st.free < 0 && alkali > 0 {
		s.Mol[m.ids.hydroxide] += alkali
	}
}

// balanceCharge closes the charge with the anion of the acids; where the anions
// stated are already more than the cations, sodium stands for the cation that
// nothing names.
func (m *Model) balanceCharge(s *substance.Stream) {
	s.Mol[m.closing] = 0
	z := s.Charge()
	if z < 0 {
		s.Mol[m.ids.sodium] -= z
		return
	}
	s.Mol[m.closing] = z / m.closingCharge
}
