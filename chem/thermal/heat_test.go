package thermal

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/units"
)

func TestMixTemperature(t *testing.T) {
	// The published steel and water, forwards: 248 °C steel gives back 42.7 °C.
	end := must[units.Temperature](t)(MixTemperature(0,
		Body{360 * units.Gram, 0.449, units.Celsius(248)}, Body{425 * units.Gram, 4.184, units.Celsius(24)}))
	near(t, "MixTemperature", end.Celsius(), 42.7, 0.05)
	// A published note: 200 g of sodium hydroxide in 800 g of water warms it by
	// roughly 60 K at 4.18 J/(g K) of water and about 3.7 of the solution.
	heat := must[Figure](t)(FigureByID("dissolve-NaOH"))
	q := units.Energy(-heat.Value*200/39.997) * units.Kilojoule
	warm := must[units.Temperature](t)(MixTemperature(q, Body{1000 * units.Gram, 3.7, units.Celsius(20)}))
	near(t, "sodium hydroxide", warm.Celsius()-20, 60, 2)
}

func TestMixTemperatureLiesBetween(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		body := func(name string) Body {
			return Body{
				units.Mass(rapid.Float64Range(1e-3, 10).Draw(r, name+" kg")),
				SpecificHeat(rapid.Float64Range(0.1, 5).Draw(r, name+" c")), units.Temperature(rapid.Float64Range(250, 1500).Draw(r, name+" K")),
			}
		}
		a, b := body("a"), body("b")
		end, err := MixTemperature(0, a, b)
		if err != nil {
			r.Fatal(err)
		}
		if end < min(a.Temperature, b.Temperature)*(1-1e-12) || end > max(a.Temperature, b.Temperature)*(1+1e-12) {
			r.Fatalf("%g K is not between %g and %g K", end, a.Temperature, b.Temperature)
		}
		back, err := StartTemperature(a.Mass, a.SpecificHeat, b, end)
		if err != nil || math.Abs(float64(back-a.Temperature)) > 1e-6*float64(a.Temperature)*(1+b.capacity()/a.capacity()) {
			r.Fatalf("a started at %g K, came back as %g K (%v)", a.Temperature, back, err)
		}
	})
}

func TestHeaterHours(t *testing.T) {
	h := must[units.Hours](t)(HeaterHours(0.72*units.KilowattHour, 800*units.Watt, 0.5))
	near(t, "HeaterHours", float64(h), 1.8, 1e-9)
}
