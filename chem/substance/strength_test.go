package substance

import (
	"errors"
	"math"
	"strings"
	"testing"

	"afterpour/chem/data"
	"afterpour/chem/units"

	"pgregory.net/rapid"
)

// TestStrengthChecks compares the table with the second, independent density of each row that has one.
func TestStrengthChecks(t *testing.T) {
	rows, err := data.Densities()
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, row := range rows {
		if row.Check == 0 {
			continue
		}
		n++
		got, err := SolutionDensity(row.Solute, units.MassFraction(row.Percent)*units.Percent)
		if err != nil {
			t.Fatal(err)
		}
		// The model's stated standard deviation is 0.0014 kg/L; the nominal specific gravities round to 0.01.
		if math.Abs(float64(got)-row.Check) > 0.005 {
			t.Errorf("%s %g %%: %.4f kg/L here, %.4f in %s", row.Solute, row.Percent, float64(got), row.Check, row.CheckSource)
		}
	}
	t.Logf("%d rows have a second figure", n)
}

// TestCommercialStrengths holds molarities against the nominal ones of OpenStax Chemistry 2e Appendix F and a table of
// commercially supplied acids and bases (rounded specific gravities, hence 2 %).
func TestCommercialStrengths(t *testing.T) {
	cases := map[string]struct {
		percent, want float64
	}{
		"hydrochloric acid": {36, 11.6},
		"HCl":               {37, 12.178},
		"nitric acid":       {70, 15.698},
		"sulfuric acid":     {96, 18.0},
		"H2SO4":             {95, 17.822},
		"ammonia":           {28, 14.8},
		"sodium hydroxide":  {50, 19.1},
	}
	for solute, c := range cases {
		got, err := MolarityOf(solute, units.MassFraction(c.percent)*units.Percent)
		if err != nil {
			t.Fatal(err)
		}
		if !near(float64(got), c.want, 0.02) {
			t.Errorf("MolarityOf(%s, %g %%) = %.4g mol/L, want %.4g", solute, c.percent, float64(got), c.want)
		}
	}
}

func TestStrengthErrors(t *testing.T) {
	var outside *StrengthError
	for _, w := range []float64{-0.01, 0.76, math.NaN(), math.Inf(1)} {
		if _, err := MolarityOf("HNO3", units.MassFraction(w)); !errors.As(err, &outside) {
			t.Errorf("MolarityOf(HNO3, %g) = %v, want a StrengthError", w, err)
		}
		if _, err := SolutionDensity("HNO3", units.MassFraction(w)); !errors.As(err, &outside) {
			t.Errorf("SolutionDensity(HNO3, %g) = %v, want a StrengthError", w, err)
		}
	}
	if !strings.Contains(outside.Error(), "from 0 to 70 %") {
		t.Errorf("the error does not say the range: %v", outside)
	}
	for _, c := range []float64{-1, 15.7, math.NaN()} {
		if _, err := FractionOf("nitric acid", units.Concentration(c)); !errors.As(err, &outside) {
			t.Errorf("FractionOf(nitric acid, %g) = %v, want a StrengthError", c, err)
		}
	}
	var unknown *UnknownNameError
	if _, err := MolarityOf("nitrick acid", 0.1); !errors.As(err, &unknown) || unknown.Near[0] != "nitric acid" {
		t.Errorf("an unknown solute: %v", err)
	}
	if _, _, err := SoluteMolarMass("phlogiston"); !errors.As(err, &unknown) {
		t.Errorf("an unknown solute: %v", err)
	}
}

// TestStrengthRoundTrip: share → molarity → share, for every solute.
func TestStrengthRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(solutions().all).Draw(t, "solution")
		w := units.MassFraction(rapid.Float64Range(0, s.most()).Draw(t, "share"))
		c, err := MolarityOf(s.formula.String(), w)
		if err != nil {
			t.Fatal(err)
		}
		back, err := FractionOf(s.formula.String(), c)
		if err != nil || !near(float64(back), float64(w), 1e-9) {
			t.Fatalf("%s: %g → %g mol/L → %g, %v", s.formula, float64(w), float64(c), float64(back), err)
		}
	})
}
