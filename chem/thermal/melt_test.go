package thermal

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/units"
)

// Silver from 20 °C to just molten: 0.3492 kJ/g is published with a mean heat
// capacity of 28.0 J/(mol K); Perry's equation averages 28.2 and gives 0.3512,
// inside its own 1 %.
func TestSilverMelt(t *testing.T) {
	const weight = 107.8682
	point, sources, err := MeltingPoint("Ag")
	if err != nil || len(sources) < 2 {
		t.Fatal(sources, err)
	}
	near(t, "melting point (ITS-90)", point.Celsius(), 961.78, 1e-9)
	q := must[units.Energy](t)(Melt("Ag", units.Mass(units.Gram).Amount(weight), units.Celsius(20), point))
	near(t, "0.3492 kJ/g", q.Joules(), 349.2, 0.01*349.2)
	near(t, "by hand", (28.0*941.78+11300)/weight, 349.2, 0.05)
	solid := must[units.Energy](t)(Melt("Ag", 1, units.Celsius(20), point-0.001))
	near(t, "mean heat capacity, J/(mol K)", float64(solid)/941.78, 28.2, 0.05)
	whole := must[units.Energy](t)(Melt("Ag", 1, units.Celsius(20), point))
	near(t, "heat of fusion, J/mol", float64(whole-solid), 11300, 0.1)
	superheat := must[units.Energy](t)(Melt("Ag", 1, point, point+100))
	near(t, "superheat by 34.31 J/(mol K)", float64(superheat), 3430.88, 0.01)
	kilogram := must[units.Energy](t)(Melt("Ag", units.Kilogram.Amount(weight), units.Celsius(20), point))
	near(t, "0.097 kWh/kg before losses", kilogram.KilowattHours(), 0.097, 0.001)
}

// The integral of Perry's equations against a table of heat capacities (CRC) and
// the NIST Shomate equation for copper (Cp at 300 and 1000 K).
func TestHeatCapacities(t *testing.T) {
	slope := func(formula string, kelvins float64) float64 {
		q := must[units.Energy](t)(Melt(formula, 1, units.Temperature(kelvins-0.5), units.Temperature(kelvins+0.5)))
		return float64(q)
	}
	for name, c := range map[string]struct {
		formula       string
		kelvins, want float64
		within        float64
	}{
		"Ag CRC table":     {"Ag", 300, 25.36, 0.01},
		"Ag CRC table 600": {"Ag", 600, 26.99, 0.01},
		"Cu CRC table":     {"Cu", 300, 24.48, 0.01},
		"Cu CRC table 600": {"Cu", 600, 26.48, 0.01},
		"Zn CRC table":     {"Zn", 500, 27.39, 0.02},
		"Fe CRC table":     {"Fe", 500, 29.7, 0.04},
		"CuO CRC table":    {"CuO", 500, 49.19, 0.03},
		"NaCl CRC table":   {"NaCl", 500, 53.96, 0.01},
		"Cu Shomate":       {"Cu", 1000, 17.72891 + 28.0987 - 31.25289 + 13.97243 + 0.068611, 0.02},
		"Pb CRC table":     {"Pb", 500, 28.55, 0.10},
	} {
		near(t, name, slope(c.formula, c.kelvins), c.want, c.within*c.want)
	}
}

func TestMeltProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		formula := rapid.SampledFrom(Meltable()).Draw(r, "formula")
		temp := rapid.Float64Range(250, 2500)
		a, b, c := temp.Draw(r, "a"), temp.Draw(r, "b"), temp.Draw(r, "c")
		heat := func(from, to float64) float64 {
			q, err := Melt(formula, 2, units.Temperature(from), units.Temperature(to))
			if err != nil {
				r.Fatal(err)
			}
			return float64(q)
		}
		if sum := heat(a, b) + heat(b, c) + heat(c, a); math.Abs(sum) > 1e-6*(math.Abs(heat(a, b))+1) {
			r.Fatalf("round trip takes %g J", sum)
		}
		if a < b && heat(a, b) <= 0 {
			r.Fatalf("warming from %g to %g K takes %g J", a, b, heat(a, b))
		}
	})
}

func BenchmarkMelt(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Melt("Ag", 1, 293, 1300); err != nil {
			b.Fatal(err)
		}
	}
}
