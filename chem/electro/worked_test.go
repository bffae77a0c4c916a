package electro

import (
	"fmt"
	"math"
	"os"
	"testing"

	"github.com/BurntSushi/toml"

	"afterpour/chem/units"
)

// Atomic weights of the examples, CIAAW 2021 abridged.
const (
	weightAg = 107.87
	weightAl = 26.982
	weightCa = 40.078
	weightCl = 35.45
	weightCr = 51.996
	weightCu = 63.546
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
	Raw       map[string]any `toml:"answers"`
}

// number returns a given number.
func (e example) number(t *testing.T, key string) float64 {
	t.Helper()
	return toNumber(t, e.Given[key], e.ID+"."+key)
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

// worked computes each published example of this package's groups; second
// answers are checked inside. The atomic weights are those above.
var worked = map[string]func(*testing.T, example) float64{
	"el_charge": func(t *testing.T, e example) float64 {
		q := units.Charge(e.number(t, "coulombs"))
		chlorine := must[units.Mass](t)(Deposit(q, 2, 2*weightCl, 1))
		near(t, "Deposit(Cl2)", chlorine.Grams(), toNumber(t, e.Raw["Cl2_g"], "Cl2_g"), 0.5)
		return must[units.Mass](t)(Deposit(q, 2, weightCa, 1)).Grams()
	},
	"el_chrome": func(t *testing.T, e example) float64 {
		plate := units.Area(e.number(t, "area_m2")).Volume(units.Length(e.number(t, "thickness_mm")) * units.Millimetre)
		m := plate.Mass(units.Density(e.number(t, "density")))
		q := must[units.Charge](t)(ChargeFor(m, int(e.number(t, "n")), weightCr, 1))
		return q.Time(units.Current(e.number(t, "amps"))).Hours()
	},
	"el_faraday_ag": func(t *testing.T, e example) float64 {
		q := units.Current(e.number(t, "amps")).Charge(units.Hours(e.number(t, "hours")))
		near(t, "mol of electrons", float64(q)/Faraday, toNumber(t, e.Raw["mol_electrons"], "mol_electrons"), 0.00005)
		return must[units.Mass](t)(Deposit(q, 1, weightAg, 1)).Grams()
	},
	"el_faraday_al": func(t *testing.T, e example) float64 {
		q := units.Current(e.number(t, "amps")).Charge(units.Hours(e.number(t, "minutes")) * units.Minute)
		return must[units.Mass](t)(Deposit(q, 3, weightAl, 1)).Grams()
	},
	"el_cu_au": func(t *testing.T, e example) float64 {
		gold, copper := must[Couple](t)(CoupleByID("au3")), must[Couple](t)(CoupleByID("cu2"))
		near(t, "the table's gold", float64(gold.Standard), e.number(t, "cathode_V"), 1e-9)
		near(t, "the table's copper", float64(copper.Standard), e.number(t, "anode_V"), 1e-9)
		return float64(must[units.Potential](t)(CellVoltage(gold.Standard, copper.Standard)))
	},
	"el_nernst_co": func(t *testing.T, e example) float64 {
		return float64(must[units.Potential](t)(Nernst(units.Potential(e.number(t, "E0")), int(e.number(t, "n")),
			e.number(t, "ratio"), units.Celsius(25))))
	},
}

func TestWorkedExamples(t *testing.T) {
	list := examples(t, "Faraday electrolysis", "standard potential", "Nernst")
	if len(list) < 6 {
		t.Fatalf("%d examples, want at least 6", len(list))
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

// Silver from 10.23 A for an hour: OpenStax Chemistry 2e, Example 17.9, prints
// 41.19 g, having rounded the electrons to 0.3817 mol on the way.
func ExampleDeposit() {
	q := (10.23 * units.Ampere).Charge(1 * units.Hour)
	m, err := Deposit(q, 1, 107.9, 1)
	fmt.Printf("%.2f g %v\n", m.Grams(), err)
	// Output: 41.18 g <nil>
}

// 0.010 mm of chromium on 3.3 m2 at 33.46 A: OpenStax Chemistry 2e, Example
// 17.10, prints 11.0 h.
func ExampleChargeFor() {
	layer := units.Area(3.3).Volume(0.010 * units.Millimetre)
	q, err := ChargeFor(layer.Mass(7.19*units.GramPerMillilitre), 3, 52.00, 1)
	fmt.Printf("%.1f h %v\n", q.Time(33.46*units.Ampere).Hours(), err)
	// Output: 11.0 h <nil>
}

// Co + Fe2+ (1.94 M) → Co2+ (0.15 M) + Fe: OpenStax Chemistry 2e, Example 17.7,
// prints −0.14 V.
func ExampleNernst() {
	e, err := Nernst(-0.17*units.Volt, 2, 0.15/1.94, units.Celsius(25))
	fmt.Printf("%.2f V %v\n", e.Volts(), err)
	// Output: -0.14 V <nil>
}

// Copper and gold(III): OpenStax Chemistry 2e, chapter 17, exercise 23, prints 1.16 V.
func ExampleCellVoltage() {
	gold, _ := CoupleByID("au3")
	copper, _ := CoupleByID("cu2")
	u, err := CellVoltage(gold.Standard, copper.Standard)
	fmt.Printf("%.2f V %v\n", u.Volts(), err)
	// Output: 1.16 V <nil>
}

// One litre of copper sulfate liquor from 10 g/L to 0.5 g/L on a plate of 100 cm2.
func ExampleDeplete() {
	d, err := Deplete(10/63.546, 0.5/63.546, 1*units.Litre, 1*units.Ampere, 2, 1e-5, 100*units.SquareCentimetre)
	fmt.Printf("%.1f h at full current, %.1f h while it falls, %.0f %% of the charge %v\n",
		d.Constant, d.Decaying, 100*d.Efficiency, err)
	// Output: 5.7 h at full current, 5.2 h while it falls, 74 % of the charge <nil>
}
