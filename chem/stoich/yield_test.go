package stoich

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"afterpour/chem/substance"

	"pgregory.net/rapid"
)

func TestYieldOf(t *testing.T) {
	y, err := YieldOf("Cu + Ag^+ -> Cu^2+ + Ag", map[string]float64{"Cu": 1, "Ag⁺": 0.6})
	if err != nil {
		t.Fatal(err)
	}
	if y.Limiting != "Ag^+" || math.Abs(y.ExtentMol-0.3) > 1e-15 || y.Reaction != "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag" {
		t.Errorf("YieldOf = %+v", y)
	}
	for name, want := range map[string]float64{"Ag": 0.6 * 107.87, "Cu^2+": 0.3 * 63.546} {
		if got := y.MadeG[name]; math.Abs(got-want) > 1e-9 {
			t.Errorf("made %g g of %s, want %g", got, name, want)
		}
	}
	for name, want := range map[string]float64{"Cu": 0.7 * 63.546, "Ag^+": 0} {
		if got, ok := y.LeftG[name]; !ok || math.Abs(got-want) > 1e-9 {
			t.Errorf("left %g g of %s (%v), want %g", got, name, ok, want)
		}
	}
}

// TestYieldAsWritten: balanced coefficients are kept, so the extent is for the reaction as written.
func TestYieldAsWritten(t *testing.T) {
	y, err := YieldOf("H2 + 1/2 O2 -> H2O", map[string]float64{"H2": 3})
	if err != nil || math.Abs(y.ExtentMol-3) > 1e-15 || y.Limiting != "H2" {
		t.Errorf("YieldOf = %+v, %v", y, err)
	}
	if _, ok := y.LeftG["O2"]; ok {
		t.Error("oxygen in excess has no stated remainder")
	}
	y, err = YieldOf("Ag^+ + e^- -> Ag(s)", map[string]float64{"Ag^+": 1, "e^-": 0.25})
	if err != nil || y.Limiting != "e^-" || len(y.LeftG) != 1 {
		t.Errorf("YieldOf with electrons = %+v, %v", y, err)
	}
}

func TestYieldErrors(t *testing.T) {
	const reaction = "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag"
	cases := map[string]struct {
		text    string
		amounts map[string]float64
		want    error
	}{
		"no amounts":     {reaction, nil, ErrNoReactant},
		"a product":      {reaction, map[string]float64{"Ag": 1}, ErrNotReactant},
		"negative":       {reaction, map[string]float64{"Cu": -1}, ErrAmount},
		"not a number":   {reaction, map[string]float64{"Cu": math.NaN()}, ErrAmount},
		"infinite":       {reaction, map[string]float64{"Cu": math.Inf(1)}, ErrAmount},
		"beyond sense":   {reaction, map[string]float64{"Cu": 1e300}, ErrAmount},
		"twice":          {"Ag^+ + Cl^- -> AgCl", map[string]float64{"Ag^+": 1, "Ag+": 1}, ErrTwice},
		"cannot balance": {"Cu -> Ag", map[string]float64{"Cu": 1}, ErrNoSolution},
		"several ways":   {"H2O2 -> H2O + O2 + H2", map[string]float64{"H2O2": 1}, ErrManySolutions},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			if _, err := YieldOf(c.text, c.amounts); !errors.Is(err, c.want) {
				t.Errorf("YieldOf(%q, %v) = %v, want %v", c.text, c.amounts, err, c.want)
			}
		})
	}
	var syntax *substance.SyntaxError
	if _, err := YieldOf(reaction, map[string]float64{"cu": 1}); !errors.As(err, &syntax) {
		t.Errorf("a name that does not parse: %v", err)
	}
}

// TestYieldScales: k times the feed gives k times everything, and mass is kept.
func TestYieldScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(0.001, 100).Draw(t, "silver")
		b := rapid.Float64Range(0.001, 100).Draw(t, "chloride")
		k := rapid.Float64Range(0.01, 100).Draw(t, "k")
		const reaction = "AgNO3 + NaCl -> AgCl(s) + NaNO3"
		one, err := YieldOf(reaction, map[string]float64{"AgNO3": a, "NaCl": b})
		if err != nil {
			t.Fatal(err)
		}
		many, err := YieldOf(reaction, map[string]float64{"AgNO3": k * a, "NaCl": k * b})
		if err != nil {
			t.Fatal(err)
		}
		if got, want := many.MadeG["AgCl(s)"], k*one.MadeG["AgCl(s)"]; math.Abs(got-want) > 1e-9*want {
			t.Fatalf("%g times the feed makes %g g, want %g", k, got, want)
		}
		feed := a*mass(t, "AgNO3") + b*mass(t, "NaCl")
		out := one.MadeG["AgCl(s)"] + one.MadeG["NaNO3"] + one.LeftG["AgNO3"] + one.LeftG["NaCl"]
		if math.Abs(feed-out) > 1e-9*feed {
			t.Fatalf("%g g went in, %g g came out", feed, out)
		}
	})
}

func mass(t interface{ Fatal(...any) }, formula string) float64 {
	f, err := substance.ParseFormula(formula)
	if err != nil {
		t.Fatal(err)
	}
	return float64(f.MolarMass())
}

// ExampleYieldOf finds the limiting reactant of 2.00 g silicon and 1.50 g nitrogen.
// Source: OpenStax Chemistry 2e, Example 4.12.
func ExampleYieldOf() {
	y, err := YieldOf("3 Si + 2 N2 -> Si3N4", map[string]float64{"Si": 2.00 / 28.085, "N2": 1.50 / 28.014})
	fmt.Printf("%s limits: %.4f mol, %v\n", y.Limiting, y.ExtentMol, err)
	// Output: Si limits: 0.0237 mol, <nil>
}
