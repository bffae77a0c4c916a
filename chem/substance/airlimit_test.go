package substance

import (
	"errors"
	"testing"

	"afterpour/chem/data"
)

func TestAirLimitOf(t *testing.T) {
	cases := map[string]struct {
		counted string
		ppm     float64
		kind    string
	}{
		"NO2": {"NO2(g)", 1, data.ShortTerm},  // NIOSH REL 1994
		"NO":  {"NO2(g)", 1, data.ShortTerm},  // turns to NO2 in air
		"Cl2": {"Cl2(g)", 0.5, data.Ceiling},  // NIOSH REL 1994
		"HCl": {"HCl(g)", 2, data.Ceiling},    // Ontario
		"SO2": {"SO2(g)", 1, data.ShortTerm},  // EU 2017
		"NH3": {"NH3(g)", 35, data.ShortTerm}, // NIOSH REL
		"N2O": {"N2O(g)", 25, data.EightHours},
	}
	for gas, want := range cases {
		got, err := AirLimitOf(gas)
		if err != nil {
			t.Errorf("AirLimitOf(%s): %v", gas, err)
			continue
		}
		if got.CountedAs.Species().Name != want.counted || !near(got.PPM, want.ppm, 1e-12) || got.Kind != want.kind {
			t.Errorf("AirLimitOf(%s) = %g ppm of %s, %s; want %g of %s, %s",
				gas, got.PPM, got.CountedAs.Species().Name, got.Kind, want.ppm, want.counted, want.kind)
		}
	}
	if _, err := AirLimitOf("N2"); !errors.Is(err, ErrNoAirLimit) {
		t.Errorf("nitrogen: %v, want %v", err, ErrNoAirLimit)
	}
	if _, err := AirLimitOf("AgCl(s)"); !errors.Is(err, ErrUnknownSpecies) {
		t.Errorf("a solid: %v, want %v", err, ErrUnknownSpecies)
	}
	// 0.2 mg/m3 as SO3, 80.06 g/mol, at 24.465 L/mol.
	if got, err := AirLimitOf("SO3"); err != nil || !near(got.PPM, 0.2*24.4654/80.057, 1e-4) {
		t.Errorf("AirLimitOf(SO3) = %g ppm, %v", got.PPM, err)
	}
}

// TestAirLimitsName: every limit is of a gas of the registry or of an element.
func TestAirLimitsName(t *testing.T) {
	rows, err := data.AirLimits()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows {
		if _, err := ElementBySymbol(row.Substance); err == nil {
			continue
		}
		if id, err := Find(row.Substance); err != nil || id.Species().Name != row.Substance {
			t.Errorf("%s: %v", row.Substance, err)
		}
	}
}

// TestHazardReactions: the reactions in the table of hazards balance, and their elements exist.
func TestHazardReactions(t *testing.T) {
	rows, err := data.Hazards()
	if err != nil {
		t.Fatal(err)
	}
	for _, h := range rows {
		if h.Reaction != "" {
			if _, err := ParseReaction(h.Reaction); err != nil {
				t.Errorf("%s: %v", h.ID, err)
			}
		}
		for _, symbol := range h.Elements {
			if _, err := ElementBySymbol(symbol); err != nil {
				t.Errorf("%s: %v", h.ID, err)
			}
		}
	}
}

// TestSolubilityFormulas: every curve is of a solid that parses.
func TestSolubilityFormulas(t *testing.T) {
	curves, err := data.SolubilityCurves()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range curves {
		if f, err := ParseFormula(c.Formula); err != nil || f.String() != c.Formula {
			t.Errorf("%s: %v, canonical %s", c.Formula, err, f)
		}
	}
}
