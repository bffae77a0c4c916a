package substance

import (
	"afterpour/chem/input"
	"afterpour/chem/units"
)

// Stream is an amount of matter: what stands in a vessel, on a filter, in a jar. Mol is indexed by SpeciesID and in
// mol. Inputs are the figures that the stream rests on. Its methods copy no more than Mol, since a simulation calls
// them many thousand times; amounts are not checked for sign.
type Stream struct {
	Mol         []float64
	Temperature units.Temperature
	Inputs      input.Set

	store *Store // that the amounts are of; nil for none
}

// NewStream returns an empty stream at temperature t.
func NewStream(t units.Temperature) Stream {
	return Stream{Mol: make([]float64, len(loaded().species)), Temperature: t}
}

// Clone returns a copy that shares nothing that can change.
func (s Stream) Clone() Stream {
	if s.store != nil {
		return s.store.Adopt(s)
	}
	s.Mol = append([]float64(nil), s.Mol...)
	return s
}

// Add puts mol of a species into the stream; a negative amount takes it out.
func (s *Stream) Add(id SpeciesID, mol float64) { s.Mol[id] += mol }

// Mix pours other into s. The temperature becomes the mean by mass: heats of mixing are not modelled here.
func (s *Stream) Mix(other Stream) {
	a, b := float64(s.Mass()), float64(other.Mass())
	if a+b > 0 {
		s.Temperature += (other.Temperature - s.Temperature) * units.Temperature(b/(a+b))
	}
	for i, n := range other.Mol {
		if n != 0 {
			s.Mol[i] += n
		}
	}
	s.Inputs = s.Inputs.Union(other.Inputs)
}

// Split takes share (0 to 1) of every species that which accepts out of s and returns it as a stream of its own.
func (s *Stream) Split(share float64, which func(Species) bool) Stream {
	out := s.like()
	for i, n := range s.Mol {
		if n != 0 && which(AllSpecies()[i]) {
			out.Mol[i] = n * share
			s.Mol[i] = n - out.Mol[i]
		}
	}
	return out
}

// Scale multiplies every amount by k.
func (s *Stream) Scale(k float64) {
	for i := range s.Mol {
		s.Mol[i] *= k
	}
}

// Dissolved accepts what flows with the liquor: water and dissolved species. For use with Split.
func Dissolved(sp Species) bool { return sp.Phase == Aqueous || sp.Name == waterName }

// Undissolved accepts what settles or stays on a filter: solids, and mercury, the one liquid metal. For use with Split.
func Undissolved(sp Species) bool {
	return sp.Phase == Solid || sp.Phase == Liquid && sp.Name != waterName
}

// Escaping accepts gases. For use with Split.
func Escaping(sp Species) bool { return sp.Phase == Gas }

// Mass returns the mass of everything in the stream.
func (s Stream) Mass() units.Mass { return units.Mass(dot(s.Mol, loaded().kilograms)) }

// MassOf returns the mass of the species that which accepts.
func (s Stream) MassOf(which func(Species) bool) units.Mass {
	var sum float64
	for i, n := range s.Mol {
		if n != 0 && which(AllSpecies()[i]) {
			sum += n * loaded().kilograms[i]
		}
	}
	return units.Mass(sum)
}

// Element returns the amount of an element in all its forms, in mol; 0 for a symbol that no species holds.
func (s Stream) Element(symbol string) float64 { return dot(s.Mol, loaded().composition[symbol]) }

// ElementIn returns the amount of an element in the species that which accepts, in mol.
func (s Stream) ElementIn(symbol string, which func(Species) bool) float64 {
	var sum float64
	atoms := loaded().composition[symbol]
	for i, n := range atoms {
		if n != 0 && s.Mol[i] != 0 && which(AllSpecies()[i]) {
			sum += n * s.Mol[i]
		}
	}
	return sum
}

// ElementMass returns the mass of an element in all its forms.
func (s Stream) ElementMass(symbol string) units.Mass {
	e, err := ElementBySymbol(symbol)
	if err != nil {
		return 0
	}
	return units.Mass(s.Element(symbol) * float64(e.Weight) / gramsPerKilogram)
}

// Charge returns the net charge of the stream in mol of elementary charges: 0 for any real liquor.
func (s Stream) Charge() float64 { return dot(s.Mol, loaded().charges) }

// Molarity returns the concentration of a species in the liquor, in mol/L; 0 where there is no liquid.
func (s Stream) Molarity(id SpeciesID) units.Concentration {
	v := float64(s.LiquidVolume())
	if !(v > 0) {
		return 0
	}
	return units.Concentration(s.Mol[id] / v)
}

// HydrogenIon returns the concentration of free acid counted as H^+, in mol/L.
func (s Stream) HydrogenIon() units.Concentration { return s.Molarity(loaded().hydrogenIon) }

// Water returns the amount of liquid water.
func (s Stream) Water() units.Amount { return units.Amount(s.Mol[loaded().water]) }

// dot returns Σ a_i b_i over the shorter of the two.
func dot(a, b []float64) float64 {
	var sum float64
	for i, x := range a[:min(len(a), len(b))] {
		if x != 0 { // most are: an addition is slower than the look
			sum += x * b[i]
		}
	}
	return sum
}
