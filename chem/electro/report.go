package electro

import (
	"math"

	"afterpour/chem/units"
)

// check refuses a run whose figures ran out of range.
func (s *tally) check(name string) error {
	sum := s.seconds + s.joules + s.first.volts + s.last.volts
	for _, v := range []float64{s.acid, s.mixture.acid, s.mixture.iron3, s.mixture.nitrate, s.mixture.chloride} {
		sum += math.Abs(v)
	}
	for _, q := range s.metal {
		sum += q
	}
	_, err := result(name, sum)
	return err
}

// result turns the tally into what Win returns.
func (s *tally) result(b *bath, before Liquor) Result {
	r := Result{
		Reason: s.reason, Steps: s.steps, Hours: units.Hours(s.seconds / 3600), Energy: units.Energy(s.joules),
		First: units.Potential(s.first.volts), Last: units.Potential(s.last.volts), AcidMade: units.Amount(s.acid),
	}
	var total float64
	for i, q := range s.cathode {
		r.Cathode[i] = units.Charge(q)
		total += q
	}
	for i, q := range s.anode {
		r.Anode[i] = units.Charge(q)
	}
	r.Charge, r.Voltage = units.Charge(total), r.First
	if total > 0 {
		r.Efficiency = min(1, s.metal[b.target]/total)
		r.Voltage = units.Potential(s.joules / total)
	}
	for i := range b.count {
		r.Metals = append(r.Metals, Won{
			Metal: b.symbols[i], Plated: units.Amount(deposited(s.metal[i], b.electrons[i])),
			Left: units.Concentration(max(s.mixture.metal[i], 0)), Charge: units.Charge(s.metal[i]),
		})
	}
	s.amounts(&r)
	s.left(&r, b, before)
	s.warn(&r, b, before)
	return r
}

// amounts turns charges into what was made and used.
func (s *tally) amounts(r *Result) {
	mol := func(coulombs, n float64) units.Amount { return units.Amount(deposited(coulombs, n)) }
	r.Hydrogen = mol(s.cathode[HydrogenFromAcid]+s.cathode[HydrogenFromWater], 2)
	r.NitricOxide = mol(s.cathode[NitrateToNO], 3)
	r.Ammonium = mol(s.cathode[NitrateToAmmonium], 8)
	r.NitrateUsed = r.NitricOxide + r.Ammonium
	r.Oxygen = mol(s.anode[OxygenEvolution], 4)
	r.Chlorine = mol(s.anode[ChlorineEvolution], 2)
	r.LeadDioxide = mol(s.anode[LeadDioxide], 2)
}

// left describes the liquor at the end. Alkali made appears as salt with its hydroxide uncounted.
func (s *tally) left(r *Result, b *bath, before Liquor) {
	m := s.mixture
	c := func(v float64) units.Concentration { return units.Concentration(max(v, 0)) }
	r.Left = before
	r.Left.Metals = nil
	for _, w := range r.Metals {
		sum, active := before.of(w.Metal)
		r.Left.Metals = append(r.Left.Metals, Dissolved{w.Metal, w.Left, active / sum})
	}
	r.Left.Acid, r.Left.IronIII, r.Left.IronII = c(m.acid), c(m.iron3), c(m.iron2)
	r.Left.Nitrate, r.Left.Chloride = c(m.nitrate), c(m.chloride)
	r.Left.Salt = c(b.salt + m.ammonium)
}

// warn says where the model is stretched or the bench should look.
func (s *tally) warn(r *Result, b *bath, before Liquor) {
	note := func(when bool, text string) {
		if when {
			r.Warnings = append(r.Warnings, text)
		}
	}
	acid := max(before.Acid, r.Left.Acid)
	note(acid > 3 && before.Nitrate > 1, "nitric acid above 3 mol/L: the attack on the cathode may run away and is not modelled")
	note(before.Chloride > 0.1 && b.symbols[b.target] == "Cu", "chloride keeps copper(I) in solution and its chlorine eats the deposit: the efficiency is the most that can be had")
	note(s.starved, "the current is more than the acid at the plate can carry: a burnt, hydroxide-laden deposit")
	note(s.alkaline, "the liquor turned alkaline: metal hydroxides fall out, which is not modelled")
	note(r.Ammonium > 1e-3*before.Nitrate.Amount(before.Volume) && r.Ammonium > 0, "nitrate went to ammonium: do not boil this liquor dry")
	note(b.target < b.count-1 && s.lessNoble(b) > 0.01, "less noble metals came down with the target: the deposit is impure")
	note(b.target > 0 && s.nobler(b) > 0.01, "nobler metals came down with the target")
}

// lessNoble returns the charge of the metals below the target over the target's.
func (s *tally) lessNoble(b *bath) float64 {
	var q float64
	for i := b.target + 1; i < b.count; i++ {
		q += s.metal[i]
	}
	return q / max(s.metal[b.target], 1e-300)
}

// nobler returns the charge of the metals above the target over the target's.
func (s *tally) nobler(b *bath) float64 {
	var q float64
	for i := range b.target {
		q += s.metal[i]
	}
	return q / max(s.metal[b.target], 1e-300)
}
