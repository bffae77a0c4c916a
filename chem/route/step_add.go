package route

import (
	"fmt"
	"math"
	"strconv"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// addKind doses a reagent for the reactions that the step names and lets them
// run, each to its scarcest reactant or as far as the step says.
//
// The dose is what the reactions, taken in order, ask of the reagent's ion,
// with the excess, less what of that ion is there already. Free acid takes its
// share of a base first, and free base of an acid. A reagent that nothing asks
// for is not added, and the step is skipped; with `alone` = "acid" free acid is
// asking enough.
//
// `reach` is the share of the limiting extent that the reactions attain.
// `log_k` is for a solid that trades one ion for another (AgCl + OH⁻ ⇌ ½ Ag₂O
// + ½ H₂O + Cl⁻): the reaction stops where [product ion]/[reactant ion] = K.
// `water` is poured in with the reagent, in L per kg of it; `temperature` is
// what the vessel is brought to.
var addKind = stepKind{
	figures: []figureKey{
		{"excess", units.Fraction},
		{"reach", units.Fraction},
		{"log_k", units.Number},
		{"water", units.Number},
		{"temperature", units.TemperatureKind},
		{"efficiency", units.Fraction},
	},
	words: []string{"alone"},
	needs: []string{"reagent", "reaction", "excess"},
	run:   runAdd,
}

func runAdd(r *run) *Block {
	g, err := r.reagent(r.step.Reagent)
	if err != nil {
		return &Block{Reason: err.Error()}
	}
	key, ok := g.key(r.step.Reactions[0].Reaction)
	if !ok {
		return &Block{Reason: fmt.Sprintf("%s takes no part in %s", g.Name, r.step.Reactions[0].Text)}
	}
	vessel := &r.in().stream
	need, acidity := r.demand(*vessel, key)
	if need <= traceMol(*vessel) && !(r.step.Words["alone"] == "acid" && acidity > traceMol(*vessel)) {
		return r.skip(fmt.Sprintf("nothing here for %s to react with", g.Name))
	}
	target := need * (1 + r.figure("excess", 0))
	before := r.forReader(*vessel)
	dose := math.Max(0, target-vessel.Mol[key]+acidity)
	if dose > 0 {
		r.pourReagent(g, dose/g.perMol(key), "n = Σν·ξ·(1 + excess) − n(there) + n(acid or base)")
	}
	r.warnOfHeat(acidity, *vessel)
	vessel = &r.in().stream
	if block := r.warm(vessel); block != nil {
		return block
	}
	if block := r.react(vessel, key); block != nil {
		return block
	}
	r.noteDose(before, g, key, dose)
	if block := r.vesselFits(*vessel); block != nil {
		return block
	}
	return r.afterReaction()
}

// noteDose tells a reader how much silver the dose of chloride leaves in
// solution, and the dose that would leave least: too little leaves silver ion,
// too much makes chloride complexes.
func (r *run) noteDose(before substance.Stream, g reagent, key substance.SpeciesID, dose float64) {
	if !r.job.Trace || key != idCl || !(dose > 0) {
		return
	}
	left := func(mol float64) float64 {
		trial := before.Clone()
		trial.Mix(g.stream(mol / g.perMol(key)))
		if _, err := r.job.Equilibrium.Equilibrate(&trial); err != nil {
			return math.Inf(1)
		}
		return trial.ElementIn("Ag", substance.Dissolved) * silverMilligrams
	}
	best, least := dose, left(dose)
	here := least
	for factor := 0.9; factor < 12; factor *= 1.15 {
		if mg := left(dose * factor); mg < least {
			best, least = dose*factor, mg
		}
	}
	if math.IsInf(least, 1) {
		return
	}
	r.note("%s mg of silver stays in solution at this dose; least, %s mg, at %s of %s; ten times the dose leaves %s mg",
		threeFigures(here), threeFigures(least), grams(best/g.perMol(key)*g.molarMass/g.strength), g.Name, threeFigures(left(10*dose)))
}

const silverMilligrams = 107.87e3 // mg/mol

func threeFigures(v float64) string { return strconv.FormatFloat(v, 'g', 3, 64) }

// neutralisationHeat is what a mole of acid and base give off, in J: minteq.v4,
// 55.81 kJ/mol; CRC formation enthalpies give 55.8.
const neutralisationHeat = 55.8e3

// warnOfHeat notes by how much acid and base warm the vessel.
func (r *run) warnOfHeat(mol float64, vessel substance.Stream) {
	rise := mol * neutralisationHeat / math.Max(heatCapacity(vessel), 1)
	if rise > 3 {
		r.set(SetHeatRise, units.Number, rise)
		r.note("neutralising warms the mixture by about %.0f K if it is done at once: add in thirds and let it cool between", rise)
	}
}

// afterReaction moves the mixture on and lets its gas out.
func (r *run) afterReaction() *Block {
	r.move(r.step.Out[0])
	return r.release(r.slot(r.step.Out[0]), r.gasHours())
}

// traceMol is an amount too small to treat: a billionth of what is dissolved
// in the stream.
func traceMol(s substance.Stream) float64 {
	return 1e-9 * (1e-9 + float64(s.Water())/55.5)
}

// forReader returns a copy of a stream in a traced run, and nothing otherwise.
func (r *run) forReader(s substance.Stream) substance.Stream {
	if !r.job.Trace {
		return substance.Stream{}
	}
	return s.Clone()
}

// demand returns what the step's reactions ask of the reagent's ion, in mol,
// and what free acid (for a base) or base (for an acid) takes besides.
func (r *run) demand(vessel substance.Stream, key substance.SpeciesID) (need, acidity float64) {
	trial := vessel.Clone()
	for _, reaction := range r.step.Reactions {
		extent := limit(trial, reaction.Reaction, key)
		for _, t := range reaction.Terms {
			trial.Mol[t.Species] += t.Nu * extent
			if t.Species == key && t.Nu < 0 {
				need -= t.Nu * extent
			}
		}
	}
	switch key {
	case idOH:
		acidity = vessel.Mol[idH]
	case idH:
		acidity = vessel.Mol[idOH]
	}
	return need, acidity
}

// limit returns the extent at which a reaction runs out of a reactant other
// than the one that is being dosed, in mol; 0 if it cannot run.
func limit(s substance.Stream, reaction substance.Reaction, dosed substance.SpeciesID) float64 {
	extent := math.Inf(1)
	for _, t := range reaction.Terms {
		if t.Nu < 0 && t.Species != dosed && t.Species != idWater {
			extent = math.Min(extent, s.Mol[t.Species]/-t.Nu)
		}
	}
	if math.IsInf(extent, 1) || extent < 0 {
		return 0
	}
	return extent
}

// react runs the step's reactions in order, acid and base first.
func (r *run) react(vessel *substance.Stream, key substance.SpeciesID) *Block {
	neutralise(vessel)
	for _, reaction := range r.step.Reactions {
		extent := limit(*vessel, reaction.Reaction, substance.SpeciesID(-1)) * r.figure("reach", 1)
		if r.has("log_k") {
			extent = math.Min(extent, tradeLimit(*vessel, reaction.Reaction, math.Pow(10, r.figure("log_k", 0))))
		}
		apply(vessel, reaction.Reaction, extent)
		if extent > 0 {
			r.rec.Reactions = append(r.rec.Reactions, reaction.Text)
		}
	}
	_ = key
	r.touch(vessel)
	return r.equilibrate(vessel)
}

// tradeLimit returns the extent at which a solid that trades one dissolved ion
// for another in equal numbers stands still: (n_p + ν·x)/(n_r − ν·x) = K, so
// x = (K·n_r − n_p)/(ν·(1 + K)). Activities cancel between two ions of one
// charge (Debye and Hückel); other reactions are not limited by it.
func tradeLimit(s substance.Stream, reaction substance.Reaction, k float64) float64 {
	var lost, won float64
	var from, to substance.SpeciesID = -1, -1
	for _, t := range reaction.Terms {
		if t.Species.Species().Phase != substance.Aqueous {
			continue
		}
		if t.Nu < 0 {
			from, lost = t.Species, -t.Nu
		} else {
			to, won = t.Species, t.Nu
		}
	}
	if from < 0 || to < 0 || math.Abs(lost-won) > 1e-12 {
		return math.Inf(1)
	}
	return math.Max(0, (k*s.Mol[from]-s.Mol[to])/(lost*(1+k)))
}

// neutralise lets free acid and free base meet.
func neutralise(s *substance.Stream) {
	n := math.Min(s.Mol[idH], s.Mol[idOH])
	if n > 0 {
		s.Mol[idH] -= n
		s.Mol[idOH] -= n
		s.Mol[idWater] += n
	}
}

// apply runs a reaction by an extent in mol. What rounding leaves below zero
// in a reactant that ran out is taken from the products' side of the same
// extent beforehand, so no amount goes negative.
func apply(s *substance.Stream, reaction substance.Reaction, extent float64) {
	if !(extent > 0) {
		return
	}
	for _, t := range reaction.Terms {
		s.Mol[t.Species] += t.Nu * extent
		if t.Nu < 0 && s.Mol[t.Species] < 0 && s.Mol[t.Species] > -1e-12*extent {
			s.Mol[t.Species] = 0
		}
	}
}

// warm brings the vessel to the step's temperature.
func (r *run) warm(vessel *substance.Stream) *Block {
	if !r.has("temperature") {
		return nil
	}
	to := units.Temperature(r.figure("temperature", 293.15))
	if to <= vessel.Temperature {
		return nil
	}
	joules := heatCapacity(*vessel) * float64(to-vessel.Temperature)
	block := r.heat(joules, r.figure("efficiency", 1), "E = m·c·ΔT/η", "c of water 4.18 kJ/(kg K) for the liquor, IAPWS-95; solids 0.5 kJ/(kg K), assumption")
	vessel.Temperature = to
	return block
}

// heatCapacity returns what warms the stream by a kelvin, in J/K: the liquor
// as its water, solids at 0.5 kJ/(kg K).
func heatCapacity(s substance.Stream) float64 {
	const water, solid = 4184.0, 500.0 // J/(kg K): IAPWS-95 at 20 degC; an assumption, oxides and chlorides run 300 to 700
	dry := float64(s.SolidMass())
	return water*float64(s.Water())*0.018015 + solid*dry
}
