package route

import (
	"math"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// settleKind lets a solid go down and pours the liquor off, or filters it:
// out = [solid with its heel, liquor].
//
// Decanting leaves `heel`, a share of the liquor; with `bed`, in L per kilogram
// of dry solid, the solid is moved to a small beaker and poured off once more,
// down to that. Filtering leaves `moisture`, liquor per mass of dry solid. `loss` is the share of the solid that goes with
// the liquor as fines, `filter_loss` the share when filtered. With `by` = "lift"
// the solid hangs on a plate that is lifted out, with "scrape" it is scraped off.
var settleKind = stepKind{
	figures: []figureKey{
		{"heel", units.Fraction}, {"bed", units.Number}, {"moisture", units.Fraction}, {"loss", units.Fraction}, {"filter_loss", units.Fraction},
	},
	words: []string{"by"},
	needs: []string{"heel", "loss"},
	outs:  2,
	run:   runSettle,
}

func runSettle(r *run) *Block {
	s := r.in().stream
	r.in().stream = r.mem.Stream(s.Temperature)
	if s.SolidMass() <= 0 {
		r.pour(r.step.Out[1], s)
		return r.skip("no solid to settle")
	}
	solid, liquor := r.separate(s)
	r.touch(&solid)
	r.touch(&liquor)
	r.pour(r.step.Out[0], solid)
	r.pour(r.step.Out[1], liquor)
	return nil
}

// separate parts solid and liquor by the bench's way of doing it and books the
// metal that the fines take along.
func (r *run) separate(s substance.Stream) (solid, liquor substance.Stream) {
	filter := r.job.Bench.Separation == "filter" && r.has("moisture")
	loss, cause := r.figure("loss", 0), "fines poured off"
	keep := r.heldByBed(s)
	if filter {
		cause = "fines through the filter"
		r.set(SetFiltered, units.CountKind, 1)
		loss = r.figure("filter_loss", loss)
		keep = r.heldByCake(s, r.figure("moisture", 0))
		r.enter(Consumable, "filter-paper", 1, "one paper a filtration", "common practice")
	}
	liquor = s
	solid = liquor.TakeUndissolved(1)
	fines := solid.TakeUndissolved(loss)
	heel := liquor.TakeDissolved(keep)
	r.losses(fines, cause, "m = loss · m(solid)")
	solid.Mix(heel)
	liquor.Mix(fines)
	return solid, liquor
}

// heldByBed returns the share of the liquor that stays with a decanted solid.
func (r *run) heldByBed(s substance.Stream) float64 {
	heel := r.figure("heel", 0)
	litres := float64(s.LiquidVolume())
	if !r.has("bed") || !(litres > 0) {
		return heel
	}
	bed := r.figure("bed", 0) * float64(s.SolidMass())
	if bed < heel*litres {
		r.set(SetBed, units.VolumeKind, bed)
	}
	return math.Min(heel, bed/litres)
}

// heldByCake returns the share of the liquor that a filter cake keeps.
func (r *run) heldByCake(s substance.Stream, moisture float64) float64 {
	wet := float64(s.MassOf(substance.Dissolved))
	if !(wet > 0) {
		return 0
	}
	return math.Min(1, moisture*float64(s.SolidMass())/wet)
}

// losses enters the route's metals in a stream that is given up.
func (r *run) losses(s substance.Stream, cause, formula string) {
	for _, metal := range r.file.Takes {
		grams := s.ElementMass(metal).Grams()
		if grams > 0 {
			r.enter(Loss, metal, grams, formula, r.source("loss")).Detail = cause
		}
	}
}

// washKind washes a wet solid by decantation, or on the filter:
// out = [washed solid, wash water].
//
// Each wash adds `fill` times the heel of water at `temperature`, mixes, lets
// salts dissolve to equilibrium, and pours down to the same heel. A solid that
// arrives drier than `moisture` is first wetted to that. The number of washes is
// `count`, or as many as bring the entrained liquor down to the share `until`.
// `loss` is the share of the solid that leaves with each water as fines.
var washKind = stepKind{
	figures: []figureKey{
		{"fill", units.Number},
		{"count", units.CountKind},
		{"until", units.Fraction},
		{"moisture", units.Fraction},
		{"temperature", units.TemperatureKind},
		{"efficiency", units.Fraction},
		{"loss", units.Fraction},
	},
	needs: []string{"fill", "moisture", "loss"},
	outs:  2,
	run:   runWash,
}

const mostWashes = 50 // a fill so small that it asks for more is a mistake in the route

func runWash(r *run) *Block {
	s := r.in().stream
	r.in().stream = r.mem.Stream(s.Temperature)
	dry := float64(s.SolidMass())
	if dry <= 0 {
		r.pour(r.step.Out[1], s)
		return r.skip("no solid to wash")
	}
	heel := math.Max(float64(s.LiquidVolume()), r.figure("moisture", 1)*dry) // L; a heel weighs about a kilogram a litre
	fill := r.figure("fill", 0) * heel
	n := r.washes(heel, fill)
	before := s
	water := r.mem.Stream(s.Temperature)
	for range n {
		out, block := r.oneWash(&s, heel, fill)
		if block != nil {
			return block
		}
		water.Mix(out)
	}
	r.bookWash(before, water, n, heel, fill)
	r.touch(&s)
	r.touch(&water)
	r.pour(r.step.Out[0], s)
	r.pour(r.step.Out[1], water)
	return nil
}

// washes returns how many washes the step takes: ln(until)/ln(heel/(heel+fill))
// rounded up, from the left share (heel/(heel+fill))^n of full mixing.
func (r *run) washes(heel, fill float64) int {
	if r.has("count") {
		return int(math.Max(1, math.Round(r.figure("count", 1))))
	}
	until := r.figure("until", 0.01)
	if !(fill > 0) || !(until > 0) || until >= 1 {
		return 1
	}
	n := math.Ceil(math.Log(until)/math.Log(heel/(heel+fill)) - 1e-9)
	return int(math.Min(math.Max(1, n), mostWashes))
}

// oneWash adds water, mixes and pours down to the heel again.
func (r *run) oneWash(s *substance.Stream, heel, fill float64) (substance.Stream, *Block) {
	none := substance.Stream{}
	wanted := heel + fill - float64(s.LiquidVolume())
	cold := s.Temperature
	g, err := r.reagent("water")
	if err != nil {
		return none, &Block{Reason: err.Error()}
	}
	added := g.litres(math.Max(wanted, 0), cold)
	r.brings(added)
	s.Mix(added)
	if block := r.warm(s); block != nil {
		return none, block
	}
	if block := r.equilibrate(s); block != nil {
		return none, block
	}
	if block := r.vesselFits(*s); block != nil {
		return none, block
	}
	share := math.Max(0, 1-heel/math.Max(float64(s.LiquidVolume()), heel))
	out := s.TakeDissolved(share)
	out.Mix(s.TakeUndissolved(r.figure("loss", 0)))
	s.Temperature = cold
	return out, nil
}

// bookWash enters the water of all washes, and what metal they took: fines and
// what dissolved.
func (r *run) bookWash(before, water substance.Stream, n int, heel, fill float64) {
	first := math.Max(0, heel-float64(before.LiquidVolume()))
	r.set(SetWashes, units.CountKind, float64(n))
	r.set(SetWashFill, units.VolumeKind, fill)
	r.set(SetWashHeel, units.VolumeKind, heel)
	r.set(SetWashFirst, units.VolumeKind, first)
	litres := first + float64(n)*fill
	e := r.enter(Reagent, "water", litres*1000, "V = n·fill", "full mixing, heel kept")
	e.Volume, e.Detail = units.Volume(litres), "washing"
	share := heel / (heel + fill)
	r.note("%d washes of %s to a heel of %s leave %.2g of the entrained liquor (the usual three would leave %.2g)", n,
		units.Format(units.VolumeKind, fill), units.Format(units.VolumeKind, heel), math.Pow(share, float64(n)), math.Pow(share, 3))
	r.losses(water, "wash water: fines and what dissolves", "m = loss·m(solid)·n + c(equilibrium)·V")
}
