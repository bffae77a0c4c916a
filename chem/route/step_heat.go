package route

import (
	"math"

	"afterpour/chem/data"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// boilDownKind evaporates water until the share `to` of the liquid is left, or
// to dryness where `to` is left out. `efficiency` is the share of the heater's
// power that reaches the liquor. At dryness free acid leaves as vapour:
// out = [residue], or [residue, fume].
var boilDownKind = stepKind{
	figures: []figureKey{{"to", units.Fraction}, {"efficiency", units.Fraction}, {"loss", units.Fraction}},
	needs:   []string{"efficiency"},
	fumes:   true,
	run:     runBoilDown,
}

var (
	idHNO3 = substance.MustFind("HNO3(g)")
	idHCl  = substance.MustFind("HCl(g)")
)

const evaporation = "E = m·(h(steam, 100 degC) − h(water, 20 degC))/η"

func runBoilDown(r *run) *Block {
	s := &r.in().stream
	if s.Mol[idWater] <= 0 {
		return r.skip("no water to boil off")
	}
	if block := r.vesselFits(*s); block != nil {
		return block
	}
	leave := r.figure("to", 0)
	steam := s.Mol[idWater] * (1 - leave)
	if block := r.evaporate(s, steam); block != nil {
		return block
	}
	fume := r.mem.Stream(units.Celsius(100))
	if leave == 0 {
		fume = r.acidVapour(s)
	} else {
		r.set(SetBoilTo, units.VolumeKind, float64(s.LiquidVolume()))
	}
	s.Temperature = units.Celsius(20)
	lost := s.Split(r.figure("loss", 0), func(sp substance.Species) bool { return sp.ID != idWater })
	r.losses(lost, "spray and what sticks to the dish", "m = loss · m")
	r.pour("lost", lost)
	r.move(r.step.Out[0])
	return r.letGo(fume)
}

// evaporate takes water out as steam and books the heat.
func (r *run) evaporate(s *substance.Stream, mol float64) *Block {
	if mol <= 0 {
		return nil
	}
	kilograms := mol * float64(idWater.Species().MolarMass) / 1000
	s.Mol[idWater] -= mol
	r.leavesMol(idWater, mol)
	return r.heat(kilograms*data.SteamFrom20C, r.figure("efficiency", 1), evaporation, data.SteamSource, r.source("efficiency"))
}

// acidVapour takes the free acid of a dry residue out, as nitric acid and then
// as hydrogen chloride; sulfuric acid stays.
func (r *run) acidVapour(s *substance.Stream) substance.Stream {
	fume := r.mem.Stream(units.Celsius(100))
	for _, pair := range [][2]substance.SpeciesID{{idNitrate, idHNO3}, {idCl, idHCl}} {
		n := math.Min(s.Mol[idH], s.Mol[pair[0]])
		s.Mol[idH] -= n
		s.Mol[pair[0]] -= n
		fume.Mol[pair[1]] += n
	}
	return fume
}

// letGo sends fume to the step's second stream, or out through the air rules.
func (r *run) letGo(fume substance.Stream) *Block {
	hours := r.gasHours()
	r.touch(&fume)
	if len(r.step.Out) > 1 {
		name := r.step.Out[1]
		r.pour(name, fume)
		s := r.slot(name)
		s.releaseH = math.Max(s.releaseH, hours)
		return nil
	}
	held := slot{name: "fume", stream: fume}
	return r.release(&held, hours)
}

// gasHours is how long the step gives its gas off: its wait and its heating.
func (r *run) gasHours() float64 {
	in := r.in().stream
	wait := r.span(r.step.Wait, float64(in.LiquidVolume()), float64(in.SolidMass()))
	return math.Max(wait+r.heatH, 0.25)
}

// calcineKind heats a dry residue to `temperature`: each of its reactions that
// is marked "above" a temperature reached runs to the share `reach`. `enthalpy`
// is the heat of the first reaction in kJ for each mole of it.
// out = [calcine, fume].
var calcineKind = stepKind{
	figures: []figureKey{
		{"temperature", units.TemperatureKind},
		{"reach", units.Fraction},
		{"enthalpy", units.Number},
		{"efficiency", units.Fraction},
		{"loss", units.Fraction},
	},
	needs: []string{"temperature", "reaction", "efficiency"},
	outs:  2,
	run:   runCalcine,
}

func runCalcine(r *run) *Block {
	s := &r.in().stream
	to := units.Temperature(r.figure("temperature", 0))
	joules := calcineHeatCapacity * float64(s.Mass()) * math.Max(0, float64(to-s.Temperature))
	ran := 0.0
	for i, reaction := range r.step.Reactions {
		if reaction.AboveC > to.Celsius() {
			continue
		}
		extent := limit(*s, reaction.Reaction, substance.SpeciesID(-1)) * r.figure("reach", 1)
		apply(s, reaction.Reaction, extent)
		if extent > 0 {
			ran += extent
			r.rec.Reactions = append(r.rec.Reactions, reaction.Text)
		}
		if i == 0 {
			joules += 1000 * r.figure("enthalpy", 0) * extent
		}
	}
	if ran <= 0 {
		return &Block{Reason: "nothing in the dry residue decomposes at " + units.Format(units.TemperatureKind, float64(to))}
	}
	if block := r.heat(joules, r.figure("efficiency", 1), "E = (m·c·ΔT + ΔH·ξ)/η", "c 1 kJ/(kg K), assumption for mixed salts", r.source("enthalpy")); block != nil {
		return block
	}
	fume := s.TakeEscaping(1)
	lost := s.TakeAll(r.figure("loss", 0))
	r.losses(lost, "dust and what sticks to the dish", "m = loss · m")
	r.pour("lost", lost)
	s.Temperature = units.Celsius(20)
	r.touch(s)
	r.move(r.step.Out[0])
	return r.letGo(fume)
}

const calcineHeatCapacity = 1000.0 // J/(kg K): assumption, hydrated nitrates and oxides run 500 to 1,600

// dryKind dries a wet solid: the water of its heel goes off as steam, the salts
// of the heel stay in the solid. `loss` is the share of the solid left on paper
// and dish. With `by` = "air" the room dries it and no heat is booked. The step
// may yield a product.
var dryKind = stepKind{
	figures: []figureKey{{"efficiency", units.Fraction}, {"loss", units.Fraction}},
	words:   []string{"by"},
	needs:   []string{"loss"},
	fumes:   true,
	run:     runDry,
}

func runDry(r *run) *Block {
	s := &r.in().stream
	if s.SolidMass() <= 0 {
		return r.skip("no solid to dry")
	}
	if r.step.Words["by"] == "air" {
		r.leavesMol(idWater, s.Mol[idWater])
		s.Mol[idWater] = 0
	} else if block := r.evaporate(s, s.Mol[idWater]); block != nil {
		return block
	}
	fume := r.acidVapour(s)
	lost := s.TakeAll(r.figure("loss", 0))
	r.losses(lost, "left on paper and dish", "m = loss · m")
	r.touch(s)
	r.pour("lost", lost)
	r.move(r.step.Out[0])
	if block := r.letGo(fume); block != nil {
		return block
	}
	if r.step.Product != "" {
		return r.sell(r.step.Out[0])
	}
	return nil
}

// scrubKind leads fume through a reagent: the share `capture` of each gas that
// a reaction of the step takes is held, the rest goes into the air over the
// hours in which the fume came off. `excess` is over the captured gas's need,
// `water` in L per kg of reagent. out = [scrubber liquor].
var scrubKind = stepKind{
	figures: []figureKey{{"capture", units.Fraction}, {"excess", units.Fraction}, {"water", units.Number}},
	needs:   []string{"capture", "excess", "reagent", "reaction"},
	run:     runScrub,
}

func runScrub(r *run) *Block {
	fume := r.in().stream
	hours := r.in().releaseH
	r.in().stream = r.mem.Stream(fume.Temperature)
	g, err := r.reagent(r.step.Reagent)
	if err != nil {
		return &Block{Reason: err.Error()}
	}
	key, ok := g.key(r.step.Reactions[0].Reaction)
	if !ok {
		return &Block{Reason: g.Name + " takes no part in " + r.step.Reactions[0].Text}
	}
	held := fume.Split(r.figure("capture", 0), r.scrubbed)
	liquor := r.mem.Stream(units.Celsius(20))
	need, _ := r.demand(held, key)
	if need > 0 {
		for i, n := range held.Mol {
			if n > 0 {
				sp := substance.AllSpecies()[i]
				r.enter(Captured, bareName(sp), n*float64(sp.MolarMass), "m = capture · m(gas)", r.source("capture"))
			}
		}
		liquor = r.draw(g, need*(1+r.figure("excess", 0))/g.perMol(key), "n = Σν·ξ·(1 + excess)")
		liquor.Mix(held)
		if block := r.react(&liquor, key); block != nil {
			return block
		}
		if block := r.vesselFits(liquor); block != nil {
			return block
		}
	}
	r.pour(r.step.Out[0], liquor)
	rest := slot{name: "fume", stream: fume}
	return r.release(&rest, hours)
}

// scrubbed accepts the gases that the step's reactions take up.
func (r *run) scrubbed(sp substance.Species) bool {
	for _, reaction := range r.step.Reactions {
		for _, t := range reaction.Terms {
			if t.Nu < 0 && t.Species == sp.ID && sp.Phase == substance.Gas {
				return true
			}
		}
	}
	return false
}
