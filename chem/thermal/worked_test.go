package thermal

import (
	"fmt"
	"math"
	"os"
	"testing"

	"github.com/BurntSushi/toml"

	"afterpour/chem/units"
)

// example is a published worked example: numbers given, answer, source.
type example struct {
	ID        string         `toml:"id"`
	Group     string         `toml:"group"`
	Value     float64        `toml:"value"`
	Unit      string         `toml:"unit"`
	Source    string         `toml:"source"`
	Tolerance float64        `toml:"tolerance"`
	Given     map[string]any `toml:"given"`
	Answers   map[string]any `toml:"answers"`
}

func toNumber(t *testing.T, v any, what string) float64 {
	t.Helper()
	switch v := v.(type) {
	case float64:
		return v
	case int64:
		return float64(v)
	}
	t.Fatalf("%s is %v, want a number", what, v)
	return 0
}

// number returns a given number.
func (e example) number(t *testing.T, key string) float64 {
	t.Helper()
	return toNumber(t, e.Given[key], e.ID+"."+key)
}

func examples(t *testing.T, groups ...string) []example {
	t.Helper()
	text, err := os.ReadFile("../../testdata/worked-examples.toml")
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Example []example `toml:"example"`
	}
	if _, err := toml.Decode(string(text), &doc); err != nil {
		t.Fatal(err)
	}
	var out []example
	for _, e := range doc.Example {
		for _, g := range groups {
			if e.Group == g {
				out = append(out, e)
			}
		}
	}
	return out
}

// near fails where got is off want by more than the tolerance.
func near(t *testing.T, call string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.7g, want %.7g ± %.2g", call, got, want, tolerance)
	}
}

func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// iceToSteam adds up the five stages with the heat capacities and enthalpies
// that the example states: 2.09, 4.18, 1.86 J/(g K), 6.01 and 40.67 kJ/mol.
func iceToSteam(t *testing.T, m units.Mass) (total, fusion, boiling units.Energy) {
	t.Helper()
	heat := func(c SpecificHeat, from, to float64) units.Energy {
		return must[units.Energy](t)(Sensible(m, c, units.Celsius(from), units.Celsius(to)))
	}
	n := m.Amount(18.015)
	fusion = must[units.Energy](t)(PhaseChange(n, 6010))
	boiling = must[units.Energy](t)(PhaseChange(n, 40670))
	return heat(2.09, -15, 0) + fusion + heat(4.18, 0, 100) + boiling + heat(1.86, 100, 120), fusion, boiling
}

// worked computes each published example of this package's groups.
var worked = map[string]func(*testing.T, example) float64{
	"en_heat": func(t *testing.T, e example) float64 {
		q := must[units.Energy](t)(Sensible(units.Mass(e.number(t, "mass_g"))*units.Gram, 4.184, units.Celsius(21),
			units.Celsius(21+e.number(t, "dT"))))
		return q.Joules()
	},
	"en_skillet": func(t *testing.T, e example) float64 {
		q := must[units.Energy](t)(Sensible(units.Mass(e.number(t, "mass_g"))*units.Gram, SpecificHeat(e.number(t, "c")),
			units.Celsius(25), units.Celsius(25+e.number(t, "dT"))))
		return q.Joules()
	},
	"en_ice": func(t *testing.T, e example) float64 {
		total, fusion, boiling := iceToSteam(t, units.Mass(e.number(t, "mass_g"))*units.Gram)
		near(t, "fusion", float64(fusion/units.Kilojoule), toNumber(t, e.Answers["fusion_kJ"], "fusion_kJ"), 0.05)
		near(t, "boiling", float64(boiling/units.Kilojoule), toNumber(t, e.Answers["vaporisation_kJ"], "vaporisation_kJ"), 0.5)
		return float64(total / units.Kilojoule)
	},
	"ex_rebar": func(t *testing.T, e example) float64 {
		water := Body{units.Mass(e.number(t, "water_g")) * units.Gram, 4.184, units.Celsius(e.number(t, "t_start"))}
		steel := must[units.Temperature](t)(StartTemperature(units.Mass(e.number(t, "steel_g"))*units.Gram, 0.449, water,
			units.Celsius(e.number(t, "t_end"))))
		return steel.Celsius()
	},
	// The nitric oxide of the last step is not sent round again.
	"dec_nh3": func(t *testing.T, e example) float64 {
		h := must[float64](t)(Hess(Step{e.number(t, "dH1"), 3.0 / 4}, Step{e.number(t, "dH2"), 3.0 / 2}, Step{e.number(t, "dH3"), 1}))
		return h / 2 // the chain makes two moles
	},
}

func TestWorkedExamples(t *testing.T) {
	list := examples(t, "heat", "evaporation energy", "calorimetry", "enthalpy")
	if len(list) < 5 {
		t.Fatalf("%d examples, want at least 5", len(list))
	}
	for _, e := range list {
		t.Run(e.ID, func(t *testing.T) {
			compute := worked[e.ID]
			if compute == nil {
				t.Fatalf("no computation for %s (%s)", e.ID, e.Source)
			}
			got := compute(t, e)
			t.Logf("%s: %.5g, published %g %s (%s)", e.ID, got, e.Value, e.Unit, e.Source)
			near(t, e.ID, got, e.Value, e.Tolerance)
		})
	}
}

// A skillet of 502 g of iron from 25 to 250 °C: OpenStax Chemistry 2e, Example
// 5.1, check question, prints 5.07e4 J.
func ExampleSensible() {
	q, err := Sensible(502*units.Gram, 0.449, units.Celsius(25), units.Celsius(250))
	fmt.Printf("%.3g J %v\n", q.Joules(), err)
	// Output: 5.07e+04 J <nil>
}

// Hot steel in water: OpenStax Chemistry 2e, Example 5.3, prints 248 °C.
func ExampleStartTemperature() {
	water := Body{425 * units.Gram, 4.184, units.Celsius(24.0)}
	steel, err := StartTemperature(360*units.Gram, 0.449, water, units.Celsius(42.7))
	fmt.Printf("%.0f °C %v\n", steel.Celsius(), err)
	// Output: 248 °C <nil>
}

// Three litres of liquor to a fifth of a litre.
func ExampleBoilDown() {
	q, err := BoilDown(3*units.Litre, 200*units.Millilitre)
	h, _ := HeaterHours(q, 800*units.Watt, 0.5)
	fmt.Printf("%.2f kWh, %.1f h on a hotplate of 800 W that is half efficient %v\n", q.KilowattHours(), h, err)
	// Output: 2.03 kWh, 5.1 h on a hotplate of 800 W that is half efficient <nil>
}

// Five decantations of a heel of 50 mL filled up with half a litre.
func ExampleLeftShare() {
	left, err := LeftShare(50*units.Millilitre, 500*units.Millilitre, 5)
	fmt.Printf("%.2g %v\n", left, err)
	// Output: 6.2e-06 <nil>
}
