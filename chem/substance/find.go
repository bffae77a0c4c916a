package substance

import (
	"errors"
	"fmt"
)

// ErrUnknownSpecies says that the registry holds no such species.
var ErrUnknownSpecies = errors.New("unknown species")

// Find returns the species written so, by its canonical name or anything that reads as the same formula and phase
// ("Cu²⁺", "CuSO4*5H2O(s)"). Without a phase it takes the only one there is, else the solid for a neutral formula and
// the dissolved one for an ion. Errors: a formula that does not parse, ErrUnknownSpecies.
func Find(name string) (SpeciesID, error) {
	if id, ok := loaded().byName[name]; ok {
		return id, nil
	}
	f, err := ParseFormula(name)
	if err != nil {
		return 0, err
	}
	if id, ok := loaded().byName[f.String()]; ok {
		return id, nil
	}
	if f.Phase() == Aqueous {
		if id, ok := loaded().byName[f.withPhase(Unstated).String()]; ok && f.Charge() != 0 {
			return id, nil
		}
	}
	if f.Phase() == Unstated {
		for _, p := range []Phase{Solid, Liquid, Aqueous, Gas} {
			if id, ok := loaded().byName[f.withPhase(p).String()]; ok {
				return id, nil
			}
		}
	}
	return 0, fmt.Errorf("substance: %w %q", ErrUnknownSpecies, name)
}

// MustFind is Find for names that stand in the program's own code; it panics on one that is unknown.
func MustFind(name string) SpeciesID {
	id, err := Find(name)
	if err != nil {
		panic(err)
	}
	return id
}
