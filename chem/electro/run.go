package electro

import "math"

// guesses are the potentials of the last moment, from which to search.
type guesses struct{ cathode, anode float64 }

// at returns the currents of the moment at the current in A, with the voltage
// across the cell. Held says that the cathode's potential is known.
func (b *bath) at(m *mixture, c *cathode, amps float64, held bool, g *guesses) parts {
	var p parts
	p.current = amps
	stray := amps * b.cell.Stray
	p.cathode[StrayCurrent], p.anode[AnodeStray] = stray, stray
	if !held {
		g.cathode = fall(c.total, amps-stray, g.cathode)
	}
	a := b.anode(m)
	c.split(amps-stray, g.cathode, &p)
	high := a.split(amps-stray, g.anode, &p)
	g.anode = high
	density := p.cathode[MetalDeposition] / float64(b.cell.CathodeArea)
	driving := high - p.plate + activation(density, b.exchange, b.kelvins)
	// A cell that would run by itself, as where nitrate oxidises iron, gives the supply nothing back.
	p.volts = max(0, driving+amps*(b.resistance(m)+b.cell.Leads))
	return p
}

// current returns what the supply and the taper let through in A. Where the
// taper decides, the cathode's potential is known and entered in g.
func (b *bath) current(c *cathode, g *guesses) (amps float64, held bool) {
	amps = float64(b.cell.Current)
	if b.cell.Taper == 0 {
		return amps, false
	}
	w := c.metals[b.target]
	hold := w.rest + math.Log1p(-b.cell.Taper)/w.steep
	tapered := c.total(hold) / (1 - b.cell.Stray)
	if !(tapered < amps) {
		return amps, false
	}
	g.cathode = hold
	return tapered, true
}

// moment returns the currents of the moment, turned down where the supply's
// voltage would not drive them.
func (b *bath) moment(m *mixture, g *guesses) parts {
	c := b.cathode(m)
	amps, held := b.current(&c, g)
	p := b.at(m, &c, amps, held, g)
	limit := float64(b.cell.Voltage)
	if p.volts <= limit {
		return p
	}
	low, high := 0.0, amps
	for range 60 {
		amps = (low + high) / 2
		p = b.at(m, &c, amps, false, g)
		if p.volts > limit {
			high = amps
		} else {
			low = amps
		}
		if high-low < 1e-6*high {
			break
		}
	}
	return p
}

// apply moves the mixture by the currents p over the time in seconds.
func (b *bath) apply(m mixture, p *parts, seconds float64) mixture {
	per := seconds / (Faraday * b.litres) // mol/L per A of one electron
	for i := range b.count {
		m.metal[i] -= p.metal[i] / b.electrons[i] * per
	}
	if b.lead >= 0 {
		m.metal[b.lead] -= p.anode[LeadDioxide] / 2 * per
	}
	turned := (p.cathode[IronReduction] - p.anode[IronOxidation]) * per
	m.iron3 -= turned
	m.iron2 += turned
	m.nitrate -= (p.cathode[NitrateToNO]/3 + p.cathode[NitrateToAmmonium]/8) * per
	m.ammonium += p.cathode[NitrateToAmmonium] / 8 * per
	m.chloride -= p.anode[ChlorineEvolution] * per
	m.acid += acidMade(p) * per
	return m
}

// acidMade returns the acid made in moles per Faraday's constant: what the
// anode gives less what the cathode takes.
func acidMade(p *parts) float64 {
	return p.anode[OxygenEvolution] + 2*p.anode[LeadDioxide] -
		p.cathode[NitrateToNO]*4/3 - p.cathode[NitrateToAmmonium]*10/8 -
		p.cathode[HydrogenFromAcid] - p.cathode[HydrogenFromWater]
}

// step returns the longest step in seconds over which no dissolved species
// falls by more than its allowance: 8 % for the target, 20 % for others that
// matter. Iron is looked after by ironBetween.
func (b *bath) step(m *mixture, p *parts) float64 {
	litres := Faraday * b.litres
	dt := math.Inf(1)
	limit := func(c, amps, n, allowance float64) {
		if c > 1e-6 && amps > 0 {
			dt = min(dt, b.coarse*allowance*c*n*litres/amps)
		}
	}
	for i := range b.count {
		allowance := 0.2
		if i == b.target {
			allowance = 0.08
			dt = min(dt, b.coarse*allowance*m.metal[i]*b.electrons[i]*litres/max(p.metal[i], 1e-300))
		}
		limit(m.metal[i], p.metal[i], b.electrons[i], allowance)
	}
	if b.lead >= 0 {
		limit(m.metal[b.lead], p.anode[LeadDioxide], 2, 0.2)
	}
	limit(m.nitrate, p.cathode[NitrateToNO]/3+p.cathode[NitrateToAmmonium]/8, 1, 0.2)
	limit(m.chloride, p.anode[ChlorineEvolution], 1, 0.2)
	limit(m.acid, -acidMade(p), 1, 0.2)
	return dt
}
