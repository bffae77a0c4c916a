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
	st := s.closeWith(first)
	if st.Converged && s.titrant >= 0 {
		return st, nil
	}
	s.warm = false
	other := s.closeWith(second)
	other.Iterations += st.Iterations
	if other.Converged && !(s.titrant >= -1e-9) {
		other.Converged = false
	}
	return other, nil
}

func (s *Solver) closeWith(component int) Status {
	if component != s.close {
		s.warm = false
	}
	copy(s.total, s.base)
	s.bind(component)
	return s.search()
}

func (s *Solver) indexOf(name string) int {
	return slices.IndexFunc(s.sys.component, func(i int32) bool { return s.set.components[i].name == name })
}
