package lot

import (
	"math"

	"afterpour/chem/input"
)

// taking is a [[taken]] entry made ready.
type taking struct {
	metal int
	mass  input.Ref
}

// state is everything that one set of plain values gives, in mol, before it is
// put together to a liquor. Slices run over the metals, the paths or the
// species of the model.
type state struct {
	v      input.Values
	volume float64 // L of liquid
	no2    float64 // part of the nitric acid reaction that ran to NO2

	brought  []float64 // by species: what was poured in
	pathMol  []float64 // by path: metal that took it, less what was taken out
	stay     []float64 // by metal: what stands there as it went in
	standby  []float64 // by path: mol of the metal that stands there
	standing []float64 // by metal: of stay, less noble than silver and in touch with the liquor

	source    []float64 // by metal: total of the sources; may be negative where more was taken
	total     []float64 // by metal: as combined
	dissolved []float64 // by metal: as combined, where phases were stated
	settled   []float64
	scale     []float64 // by metal: total over source

	chloride   float64 // poured in
	acidPoured float64 // mol of H^+ poured in
	basePoured float64 // mol of H^+ that the bases can take up
	acidUsed   float64 // by dissolving
	free       float64 // as combined; negative: alkali
}

// newState lays all slices out in one block.
func (m *Model) newState(v input.Values) *state {
	k, p, s := len(m.metals), len(m.paths), m.species
	block := make([]float64, s+2*p+7*k)
	cut := func(n int) []float64 {
		part := block[:n:n]
		block = block[n:]
		return part
	}
	return &state{
		v: v, brought: cut(s), pathMol: cut(p), standby: cut(p), stay: cut(k), standing: cut(k),
		source: cut(k), total: cut(k), dissolved: cut(k), settled: cut(k), scale: cut(k),
	}
}

// addSources fills in what the sources say.
func (m *Model) addSources(st *state) {
	for i := range m.pours {
		m.pour(st, &m.pours[i])
	}
	for i := range m.pieces {
		m.dissolve(st, &m.pieces[i])
	}
	for i := range m.plates {
		p := &m.plates[i]
		m.take(st, p.path, st.v.At(p.area)*st.v.At(p.thickness)*p.perCubicMetre)
	}
	for k := range m.metals {
		st.source[k] = st.stay[k]
		for _, p := range m.metals[k].paths {
			st.source[k] += st.pathMol[p]
		}
		for _, f := range m.metals[k].forms {
			st.source[k] += f.atoms * st.brought[f.id]
		}
	}
	for _, t := range m.takes {
		m.remove(st, t.metal, st.v.At(t.mass)*gramsPerKilogram/m.metals[t.metal].molar)
	}
	st.volume = m.volume(st)
}

func (m *Model) pour(st *state, p *pour) {
	n := p.mol(st.v)
	for _, t := range p.enters {
		st.brought[t.Species] += n * t.Nu
	}
	st.acidPoured += n * p.acid
	st.basePoured += n * p.base
	st.chloride = st.brought[m.ids.chloride]
}

// dissolve sends the shares of a piece down their paths.
func (m *Model) dissolve(st *state, p *piece) {
	mass, extent := st.v.At(p.mass), st.v.At(p.extent)
	named := 0.0
	for _, s := range p.parts {
		if s.ref != input.NoRef {
			named += st.v.At(s.ref)
		}
	}
	for _, s := range p.parts {
		share := math.Max(0, 1-named)
		if s.ref != input.NoRef {
			share = st.v.At(s.ref)
		}
		n := mass * share * s.perKg
		m.take(st, s.path, n*extent)
		if left := n * (1 - extent); p.inVessel {
			st.stay[s.metal] += left
			st.standby[s.path] += left
			if s.base {
				st.standing[s.metal] += left
			}
		}
	}
}

// take sends mol of a metal down a path; what no agent touches stands there.
func (m *Model) take(st *state, i int, mol float64) {
	p := &m.paths[i]
	if p.stays {
		st.stay[p.metal] += mol
		st.standby[i] += mol
		return
	}
	st.pathMol[i] += mol
}

// remove takes a metal out again: first what stands there undissolved, then
// what was dissolved, in proportion. A source that was overdrawn is negative.
func (m *Model) remove(st *state, k int, mol float64) {
	st.source[k] -= mol
	standing := st.stay[k]
	fromSolid := math.Min(mol, standing)
	m.scaleStay(st, k, ratio(standing-fromSolid, standing))
	mol -= fromSolid
	soluble := 0.0
	for _, p := range m.metals[k].paths {
		soluble += st.pathMol[p]
	}
	for _, f := range m.metals[k].forms {
		soluble += f.atoms * st.brought[f.id]
	}
	keep := math.Max(0, ratio(soluble-mol, soluble))
	for _, p := range m.metals[k].paths {
		st.pathMol[p] *= keep
	}
	for _, f := range m.metals[k].forms {
		st.brought[f.id] *= keep
	}
}

func (m *Model) scaleStay(st *state, k int, by float64) {
	st.stay[k] *= by
	st.standing[k] *= by
	for _, p := range m.metals[k].paths {
		st.standby[p] *= by
	}
}

// ratio is a/b, and 0 where b is 0.
func ratio(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}

// volumeRule says where the volume of the liquid comes from.
type volumeRule uint8

const (
	noVolume      volumeRule = iota
	statedVolume             // [vessel] liquid
	pouredVolume             // everything poured in, times a doubtful factor
	moistureOnly             // the liquid within the wet solids
	dilutedVolume            // so many litres per kilogram dissolved
)

// volume is the liquid in litres.
func (m *Model) volume(st *state) float64 {
	sum, v := 0.0, st.v
	switch m.volumeFrom {
	case statedVolume:
		return v.At(m.lot.Vessel.Liquid)
	case pouredVolume:
		for i := range m.pours {
			sum += m.pours[i].litres(v)
		}
		return sum * v.At(m.volumeFactor)
	case moistureOnly:
		for i := range m.solids {
			s := &m.solids[i]
			sum += v.At(s.wetMass) * v.At(s.moisture)
		}
	case dilutedVolume:
		for i := range m.paths {
			sum += st.pathMol[i] * m.metals[m.paths[i].metal].molar / gramsPerKilogram
		}
		return sum * v.At(m.volumeFactor)
	}
	return sum
}
