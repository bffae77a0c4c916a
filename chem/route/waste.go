package route

import (
	"math"
	"slices"

	"afterpour/chem/substance"
)

// Waste classes, as the price book's [disposal.…] tables name them.
const (
	AcidMetalLiquor = "acid-metal-liquor"
	AlkalineLiquor  = "alkaline-liquor"
	MetalLiquor     = "metal-liquor"
	RinseWater      = "rinse-water"
	MetalSludge     = "metal-sludge"
	Slag            = "slag"
)

// Thresholds between the classes. They sort what a carrier is paid for; they
// are no limits for anything, and rinse water is waste like the rest.
const (
	acidAbove  = 0.01 // mol/L of free acid or base: pH below 2 or above 12, near the corrosivity bounds of 40 CFR 261.22
	metalAbove = 0.1  // g/L of heavy metal: assumption, a tenth of a gram a litre still colours or poisons a rinse
)

// heavy are the metals that make a liquor a metal liquor.
var heavy = []string{"Ag", "Cu", "Zn", "Ni", "Pb", "Sn", "Cd", "Hg", "Cr", "Co", "Mn", "Fe", "Au", "Pd", "Pt"}

// classify turns what is left of a plan into waste, a row for each class.
func classify(left []slot, trace bool) []Waste {
	byClass := make(map[string]*substance.Stream, 6)
	order := make([]string, 0, 6)
	for i := range left {
		s := left[i].stream
		if s.Mass() <= 0 {
			continue
		}
		class := classOf(s, left[i].name)
		if byClass[class] == nil {
			empty := substance.NewStream(s.Temperature)
			byClass[class] = &empty
			order = append(order, class)
		}
		byClass[class].Mix(s)
	}
	slices.Sort(order)
	list := make([]Waste, 0, len(order))
	for _, class := range order {
		list = append(list, waste(class, *byClass[class], trace))
	}
	return list
}

func classOf(s substance.Stream, name string) string {
	litres := float64(s.LiquidVolume())
	dry := float64(s.SolidMass())
	if name == "slag" || name == "lost" {
		return Slag
	}
	if litres <= 0 || dry > litres {
		return MetalSludge
	}
	switch {
	case s.Mol[idH]/litres > acidAbove:
		return AcidMetalLiquor
	case s.Mol[idOH]/litres > acidAbove:
		return AlkalineLiquor
	case heavyGrams(s)/litres > metalAbove:
		return MetalLiquor
	}
	return RinseWater
}

func heavyGrams(s substance.Stream) float64 {
	total := 0.0
	for i, mol := range s.ElementAmounts(nil) {
		if e := elements()[i]; mol > 0 && isHeavy(e.Symbol) {
			total += mol * float64(e.Weight)
		}
	}
	return total
}

func isHeavy(symbol string) bool { return slices.Contains(heavy, symbol) }

func waste(class string, s substance.Stream, trace bool) Waste {
	w := Waste{Class: class, Volume: s.LiquidVolume() + s.SolidVolume(), Mass: s.Mass(), PH: strongPH(s)}
	for _, share := range composition(s) {
		if isHeavy(share.Element) {
			w.Metals = append(w.Metals, share)
		}
	}
	if trace {
		w.Why = Why{
			Formula: "V = V(liquid) + V(solid), m = Σ n·M of the streams of this class", Inputs: s.Inputs,
			Sources: []string{"class bounds: free acid or base above 0.01 mol/L, heavy metal above 0.1 g/L (assumption; no disposal limits)"},
		}
	}
	return w
}

// strongPH is −log10 of the free strong acid, or 14 + log10 of the free strong
// base, in mol/L; 7 where neither is left or there is no liquid.
func strongPH(s substance.Stream) float64 {
	litres := float64(s.LiquidVolume())
	if litres <= 0 {
		return 7
	}
	acid, base := s.Mol[idH]/litres, s.Mol[idOH]/litres
	switch {
	case acid > 1e-7:
		return -math.Log10(acid)
	case base > 1e-7:
		return 14 + math.Log10(base)
	}
	return 7
}
