package route

import (
	"fmt"
	"math"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// cementKind lets a base metal displace nobler ones: the reactions are run in
// the order of the file, each eating the presented metal.
//
// Reactions that use H⁺ are acid attack. The share of it that happens is
// `attack` in acid of 1 mol/L and more, and falls in proportion below: cold
// dilute nitric acid attacks copper slowly. Iron(III) and the displaced metals
// run to the end, but for `residual`, which stays in solution of the first
// metal taken. A first reaction on a solid, such as silver chloride, runs to the
// share `reach`. The metal is presented `presented` times over; what is not eaten
// is lifted out and goes back on the shelf, but for the share `left_in` of it
// that stays in the cement as flakes.
var cementKind = stepKind{
	figures: []figureKey{
		{"presented", units.Number}, {"attack", units.Fraction}, {"residual", units.MassConcentrationKind}, {"reach", units.Fraction},
		{"left_in", units.Fraction}, {"temperature", units.TemperatureKind}, {"efficiency", units.Fraction},
	},
	needs: []string{"reagent", "reaction", "presented", "attack", "residual", "left_in"},
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
	for i, reaction := range r.step.Reactions {
		extent := limit(*vessel, reaction.Reaction, key)
		extent *= r.happens(*vessel, reaction, i, litres)
		per := -coefficient(reaction.Reaction, key)
		vessel.Mol[key] += per * extent
		r.entered.Mol[key] += per * extent
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
	return math.Max(0, 1-left/s.Mol[ion])
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
	r.entered.Mol[key] += behind
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
