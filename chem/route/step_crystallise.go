package route

import (
	"fmt"
	"math"

	"afterpour/chem/data"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// crystalliseKind boils a copper sulfate liquor down until it is saturated at
// `hot`, lets it cool to `cold` and lifts the pentahydrate:
// out = [crystals, mother liquor].
//
// The table counts all the water of the solution, that of the dissolved
// hydrate too (it meets the published anhydrous curve only so). With N mol of
// copper sulfate, W mol of water and k = s·M(H2O)/(100·M(CuSO4·5H2O)) mol of
// salt a mol of water, the crystals are
//
//	n = (N − k(cold)·W)/(1 − 5·k(cold))
//
// once the liquor is boiled down to W = N/k(hot). The effect of free acid on the
// solubility is not modelled: acid lowers it a little, so the crop is a little
// low. Crystals carry `occluded`, a share of their mass of mother liquor, with
// whatever is dissolved in it.
var crystalliseKind = stepKind{
	figures: []figureKey{
		{"hot", units.TemperatureKind},
		{"cold", units.TemperatureKind},
		{"occluded", units.Fraction},
		{"efficiency", units.Fraction},
	},
	needs: []string{"hot", "cold", "occluded", "efficiency"},
	outs:  2,
	run:   runCrystallise,
}

var idVitriol = substance.MustFind("CuSO4·5H2O(s)")

const vitriolCurve = "CuSO4·5H2O"

func runCrystallise(r *run) *Block {
	s := r.in().stream
	salt := math.Min(s.Mol[idCu2], s.Mol[idSulfate])
	if salt <= traceMol(s) {
		return &Block{Reason: "there is no copper sulfate in solution to crystallise"}
	}
	hot, cold := units.Temperature(r.figure("hot", 0)), units.Temperature(r.figure("cold", 0))
	sHot, err := data.Solubility(vitriolCurve, hot)
	if err != nil {
		return &Block{Reason: err.Error()}
	}
	sCold, err := data.Solubility(vitriolCurve, cold)
	if err != nil {
		return &Block{Reason: err.Error()}
	}
	r.in().stream = r.mem.Stream(cold)
	if block := r.vesselFits(s); block != nil {
		return block
	}
	if keep := salt / perWater(sHot); keep < s.Mol[idWater] {
		if block := r.evaporate(&s, s.Mol[idWater]-keep); block != nil {
			return block
		}
	}
	r.set(SetBoilTo, units.VolumeKind, float64(s.LiquidVolume()))
	k := perWater(sCold)
	crop := (salt - k*s.Mol[idWater]) / (1 - 5*k)
	if crop <= 0 {
		return &Block{Reason: fmt.Sprintf("cooled to %s the liquor stays short of saturation", units.Format(units.TemperatureKind, float64(cold)))}
	}
	s.Mol[idCu2] -= crop
	s.Mol[idSulfate] -= crop
	s.Mol[idWater] -= 5 * crop
	crystals := r.mem.Stream(cold)
	crystals.Mol[idVitriol] = crop
	r.occlude(&crystals, &s)
	s.Temperature = cold
	r.note("the crop takes %.0f %% of the copper sulfate; the rest stays in the mother liquor", 100*crop/salt)
	r.touch(&crystals)
	r.touch(&s)
	r.pour(r.step.Out[0], crystals)
	r.pour(r.step.Out[1], s)
	return nil
}

// perWater turns a solubility in g of the pentahydrate per 100 g of water into
// mol a mol of water.
func perWater(solubility float64) float64 {
	return solubility * float64(idWater.Species().MolarMass) / (100 * float64(idVitriol.Species().MolarMass))
}

// occlude lets crystals keep some of their mother liquor.
func (r *run) occlude(crystals, mother *substance.Stream) {
	wanted := r.figure("occluded", 0) * float64(crystals.Mass())
	liquor := float64(mother.MassOf(substance.Dissolved))
	if liquor > 0 {
		crystals.Mix(mother.TakeDissolved(math.Min(1, wanted/liquor)))
	}
}
