package route

import (
	"fmt"
	"math"

	"afterpour/chem/electro"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// cementKind lets a base metal displace nobler ones: the reactions are run in
// the order of the file, each eating the presented metal.
//
// Reactions that use H⁺ are acid attack. Where the step gives the `surface` of
// the metal, in cm² a gram, nitric acid on copper runs for the step's hours by
// electro.CopperAttack, with `rate` as the factor of doubt on its speed: from
// nothing in weak cold acid to all of it. Other attack happens to the share
// `attack` in acid of 1 mol/L and more, and falls in proportion below. Iron(III)
// and the displaced metals run to the end, but for what stays in solution of the
// first metal taken: `residual`, or the equilibrium of electro.Cement where that
// leaves more. A first reaction on a solid, such as silver chloride, runs to the
// share `reach`. The metal is presented `presented` times over; what is not eaten
// is lifted out and goes back on the shelf, but for the share `left_in` of it
// that stays in the cement as flakes.
var cementKind = stepKind{
	figures: []figureKey{
		{"presented", units.Number},
		{"attack", units.Fraction},
		{"residual", units.MassConcentrationKind},
		{"reach", units.Fraction},
		{"surface", units.Number},
		{"rate", units.Number},
		{"left_in", units.Fraction},
		{"temperature", units.TemperatureKind},
		{"efficiency", units.Fraction},
	},
	needs: []string{"reagent", "reaction", "presented", "residual", "left_in"},
	run:   runCement,
}

const attackFullAt = 1.0 // mol/L of free acid; the lot format's rule for cold acid (slow below about 1 mol/L)

func runCement(r *run) *Block {
	vessel := &r.in().stream
	metal, err := r.reagent(r.step.Reagent)
	if err != nil {
		return &Block{Reason: err.Error()}
	}
	key, ok := metal.key(r.step.Reactions[0].Reaction)
	if !ok {
		return &Block{Reason: metal.Name + " takes no part in " + r.step.Reactions[0].Text}
	}
	if block := r.warm(vessel); block != nil {
		return block
	}
	litres := float64(vessel.LiquidVolume())
	theory, eaten := 0.0, 0.0
	hung := r.hung(*vessel, key)
	for i, reaction := range r.step.Reactions {
		extent := limit(*vessel, reaction.Reaction, key)
		if coefficient(reaction.Reaction, idH) < 0 && r.has("surface") {
			extent = math.Min(extent, r.attack(*vessel, hung, litres)/-coefficient(reaction.Reaction, key))
		} else {
			extent *= r.happens(*vessel, reaction, i, litres)
		}
		per := -coefficient(reaction.Reaction, key)
		vessel.Mol[key] += per * extent
		r.bringsMol(key, per*extent)
		apply(vessel, reaction.Reaction, extent)
		if extent > 0 {
			eaten += per * extent
			r.rec.Reactions = append(r.rec.Reactions, reaction.Text)
		}
		if i == 0 {
			theory = per * extent
		}
	}
	r.bookMetal(vessel, metal, key, theory, eaten)
	r.touch(vessel)
	if block := r.vesselFits(*vessel); block != nil {
		return block
	}
	return r.afterReaction()
}

// happens returns the share of a reaction's limiting extent that takes place.
func (r *run) happens(s substance.Stream, reaction StepReaction, i int, litres float64) float64 {
	if coefficient(reaction.Reaction, idH) < 0 {
		strength := 0.0
		if litres > 0 {
			strength = math.Min(1, s.Mol[idH]/litres/attackFullAt)
		}
		return r.figure("attack", 0) * strength
	}
	if i > 0 {
		return 1
	}
	ion := displaced(reaction.Reaction)
	if ion < 0 || s.Mol[ion] <= 0 {
		return r.figure("reach", 1)
	}
	left := r.figure("residual", 0) * litres / float64(ion.Species().MolarMass) // residual is in g/L
	left = math.Max(left, r.equilibriumLeft(s, ion, litres))
	return math.Max(0, 1-left/s.Mol[ion])
}

// hung returns the mass of metal that hangs in the liquor, in g: what the first
// reaction needs, as many times as the step presents it.
func (r *run) hung(s substance.Stream, key substance.SpeciesID) float64 {
	first := r.step.Reactions[0].Reaction
	need := limit(s, first, key) * -coefficient(first, key)
	return need * math.Max(r.figure("presented", 1), 1) * float64(key.Species().MolarMass)
}

// attack returns how much copper nitric acid eats in the hours of the step, in
// mol.
func (r *run) attack(s substance.Stream, hungGrams, litres float64) float64 {
	if !(litres > 0) || hungGrams <= 0 || s.Mol[idNitrate] <= 0 {
		return 0
	}
	area := units.Area(hungGrams * r.figure("surface", 0) * 1e-4) // cm² to m²
	hours := units.Hours(r.span(r.step.Wait, litres, 0))
	a, err := electro.CopperAttack(liquorOf(s, litres), area, hours, r.figure("rate", 1))
	if err != nil {
		r.note("the attack of the acid could not be followed (%v): all of it is counted", err)
		return math.Inf(1)
	}
	return float64(a.Copper)
}

// equilibriumLeft returns what displacement leaves of a metal at equilibrium,
// in mol; 0 where the cell table does not know the pair.
func (r *run) equilibriumLeft(s substance.Stream, ion substance.SpeciesID, litres float64) float64 {
	if !(litres > 0) {
		return 0
	}
	on := r.step.Reactions[0].Terms[0].Species.Species().Metal
	for _, t := range r.step.Reactions[0].Terms {
		if t.Nu < 0 && t.Species.Species().Phase == substance.Solid {
			on = t.Species.Species().Metal
		}
	}
	c, err := electro.Cement(on, liquorOf(s, litres))
	if err != nil {
		return 0
	}
	for _, m := range c.Metals {
		if m.Metal == ion.Species().Metal {
			r.note("equilibrium would leave %.2g g/L of %s in the liquor", float64(m.Left)*float64(ion.Species().MolarMass), elementName(m.Metal))
			return float64(m.Left) * litres
		}
	}
	return 0
}

// displaced returns the dissolved metal that a cementation takes down.
func displaced(reaction substance.Reaction) substance.SpeciesID {
	for _, t := range reaction.Terms {
		if t.Nu < 0 && t.Species.Species().Phase == substance.Aqueous && t.Species.Species().Metal != "" {
			return t.Species
		}
	}
	return -1
}

// coefficient returns the stoichiometric number of a species; 0 if it takes no
// part.
func coefficient(reaction substance.Reaction, id substance.SpeciesID) float64 {
	for _, t := range reaction.Terms {
		if t.Species == id {
			return t.Nu
		}
	}
	return 0
}

// bookMetal enters the metal used up: what was eaten and what stays behind in
// the cement of the rest that was presented.
func (r *run) bookMetal(vessel *substance.Stream, metal reagent, key substance.SpeciesID, theory, eaten float64) {
	presented := theory*math.Max(r.figure("presented", 1), 1) + eaten - theory // what acid and iron eat must be hung in besides
	behind := (presented - eaten) * r.figure("left_in", 0)
	vessel.Mol[key] += behind
	r.bringsMol(key, behind)
	gram := float64(key.Species().MolarMass)
	used := (eaten + behind) * gram / metal.strength
	r.set(SetPresented, units.MassKind, presented*gram/metal.strength/1000)
	r.set(SetEaten, units.MassKind, eaten*gram/metal.strength/1000)
	e := r.enter(Reagent, metal.ID, used, "m = M·(Σν·ξ + left behind)", r.source("presented"), r.source("attack"))
	e.Detail = "eaten, with what stays in the cement"
	r.note("present %s of metal: %.2f times what the metal to be won needs, and what acid eats; %s is eaten (%s of it by acid and iron), the rest is lifted out again",
		grams(presented*gram), r.figure("presented", 1), grams(eaten*gram), grams((eaten-theory)*gram))
}

func grams(g float64) string { return units.Format(units.MassKind, math.Max(0, g)/1000) }

// companyNote says how much of each metal that comes along is in the product.
func (r *run) companyNote(s substance.Stream) {
	for _, metal := range r.file.Brings {
		if n := s.ElementIn(metal, substance.Undissolved); n > 0 {
			r.note("%s comes down too: %s", metal, fmt.Sprintf("%.3g g", s.ElementMass(metal).Grams()))
		}
	}
}
