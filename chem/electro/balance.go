package electro

import "math"

// ironBetween sets the iron of a state half a step on to its mean over the step
// of dt seconds, from the currents p at the step's beginning in the mixture from.
//
// Iron goes round between the plates, often many times in a step that suits the
// metal: dc/dt = ka·(T − c) − kc·c with total T. Its mean over the step is
// c* + (c − c*)·(1 − exp(−x))/x, with c* = T·ka/(ka + kc) and x = (ka + kc)·dt, so
// that the currents taken there carry the iron exactly where it ends.
func (b *bath) ironBetween(between *mixture, from *mixture, p *parts, dt float64) {
	total := from.iron3 + from.iron2
	if total <= 0 {
		return
	}
	litres := Faraday * b.litres
	kc := b.iron3 * float64(b.cell.CathodeArea) * 1000 / b.litres
	ka := b.iron2 * float64(b.cell.AnodeArea) * 1000 / b.litres
	if from.iron3 > 1e-6*total {
		kc = p.cathode[IronReduction] / (litres * from.iron3)
	}
	if from.iron2 > 1e-6*total {
		ka = p.anode[IronOxidation] / (litres * from.iron2)
	}
	x := (ka + kc) * dt
	if !(x > 0) {
		return
	}
	steady := total * ka / (ka + kc)
	between.iron3 = min(total, max(0, steady-(from.iron3-steady)*math.Expm1(-x)/x))
	between.iron2 = total - between.iron3
}

// spare keeps a step of dt seconds from using more of a species than there is:
// what a reaction cannot have goes to hydrogen at the cathode and to oxygen at
// the anode. Only a species all but gone in a step made for another is touched.
func (b *bath) spare(m *mixture, p *parts, dt float64) {
	per := dt / (Faraday * b.litres) // mol/L per A of one electron
	for i := range b.count {
		limit := max(m.metal[i], 0) * b.electrons[i] / per
		if excess := p.metal[i] - limit; excess > 0 {
			p.metal[i] = limit
			b.cathodeSpare(MetalDeposition, p, excess)
		}
	}
	if b.lead >= 0 {
		left := max(m.metal[b.lead], 0)*2/per - p.metal[b.lead]
		b.anodeSpare(LeadDioxide, p, p.anode[LeadDioxide]-left)
	}
	b.anodeSpare(ChlorineEvolution, p, p.anode[ChlorineEvolution]-max(m.chloride, 0)/per)
	b.anodeSpare(IronOxidation, p, p.anode[IronOxidation]-p.cathode[IronReduction]-max(m.iron2, 0)/per)
	b.cathodeSpare(IronReduction, p, p.cathode[IronReduction]-p.anode[IronOxidation]-max(m.iron3, 0)/per)
	b.spareNitrate(m, p, per)
}

// anodeSpare moves an excess above 0 from an anode reaction to oxygen.
func (b *bath) anodeSpare(r AnodeReaction, p *parts, excess float64) {
	if excess = min(excess, p.anode[r]); excess > 0 {
		p.anode[r] -= excess
		p.anode[OxygenEvolution] += excess
	}
}

// cathodeSpare moves an excess above 0 from a cathode reaction to hydrogen.
func (b *bath) cathodeSpare(r CathodeReaction, p *parts, excess float64) {
	if excess = min(excess, p.cathode[r]); excess > 0 {
		p.cathode[r] -= excess
		p.cathode[HydrogenFromWater] += excess
	}
}

// spareNitrate scales both nitrate reactions to the nitrate that there is.
func (b *bath) spareNitrate(m *mixture, p *parts, per float64) {
	use := (p.cathode[NitrateToNO]/3 + p.cathode[NitrateToAmmonium]/8) * per
	if have := max(m.nitrate, 0); use > have {
		for _, r := range []CathodeReaction{NitrateToNO, NitrateToAmmonium} {
			cut := p.cathode[r] * (1 - have/use)
			p.cathode[r] -= cut
			p.cathode[HydrogenFromWater] += cut
		}
	}
}
