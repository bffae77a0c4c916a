package route

import (
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// reactKind lets a stream alone: its reactions run in order to the share
// `reach`, at `temperature` if that is given, without any reagent. Gas goes off
// over the hours of the step.
var reactKind = stepKind{
	figures: []figureKey{{"reach", units.Fraction}, {"temperature", units.TemperatureKind}, {"efficiency", units.Fraction}},
	needs:   []string{"reaction", "reach"},
	run:     runReact,
}

func runReact(r *run) *Block {
	s := &r.in().stream
	if block := r.warm(s); block != nil {
		return block
	}
	ran := 0.0
	for _, reaction := range r.step.Reactions {
		extent := limit(*s, reaction.Reaction, substance.SpeciesID(-1)) * r.figure("reach", 1)
		apply(s, reaction.Reaction, extent)
		if extent > 0 {
			r.rec.Reactions = append(r.rec.Reactions, reaction.Text)
		}
		ran += extent
	}
	if ran <= 0 {
		return r.skip("nothing here reacts")
	}
	r.touch(s)
	if block := r.equilibrate(s); block != nil {
		return block
	}
	return r.afterReaction()
}
