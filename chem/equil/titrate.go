package equil

import (
	"fmt"
	"slices"
)

// titrate finds the equilibrium at a given pH. Sodium hydroxide is added until
// the pH is reached; where that would take less than nothing, nitric acid is
// added instead, because nitrate brings nothing down.
func (s *Solver) titrate() (Status, error) {
	sodium, nitrate := s.indexOf("Na"), s.indexOf("NO3")
	if sodium < 0 || nitrate < 0 {
		return Status{}, fmt.Errorf("equil: a fixed pH needs the components Na and NO3: %w", ErrUnsupported)
	}
	first, second := sodium, nitrate
	if s.warm && s.close == nitrate {
		first, second = nitrate, sodium
	}
	spent := 0
	for _, component := range []int{first, second} {
		st := s.closeWith(component, false)
		st.Iterations += spent
		if st.Converged && s.titrant >= -convergedAt {
			return st, nil
		}
		spent = st.Iterations
		s.warm = false
	}
	return s.titrateSafely(sodium, nitrate, spent), nil
}

// titrateSafely looks first on which side of the mixture's own pH the given pH
// lies, which settles what is added, and then takes the sure way.
func (s *Solver) titrateSafely(sodium, nitrate, spent int) Status {
	wanted := s.ln[0]
	s.fixed = false
	copy(s.total, s.base)
	s.bind(-1)
	own := s.search()
	component := sodium
	if own.Converged && wanted > s.ln[0] {
		component = nitrate
	}
	s.fixed, s.warm = true, false
	s.ln[0] = wanted
	st := s.closeWith(component, true)
	st.Iterations += spent + own.Iterations
	if st.Converged && !(s.titrant >= -convergedAt) {
		st.Converged = false
	}
	return st
}

func (s *Solver) closeWith(component int, sure bool) Status {
	if component != s.close {
		s.warm = false
	}
	copy(s.total, s.base)
	s.bind(component)
	if sure {
		return s.search()
	}
	return s.quickSearch()
}

func (s *Solver) indexOf(name string) int {
	return slices.IndexFunc(s.sys.component, func(i int32) bool { return s.set.components[i].name == name })
}
