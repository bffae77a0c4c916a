package stoich

import (
	"errors"
	"fmt"
	"math"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// ErrQuantity says that a quantity must be finite and above 0.
var ErrQuantity = errors.New("quantity must be finite and above 0")

// Dilution returns the volume to which `take` of a solution of the concentration `have` is filled up to reach `want`:
// V2 = c1 V1 / c2. Asked the other way round (have and want exchanged) it gives the volume to take.
// Error: ErrQuantity unless all three are finite and above 0.
func Dilution(have units.Concentration, take units.Volume, want units.Concentration) (units.Volume, error) {
	if err := positive(float64(have), float64(take), float64(want)); err != nil {
		return 0, err
	}
	return units.Volume(float64(have.Amount(take)) / float64(want)), nil
}

// Titration returns the concentration of what was titrated: c = c_t V_t r / V, with c_t and V_t of the titrant used, r the
// moles of analyte per mole of titrant and V the sample. Error: ErrQuantity.
func Titration(titrant units.Concentration, used units.Volume, ratio float64, sample units.Volume) (units.Concentration, error) {
	if err := positive(float64(titrant), float64(used), ratio, float64(sample)); err != nil {
		return 0, err
	}
	return units.Amount(float64(titrant.Amount(used)) * ratio).Concentration(sample), nil
}

// GravimetricFactor returns the mass of the sought substance that a unit mass of the weighed one stands for, the two
// sharing all of one element: M(sought)/M(weighed) times the atoms of it in the weighed over those in the sought.
// Errors: a formula that does not parse; ErrQuantity if either holds none of the element.
func GravimetricFactor(sought, weighed, element string) (float64, error) {
	s, err := substance.ParseFormula(sought)
	if err != nil {
		return 0, err
	}
	w, err := substance.ParseFormula(weighed)
	if err != nil {
		return 0, err
	}
	if err := positive(s.Atoms(element), w.Atoms(element)); err != nil {
		return 0, fmt.Errorf("%w: %s in %s and %s", err, element, sought, weighed)
	}
	return w.Atoms(element) / s.Atoms(element) * float64(s.MolarMass()) / float64(w.MolarMass()), nil
}

func positive(values ...float64) error {
	for _, v := range values {
		if !(v > 0) || math.IsInf(v, 1) {
			return fmt.Errorf("stoich: %w, not %g", ErrQuantity, v)
		}
	}
	return nil
}
