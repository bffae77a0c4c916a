package lot

import (
	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// Inventory is what stands in the vessel at one set of plain values. It holds
// no doubt: call it at other values for that.
type Inventory struct {
	Vessel   substance.Stream // everything in the vessel: water, dissolved species, solids
	FreeAcid float64          // mol of H^+; negative: mol of alkali that no acid took up, before hydroxides came down
	Volume   units.Volume     // of the liquid
	PH       float64          // as the equilibrium gives it
	Ammonium float64          // mol of NH4^+ and NH3: such a nitrate liquor is not boiled dry
	Crowded  bool             // the volume stated is too small for what is dissolved in it: there is no room for water
	Warnings []string         // of the equilibrium
}

// Inventory works out the vessel at v. It is a pure function of v: no state, no
// clock, safe for concurrent use. Elements are as the statements give them,
// charge is zero to rounding, and no figure is infinite or not a number as long
// as the values lie within the bounds of their figures.
func (m *Model) Inventory(v input.Values) Inventory {
	st := m.settle(v)
	s := m.liquor(st)
	inv := Inventory{FreeAcid: st.free, Volume: units.Volume(st.volume)}
	inv.PH = neutral
	if st.volume > 0 {
		m.equilibrate(&s, st, &inv)
	}
	inv.Ammonium = s.Mol[m.ids.ammonium] + s.Mol[m.ids.ammonia]
	inv.Vessel = s
	return inv
}

// neutral is the pH given for a lot without liquid.
const neutral = 7

// equilibrate lets the liquor react, lets the gases go, and puts back the
// volume that was stated.
func (m *Model) equilibrate(s *substance.Stream, st *state, inv *Inventory) {
	outcome, err := m.eq.Equilibrate(s)
	if err != nil {
		inv.Warnings = append(inv.Warnings, err.Error())
	}
	inv.PH = outcome.PH
	inv.Warnings = append(inv.Warnings, outcome.Warnings...)
	m.airOut(s)
	if _, err := s.FillToVolume(units.Volume(st.volume)); err != nil {
		inv.Crowded = true
	}
}

// settle runs the stages that lead to the combined amounts.
func (m *Model) settle(v input.Values) *state {
	st := m.newState(v)
	m.addSources(st)
	m.addTotals(st)
	m.addAcid(st)
	return st
}

// airOut lets the gases go: the lot stood open before it was described.
func (m *Model) airOut(s *substance.Stream) {
	for _, id := range m.ids.gases {
		s.Mol[id] = 0
	}
}
