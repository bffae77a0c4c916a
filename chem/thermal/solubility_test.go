package thermal

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/units"
)

func TestSolubilityRowsAndLines(t *testing.T) {
	for _, s := range Solubilities() {
		for i, c := range s.Celsius {
			near(t, s.ID, must[float64](t)(s.At(units.Celsius(c))), s.Grams[i], 1e-6*s.Grams[i])
		}
	}
	lead := must[Solubility](t)(SolubilityOf("PbCl2"))
	near(t, "lead chloride at 50 °C", must[float64](t)(lead.At(units.Celsius(50))), (1.42+1.94)/2, 1e-9)
	hot, cold := must[float64](t)(lead.At(units.Celsius(100))), must[float64](t)(lead.At(units.Celsius(20)))
	if hot < 3*cold {
		t.Errorf("lead chloride: %g hot, %g cold: the hot wash would not part it", hot, cold)
	}
}

// The pentahydrate's row, turned to the anhydrous salt in all the water, must
// agree with the anhydrous row of another source: 16.8, 20.1, 40.4, 77.0 g per 100
// g of water at 10, 20, 60, 100 °C. Reading it per 100 g of free water would not
// (it is up to 37 % off).
func TestCopperSulfateBasis(t *testing.T) {
	const anhydrous = 159.60 / 249.68
	hydrate := must[Solubility](t)(SolubilityOf("CuSO4*5H2O"))
	other := must[Solubility](t)(SolubilityOf("CuSO4"))
	for _, c := range []float64{10, 20, 60, 100} {
		a := must[float64](t)(hydrate.At(units.Celsius(c))) * anhydrous
		b := must[float64](t)(other.At(units.Celsius(c)))
		near(t, "anhydrous", a, b, 0.06*b)
	}
}

func TestCrystallise(t *testing.T) {
	salt := must[Solubility](t)(SolubilityOf("KNO3"))
	// 106 g in 100 g of water at 60 °C; at 20 °C 31.6 g stay: 74.4 g come out.
	m := must[units.Mass](t)(Crystallise(salt, 106*units.Gram, 100*units.Gram, 0, units.Celsius(20)))
	near(t, "potassium nitrate", m.Grams(), 74.4, 1e-9)
	none := must[units.Mass](t)(Crystallise(salt, 30*units.Gram, 100*units.Gram, 0, units.Celsius(20)))
	near(t, "not saturated", none.Grams(), 0, 1e-12)
	const water = 5 * 18.015 / 249.68
	hydrate := must[Solubility](t)(SolubilityOf("CuSO4*5H2O"))
	x := must[units.Mass](t)(Crystallise(hydrate, 100*units.Gram, 120*units.Gram, water, units.Celsius(20)))
	// What stays must be just saturated in the water that stays.
	left, wet := 100-x.Grams(), 120-water*x.Grams()
	near(t, "saturation of the mother liquor", 100*left/wet, 32.0, 1e-6)
}

func TestCrystalliseProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		s := rapid.SampledFrom(Solubilities()).Draw(r, "salt")
		salt := units.Mass(rapid.Float64Range(0, 5).Draw(r, "kg"))
		water := units.Mass(rapid.Float64Range(0, 5).Draw(r, "water"))
		share := rapid.Float64Range(0, 0.6).Draw(r, "water share")
		at := units.Celsius(rapid.Float64Range(s.Celsius[0], s.Celsius[len(s.Celsius)-1]).Draw(r, "T"))
		x, err := Crystallise(s, salt, water, share, at)
		if err != nil || x < 0 || x > salt || math.IsNaN(float64(x)) {
			r.Fatal(x, err)
		}
		drier, err := Crystallise(s, salt, water/2, share, at)
		if err != nil || drier < x*(1-1e-12) {
			r.Fatalf("less water brings out less: %g < %g", drier, x)
		}
	})
}
