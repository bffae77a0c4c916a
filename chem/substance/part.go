package substance

import "afterpour/chem/units"

// The parts of a stream that a simulation asks for all the time have methods of
// their own, which run over lists made beforehand and give what Split and MassOf
// give with the predicate of that name.

// SolidMass returns the mass of what is Undissolved.
func (s Stream) SolidMass() units.Mass {
	reg := loaded()
	var sum float64
	for _, id := range reg.undissolved {
		if n := s.Mol[id]; n != 0 {
			sum += n * reg.kilograms[id]
		}
	}
	return units.Mass(sum)
}

// TakeUndissolved is Split with Undissolved.
func (s *Stream) TakeUndissolved(share float64) Stream { return s.take(share, loaded().undissolved) }

// TakeDissolved is Split with Dissolved.
func (s *Stream) TakeDissolved(share float64) Stream { return s.take(share, loaded().flowing) }

// TakeEscaping is Split with Escaping.
func (s *Stream) TakeEscaping(share float64) Stream { return s.take(share, loaded().gases) }

// TakeAll takes a share of everything.
func (s *Stream) TakeAll(share float64) Stream {
	out := s.like()
	for i, n := range s.Mol {
		if n != 0 {
			out.Mol[i] = n * share
			s.Mol[i] = n - out.Mol[i]
		}
	}
	return out
}

func (s *Stream) take(share float64, which []SpeciesID) Stream {
	out := s.like()
	for _, id := range which {
		if n := s.Mol[id]; n != 0 {
			out.Mol[id] = n * share
			s.Mol[id] = n - out.Mol[id]
		}
	}
	return out
}

// like returns an empty stream at the same temperature, which rests on the same
// inputs.
func (s *Stream) like() Stream {
	out := s.store.Stream(s.Temperature)
	out.Inputs = s.Inputs
	return out
}
