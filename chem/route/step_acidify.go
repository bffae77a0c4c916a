package route

import (
	"math"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// acidifyKind covers a solid with dilute acid: water to `water` litres a
// kilogram of solid, and acid until the liquor holds `to` of its ion.
var acidifyKind = stepKind{
	figures: []figureKey{{"to", units.ConcentrationKind}, {"cover", units.Number}},
	words:   []string{"ion"},
	needs:   []string{"reagent", "to", "cover", "ion"},
	run:     runAcidify,
}

func runAcidify(r *run) *Block {
	s := &r.in().stream
	dry := float64(s.SolidMass())
	if dry <= 0 {
		return r.skip("no solid to cover")
	}
	g, err := r.reagent(r.step.Reagent)
	if err != nil {
		return &Block{Reason: err.Error()}
	}
	ion, err := substance.Find(r.step.Words["ion"])
	if err != nil || g.perMol(ion) <= 0 {
		return &Block{Reason: g.Name + " gives no " + r.step.Words["ion"]}
	}
	litres := math.Max(r.figure("cover", 0)*dry-float64(s.LiquidVolume()), 0)
	r.drawWater(litres, "to cover the solid", "V = a·m(solid) − V(there)", r.source("cover"))
	s = &r.in().stream
	need := r.figure("to", 0)*float64(s.LiquidVolume()) - s.Mol[ion]
	if need > 0 {
		r.pourReagent(g, need/g.perMol(ion), "n = c·V − n(there)")
	}
	if block := r.equilibrate(&r.in().stream); block != nil {
		return block
	}
	if block := r.vesselFits(r.in().stream); block != nil {
		return block
	}
	return r.afterReaction()
}

// drawWater pours water into the step's vessel and books it.
func (r *run) drawWater(litres float64, detail, formula string, sources ...string) {
	if !(litres > 0) {
		return
	}
	w, err := r.reagent("water")
	if err != nil {
		return
	}
	added := w.litres(litres, units.Celsius(20))
	e := r.enter(Reagent, "water", litres*1000, formula, sources...)
	e.Volume, e.Detail = units.Volume(litres), detail
	r.touch(&added)
	r.brings(added)
	r.pour(r.step.In, added)
}
