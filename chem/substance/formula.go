package substance

import (
	"math/big"
	"strconv"

	"afterpour/chem/units"
)

// Formula is a chemical formula: atoms, charge and phase. The zero value is empty.
type Formula struct {
	body   string // canonical text without charge and phase
	atoms  []atom // in order of first appearance
	charge int
	phase  Phase
}

type atom struct {
	symbol string
	count  float64
	exact  *big.Rat
	weight units.MolarMass
}

// MolarMass returns the molar mass, from the abridged standard atomic weights; that of the electron counts as 0.
func (f Formula) MolarMass() units.MolarMass {
	var sum units.MolarMass
	for _, a := range f.atoms {
		sum += units.MolarMass(a.count) * a.weight
	}
	return sum
}

// Atoms returns how many atoms of the element stand in one formula unit; a hydrate's share may be a fraction.
func (f Formula) Atoms(symbol string) float64 {
	for _, a := range f.atoms {
		if a.symbol == symbol {
			return a.count
		}
	}
	return 0
}

// ExactAtoms is Atoms as a fraction, for balancing.
func (f Formula) ExactAtoms(symbol string) *big.Rat {
	for _, a := range f.atoms {
		if a.symbol == symbol {
			return new(big.Rat).Set(a.exact)
		}
	}
	return new(big.Rat)
}

// Elements returns the symbols in order of first appearance.
func (f Formula) Elements() []string {
	symbols := make([]string, len(f.atoms))
	for i, a := range f.atoms {
		symbols[i] = a.symbol
	}
	return symbols
}

// MassShare returns the element's share of the mass, 0 to 1; 0 for the electron.
func (f Formula) MassShare(symbol string) units.MassFraction {
	total := f.MolarMass()
	for _, a := range f.atoms {
		if a.symbol == symbol && total > 0 {
			return units.MassFraction(units.MolarMass(a.count) * a.weight / total)
		}
	}
	return 0
}

// Charge returns the charge in elementary charges.
func (f Formula) Charge() int { return f.charge }

// Phase returns the phase written after the formula, or Unstated.
func (f Formula) Phase() Phase { return f.phase }

// IsElectron tells whether the formula is e^-.
func (f Formula) IsElectron() bool { return f.body == electron }

// String returns the canonical form: ASCII digits, "·" before water of crystallisation, the charge after "^", the
// phase last. Parsing it gives the same formula.
func (f Formula) String() string { return f.body + chargeText(f.charge) + f.phase.String() }

func (f Formula) withPhase(p Phase) Formula {
	f.phase = p
	return f
}

// chargeText writes a charge as "^+", "^2+", "^3-", or nothing for 0.
func chargeText(charge int) string {
	sign, size := "+", charge
	if charge < 0 {
		sign, size = "-", -charge
	}
	switch size {
	case 0:
		return ""
	case 1:
		return "^" + sign
	}
	return "^" + strconv.Itoa(size) + sign
}

// IsElement tells whether the formula is one element without charge: "Ag", "O2".
func (f Formula) IsElement() bool { return len(f.atoms) == 1 && f.charge == 0 }
