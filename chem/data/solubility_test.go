package data

import (
	"errors"
	"math"
	"testing"

	"afterpour/chem/units"
)

func TestSolubility(t *testing.T) {
	cases := map[string]struct{ celsius, want float64 }{
		"CuSO4·5H2O": {20, 32.0},
		"NaCl":       {25, (35.89 + 36.09) / 2}, // halfway between the rows at 20 and 30 degC
		"PbCl2":      {100, 3.2},
		"C6H12O6":    {27, 91}, // one row, at 25 degC
	}
	for formula, c := range cases {
		got, err := Solubility(formula, units.Celsius(c.celsius))
		if err != nil || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("Solubility(%s, %g degC) = %g, %v; want %g", formula, c.celsius, got, err, c.want)
		}
	}
	if _, err := Solubility("AgCl", units.Celsius(20)); !errors.Is(err, ErrNoSolubility) {
		t.Errorf("an untabled salt: %v, want %v", err, ErrNoSolubility)
	}
	for _, celsius := range []float64{-1, 101, math.NaN()} {
		if _, err := Solubility("NaCl", units.Celsius(celsius)); !errors.Is(err, ErrTemperature) {
			t.Errorf("Solubility(NaCl, %g degC): %v, want %v", celsius, err, ErrTemperature)
		}
	}
	if _, err := Solubility("C6H12O6", units.Celsius(31)); !errors.Is(err, ErrTemperature) {
		t.Errorf("6 K away from the only row: %v, want %v", err, ErrTemperature)
	}
}

// TestCopperSulfateCurves: the pentahydrate curve and the published anhydrous one are the same within 6 %, which says
// that both count all the water.
func TestCopperSulfateCurves(t *testing.T) {
	const share = 159.6 / 249.7 // CuSO4 in CuSO4·5H2O by mass
	anhydrous, err := SolubilityOf("CuSO4")
	if err != nil {
		t.Fatal(err)
	}
	for i, celsius := range anhydrous.Celsius {
		hydrate, err := Solubility("CuSO4·5H2O", units.Celsius(celsius))
		if err != nil {
			t.Fatal(err)
		}
		if got, want := hydrate*share, anhydrous.Grams[i]; math.Abs(got/want-1) > 0.06 {
			t.Errorf("at %g degC: %.1f g of CuSO4 from the hydrate's curve, %.1f g from the other", celsius, got, want)
		}
	}
}
