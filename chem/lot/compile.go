package lot

import (
	"fmt"

	"afterpour/chem/input"
	"afterpour/chem/substance"
)

// piece is a [[dissolved]] entry made ready: where its moles go.
type piece struct {
	mass, extent input.Ref
	inVessel     bool
	parts        []part
}

// part is one share of a piece.
type part struct {
	ref   input.Ref // NoRef for the rest
	metal int
	path  int
	perKg float64 // mol of the metal per kg of the form it stands in
	base  bool    // less noble than silver
}

// plate is a [[plated]] entry: mol = area · thickness · 1000 L/m3 / molar volume.
type plate struct {
	area, thickness input.Ref
	path            int
	perCubicMetre   float64 // mol
}

// solidEntry is a [[solid]] entry: dry mass = wet mass · (1 − moisture).
type solidEntry struct {
	compound                  substance.SpeciesID
	wetMass, moisture, purity input.Ref
	molPerKg                  float64 // of the compound
}

// compile turns the statements into terms over the metals of the lot.
func (m *Model) compile(figs *input.Figures) error {
	m.defaultAgent()
	m.collectMetals()
	for _, d := range m.lot.Dissolved {
		if err := m.compilePiece(d); err != nil {
			return err
		}
	}
	for _, p := range m.lot.Plated {
		if err := m.compilePlate(p); err != nil {
			return err
		}
	}
	for _, s := range m.lot.Solids {
		m.compileSolid(s)
	}
	for _, a := range m.lot.Added {
		if err := m.compilePour(a, figs); err != nil {
			return err
		}
	}
	for _, t := range m.lot.Taken {
		m.takes = append(m.takes, taking{metal: m.index(t.Metal), mass: t.Mass})
	}
	return m.compileVirtual()
}

// etchants are the agents that are themselves the salt of a metal.
var etchants = map[string]string{"iron(III) chloride": "Fe", "copper(II) chloride": "Cu"}

// collectMetals lists the metals that the lot names anywhere, noblest first.
func (m *Model) collectMetals() {
	seen := map[string]bool{}
	note := func(symbol string) {
		if !seen[symbol] && !isSpectator(symbol) {
			seen[symbol] = true
		}
	}
	noteAll := func(id substance.SpeciesID) {
		for _, symbol := range id.Species().Formula.Elements() {
			note(symbol)
		}
	}
	for _, d := range m.lot.Dissolved {
		for _, s := range d.Shares {
			seen[s.Element] = true
		}
		note(etchants[d.By])
	}
	note(etchants[m.agent])
	for _, p := range m.lot.Plated {
		note(p.Metal)
	}
	for _, t := range m.lot.Taken {
		note(t.Metal)
	}
	for _, s := range m.lot.Measured {
		note(s.Metal)
	}
	for _, t := range m.lot.Titrated {
		if t.Of != OfAcid {
			note(t.Of)
		}
	}
	for _, s := range m.lot.Solids {
		noteAll(s.Compound)
	}
	for _, a := range m.lot.Added {
		if r, err := findReagent(a.Reagent); err == nil {
			for _, t := range r.enters {
				noteAll(t.Species)
			}
		}
	}
	symbols := make([]string, 0, len(seen))
	for s := range seen {
		symbols = append(symbols, s)
	}
	sortMetals(symbols)
	for _, s := range symbols {
		m.metals = append(m.metals, newMetal(s))
	}
}

// index is the place of a metal; the metal was collected before.
func (m *Model) index(symbol string) int {
	for k := range m.metals {
		if m.metals[k].symbol == symbol {
			return k
		}
	}
	return -1
}

// pathOf finds or makes the path of a form of a metal with an agent.
func (m *Model) pathOf(k int, agent string, start substance.SpeciesID) (int, error) {
	for i := range m.paths {
		if p := &m.paths[i]; p.metal == k && p.agent == agent && p.start == start {
			return i, nil
		}
	}
	p, err := newPath(k, m.metals[k].symbol, agent, start)
	if err != nil {
		return 0, err
	}
	m.paths = append(m.paths, p)
	m.metals[k].paths = append(m.metals[k].paths, len(m.paths)-1)
	return len(m.paths) - 1, nil
}

func (m *Model) compilePiece(d Dissolved) error {
	agent := d.By
	if agent == "" {
		agent = m.agent
	}
	p := piece{mass: d.Mass, extent: d.Extent, inVessel: d.InVessel}
	for _, s := range d.Shares {
		k := m.index(s.Element)
		i, err := m.pathOf(k, agent, s.Form)
		if err != nil {
			return err
		}
		m.metals[k].sourced = true
		sp := s.Form.Species()
		ref := s.Ref
		if s.Rest {
			ref = input.NoRef
		}
		p.parts = append(p.parts, part{
			ref: ref, metal: k, path: i, base: isBase(s.Element),
			perKg: gramsPerKilogram * sp.Formula.Atoms(s.Element) / float64(sp.MolarMass),
		})
	}
	m.pieces = append(m.pieces, p)
	return nil
}

const gramsPerKilogram = 1000

func isBase(symbol string) bool {
	for _, s := range lessNobleThanSilver {
		if s == symbol {
			return true
		}
	}
	return false
}

func (m *Model) compilePlate(p Plated) error {
	k := m.index(p.Metal)
	element := m.metals[k].element
	i, err := m.pathOf(k, m.agent, element)
	if err != nil {
		return err
	}
	litre := element.Species().MolarVolume
	if !(litre > 0) {
		return fmt.Errorf("lot: the density of %s is not known", p.Metal)
	}
	m.metals[k].sourced = true
	m.plates = append(m.plates, plate{area: p.Area, thickness: p.Thickness, path: i, perCubicMetre: 1000 / litre})
	return nil
}

func (m *Model) compileSolid(s Solid) {
	sp := s.Compound.Species()
	m.solids = append(m.solids, solidEntry{
		compound: s.Compound, wetMass: s.WetMass, moisture: s.Moisture, purity: s.Purity,
		molPerKg: gramsPerKilogram / float64(sp.MolarMass),
	})
	for k := range m.metals {
		if n := sp.Formula.Atoms(m.metals[k].symbol); n > 0 {
			m.metals[k].solids = append(m.metals[k].solids, held{entry: len(m.solids) - 1, atoms: n})
		}
	}
}

// compileVirtual gives a path to metals that only measurements of the liquid
// name, where acid was poured in: they too used some of it up.
func (m *Model) compileVirtual() error {
	if !m.acidPoured {
		return nil
	}
	for k := range m.metals {
		if m.metals[k].sourced || !m.measuredInLiquid(m.metals[k].symbol) {
			continue
		}
		i, err := m.pathOf(k, m.agent, m.metals[k].element)
		if err != nil {
			return err
		}
		if !m.paths[i].stays && !m.paths[i].dry {
			m.metals[k].virtual = i
		}
	}
	return nil
}

func (m *Model) measuredInLiquid(symbol string) bool {
	for _, s := range m.lot.Measured {
		if s.Metal == symbol && s.In == InLiquid {
			return true
		}
	}
	for _, t := range m.lot.Titrated {
		if t.Of == symbol {
			return true
		}
	}
	return false
}
