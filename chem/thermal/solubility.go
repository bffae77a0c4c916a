package thermal

import (
	"fmt"
	"sort"

	"afterpour/chem/units"
)

// Solubility is a curve of solubility in water.
type Solubility struct {
	ID, Formula, Name string
	Celsius           []float64
	Grams             []float64 // per 100 g of all the water
	Provenance
}

func (t *tables) addSolubility(doc *document) error {
	for _, r := range doc.Solubility {
		p, err := t.provenance(r.row, r.ID)
		if err != nil {
			return err
		}
		if len(r.Celsius) == 0 || len(r.Celsius) != len(r.Value) || !sort.Float64sAreSorted(r.Celsius) {
			return fmt.Errorf("thermal: solubility %q: temperatures and values do not pair", r.ID)
		}
		s := Solubility{r.ID, r.Formula, r.Name, r.Celsius, r.Value, p}
		if _, ok := t.solubility[r.Formula]; !ok {
			t.solubility[r.Formula] = s
		}
		t.soluble = append(t.soluble, s)
	}
	return nil
}

// Solubilities returns all curves in the order of the table.
func Solubilities() []Solubility { return append([]Solubility(nil), loaded().soluble...) }

// SolubilityOf returns the curve of a salt by its formula, hydrates with *
// ("CuSO4*5H2O"). ErrUnknown where there is none.
func SolubilityOf(formula string) (Solubility, error) {
	s, ok := loaded().solubility[formula]
	if !ok {
		return Solubility{}, fmt.Errorf("solubility of %q: %w", formula, ErrUnknown)
	}
	return s, nil
}

// At returns the solubility in g per 100 g of water at a temperature, straight
// between the rows. A hydrate is counted as the hydrate, per 100 g of all the
// water, that of its crystals included: only so does the row of copper sulfate
// pentahydrate agree with the anhydrous row beside it. ErrDomain outside the
// rows' temperatures, by more than 1 K for a curve of one row.
func (s Solubility) At(t units.Temperature) (float64, error) {
	c, n := t.Celsius(), len(s.Celsius)
	low, high := s.Celsius[0], s.Celsius[n-1]
	if n == 1 {
		low, high = low-1, high+1
	}
	if err := demand("Solubility.At", within("temperature of "+s.Formula, c, low-1e-9, high+1e-9)); err != nil {
		return 0, err
	}
	if n == 1 {
		return s.Grams[0], nil
	}
	i := min(max(1, sort.SearchFloat64s(s.Celsius, c)), n-1)
	x := (c - s.Celsius[i-1]) / (s.Celsius[i] - s.Celsius[i-1])
	return s.Grams[i-1] + (s.Grams[i]-s.Grams[i-1])*x, nil
}

// Crystallise returns how much of a salt comes out of a liquor that cools to a
// temperature, counted as the form of the curve (a hydrate as the hydrate).
//
//	x = m − s/100·w        anhydrous
//	m − x = s/100·(w − h·x)  hydrate, whose water h (its share by mass) leaves the liquor
//
// salt is the dissolved mass counted as that form, water all the water of the
// liquor, that bound in the hydrate included. It holds for the pure salt in
// water: a common ion or acid brings out more, other salts shift it.
// ErrDomain for masses below 0, a water share outside 0 to below 1 or a
// temperature outside the curve.
//
// Source: mass balance on the solubility curve.
func Crystallise(s Solubility, salt, water units.Mass, waterShare float64, t units.Temperature) (units.Mass, error) {
	const name = "Crystallise"
	if err := demand(name, notNegative("salt", float64(salt)), notNegative("water", float64(water)),
		share("share of water in the crystal", waterShare),
		argument{name: "share of water in the crystal", value: waterShare, valid: waterShare < 1, want: "below 1"}); err != nil {
		return 0, err
	}
	grams, err := s.At(t)
	if err != nil {
		return 0, err
	}
	ratio := grams / 100
	excess := float64(salt) - ratio*float64(water)
	if excess <= 0 {
		return 0, nil
	}
	left := 1 - ratio*waterShare
	if left <= 0 { // the crystals take the water as fast as they leave it: all comes out
		return salt, nil
	}
	return min(salt, units.Mass(excess/left)), nil
}
