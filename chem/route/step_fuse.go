package route

import (
	"math"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// fuseKind melts a dry solid with a reagent that decomposes it: silver chloride
// with soda. The reactions run to `reach`; metal goes to the bar, the rest to
// the slag, gas into the air over the hours of the step. `excess` is over what
// the reactions ask, `heat` the heat that the charge takes, `efficiency` the
// share of the flame's or furnace's heat that reaches it, `loss` the share of
// the metal left in slag and crucible or gone as fume.
var fuseKind = stepKind{
	figures: []figureKey{
		{"excess", units.Fraction}, {"reach", units.Fraction}, {"heat", units.Number}, {"efficiency", units.Fraction}, {"loss", units.Fraction},
	},
	needs: []string{"reagent", "reaction", "excess", "reach", "heat", "efficiency", "loss"},
	run:   runFuse,
}

func runFuse(r *run) *Block {
	melting := r.job.Bench.Melting
	if melting != "torch" && melting != "furnace" {
		return &Block{Reason: "the route needs a torch or a furnace, and this bench has none"}
	}
	g, err := r.reagent(r.step.Reagent)
	if err != nil {
		return &Block{Reason: err.Error()}
	}
	if g, err = g.asSolid(); err != nil {
		return &Block{Reason: err.Error()}
	}
	key, ok := g.key(r.step.Reactions[0].Reaction)
	if !ok {
		return &Block{Reason: g.Name + " takes no part in " + r.step.Reactions[0].Text}
	}
	need, _ := r.demand(r.in().stream, key)
	if need <= 0 {
		return &Block{Reason: "nothing here for " + g.Name + " to decompose"}
	}
	r.pourReagent(g, need*(1+r.figure("excess", 0))/g.perMol(key), "n = Σν·ξ·(1 + excess)")
	s := r.in().stream
	r.in().stream = r.mem.Stream(units.Celsius(20))
	for _, reaction := range r.step.Reactions {
		extent := limit(s, reaction.Reaction, substance.SpeciesID(-1)) * r.figure("reach", 1)
		apply(&s, reaction.Reaction, extent)
		if extent > 0 {
			r.rec.Reactions = append(r.rec.Reactions, reaction.Text)
		}
	}
	wall := float64(s.Mass()) * r.figure("heat", 0) * 1000 / math.Max(r.figure("efficiency", 1), 0.01) // heat is in kJ/kg
	kind := Electricity
	if melting == "torch" {
		kind = Fuel
	}
	r.enter(kind, melting, wall/3.6e6, "E = m·h/η", r.source("heat"), r.source("efficiency"))
	gas := slot{name: "fume", stream: s.TakeEscaping(1)}
	bar := s.Split(1, isMetal)
	slag := bar.Split(r.figure("loss", 0), isMetal)
	r.losses(slag, "in slag and crucible", "m = loss · m")
	slag.Mix(s)
	r.pour("slag", slag)
	r.touch(&bar)
	r.pour(r.step.Out[0], bar)
	if block := r.release(&gas, math.Max(r.span(r.step.Wait, 0, float64(bar.Mass())), 0.25)); block != nil {
		return block
	}
	return r.sell(r.step.Out[0])
}
