package electro

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/units"
)

func nitrateLiquor(ms ...Dissolved) Liquor {
	return Liquor{Volume: 1, Temperature: units.Celsius(25), Metals: ms, Acid: 0.5, Nitrate: 1.5}
}

// The difference of 0.46 V leaves about 1e-8 mol/L of silver over 1 mol/L of
// copper: (1/10^15.64)^½ = 1.5e-8.
func TestCementResidualOfSilver(t *testing.T) {
	l := nitrateLiquor(Dissolved{Metal: "Ag", Concentration: 0.2}, Dissolved{Metal: "Cu", Concentration: 0.9},
		Dissolved{Metal: "Zn", Concentration: 0.3}, Dissolved{Metal: "Pd", Concentration: 1e-4})
	c := must[Cementation](t)(Cement("Cu", l))
	near(t, "displaced", float64(c.Displaced), 0.1+1e-4, 1e-7)
	near(t, "final copper", float64(c.FinalMetal), 1.0, 2e-4)
	order := must[[]string](t)(Order("Cu", l))
	if len(order) != 2 || order[0] != "Pd" || order[1] != "Ag" {
		t.Errorf("order %v, want palladium, then silver; zinc stays", order)
	}
	for _, m := range c.Metals {
		switch m.Metal {
		case "Ag":
			near(t, "silver left", float64(m.Left), 1.5e-8, 0.1e-8)
		case "Zn":
			near(t, "zinc left", float64(m.Left), 0.3, 1e-12)
		case "Pd":
			if m.Left > 1e-20 {
				t.Errorf("palladium left: %g", m.Left)
			}
		}
	}
	if c.Metals[0].Potential < c.Metals[len(c.Metals)-1].Potential {
		t.Error("not noblest first")
	}
}

// One mole of iron(III) takes half a mole of copper.
func TestIronThreeEatsCopper(t *testing.T) {
	l := nitrateLiquor(Dissolved{Metal: "Ag", Concentration: 0.1})
	l.IronIII = 0.2
	c := must[Cementation](t)(Cement("Cu", l))
	near(t, "by iron", float64(c.ByIron), 0.1, 1e-6)
	near(t, "displaced", float64(c.Displaced), 0.05, 1e-6)
	// On iron, iron(III) takes half its own amount: 2Fe3+ + Fe → 3Fe2+.
	c = must[Cementation](t)(Cement("Fe", l))
	near(t, "by iron on iron", float64(c.ByIron), 0.1, 1e-6)
	near(t, "iron(II) at the end", float64(c.FinalMetal), 0.05+0.1+0.2, 1e-6)
}

// A ligand that binds silver lifts what stays in the liquor by its own factor.
func TestComplexesHoldSilver(t *testing.T) {
	left := func(activity float64) float64 {
		c := must[Cementation](t)(Cement("Cu", nitrateLiquor(
			Dissolved{Metal: "Ag", Concentration: 0.1, Activity: activity}, Dissolved{Metal: "Cu", Concentration: 1})))
		return float64(c.Metals[0].Left)
	}
	near(t, "left", left(1e-4)/left(1), 1e4, 1)
}

func TestCementConservesElectrons(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		c := func(name string) units.Concentration {
			return units.Concentration(math.Pow(10, rapid.Float64Range(-9, 0.7).Draw(r, name)))
		}
		l := nitrateLiquor(Dissolved{Metal: "Ag", Concentration: c("Ag")}, Dissolved{Metal: "Cu", Concentration: c("Cu")},
			Dissolved{Metal: "Pb", Concentration: c("Pb")}, Dissolved{Metal: "Ni", Concentration: c("Ni")})
		l.IronIII = c("Fe3")
		on := rapid.SampledFrom([]string{"Cu", "Zn", "Fe", "Pb"}).Draw(r, "on")
		got, err := Cement(on, l)
		if err != nil {
			r.Fatal(err)
		}
		electrons := map[string]float64{"Ag": 1, "Cu": 2, "Pb": 2, "Ni": 2}
		var taken float64
		for _, m := range got.Metals {
			if m.Down < 0 || m.Left < 0 {
				r.Fatalf("%s: %g down, %g left", m.Metal, m.Down, m.Left)
			}
			taken += electrons[m.Metal] * float64(m.Down)
		}
		taken += float64(l.IronIII - got.IronIII)
		given := 2 * float64(got.Displaced+got.ByIron)
		if math.Abs(given-taken) > 1e-9*math.Max(taken, 1e-6) {
			r.Fatalf("%g given, %g taken", given, taken)
		}
		more := l
		more.Metals = append([]Dissolved(nil), l.Metals...)
		more.Metals[0].Concentration *= 2
		again, err := Cement(on, more)
		if err != nil || again.Displaced < got.Displaced {
			r.Fatalf("more silver displaced less: %g < %g (%v)", again.Displaced, got.Displaced, err)
		}
	})
}

func TestCementRefuses(t *testing.T) {
	if _, err := Cement("Xx", nitrateLiquor()); !errors.Is(err, ErrUnknown) {
		t.Errorf("on Xx: %v", err)
	}
	if _, err := Cement("Cu", nitrateLiquor(Dissolved{Metal: "Xx", Concentration: 1})); !errors.Is(err, ErrUnknown) {
		t.Errorf("of Xx: %v", err)
	}
	if _, err := Order("Cu", nitrateLiquor(Dissolved{Metal: "Ag", Concentration: units.Concentration(math.NaN())})); !errors.Is(err, ErrDomain) {
		t.Errorf("NaN: %v", err)
	}
}

// acidByRK4 integrates the attack numerically.
func acidByRK4(acid, nitrate, reach float64) float64 {
	rate := func(c float64) float64 { return -c * (nitrate - (acid-c)/4) }
	const steps = 20000
	c, h := acid, reach/steps
	for range steps {
		k1 := rate(c)
		k2 := rate(c + h/2*k1)
		k3 := rate(c + h/2*k2)
		k4 := rate(c + h*k3)
		c += h / 6 * (k1 + 2*k2 + 2*k3 + k4)
	}
	return c
}

func TestAcidLeftAgainstNumericalIntegration(t *testing.T) {
	for name, c := range map[string][3]float64{
		"nitric acid":       {1, 1, 3},
		"much nitrate":      {0.3, 3, 0.5},
		"nitrate just met":  {2, 0.5, 4},
		"nitrate runs out":  {2, 0.1, 20},
		"hardly any attack": {1, 1, 1e-6},
	} {
		near(t, name, acidLeft(c[0], c[1], c[2]), acidByRK4(c[0], c[1], c[2]), 1e-7)
	}
	near(t, "for ever", acidLeft(1, 1, 1e300), 0, 1e-12)
	near(t, "for ever, nitrate gone", acidLeft(2, 0.1, 1e300), 1.6, 1e-9)
	near(t, "no acid", acidLeft(0, 1, 1e5), 0, 1e-12)
}

func TestCopperAttack(t *testing.T) {
	l := nitrateLiquor()
	a := must[Attack](t)(CopperAttack(l, 100*units.SquareCentimetre, 12, 1))
	near(t, "8 of acid for 3 of copper", float64(a.AcidUsed/a.Copper), 8.0/3, 1e-9)
	near(t, "2 of nitrate for 3 of copper", float64(a.Nitrate/a.Copper), 2.0/3, 1e-9)
	// 5 A/m2 · 0.5 · 1.5 mol2/L2 on 0.01 m2 for 12 h, if it did not slow down: 8.4 mmol.
	near(t, "copper", float64(a.Copper), 0.0084, 0.0003)
	all := must[Attack](t)(CopperAttack(l, 10, 1e6, 1))
	near(t, "all the acid", float64(all.Copper), 0.5*3/8, 1e-6)
	none := must[Attack](t)(CopperAttack(l, 0, 12, 1))
	near(t, "no copper there", float64(none.Copper), 0, 1e-15)
}

func TestCementTime(t *testing.T) {
	// 1 L, 2e-5 m/s, 500 cm2, a hundredfold: 1e-3/(2e-5·0.05)·ln 100 = 4605 s.
	h := must[units.Hours](t)(CementTime(0.1, 0.001, 1, 2e-5, 500*units.SquareCentimetre))
	near(t, "CementTime", h.Seconds(), 4605.17, 0.01)
}

func BenchmarkCement(b *testing.B) {
	l := nitrateLiquor(Dissolved{Metal: "Ag", Concentration: 0.2}, Dissolved{Metal: "Cu", Concentration: 0.9})
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Cement("Cu", l); err != nil {
			b.Fatal(err)
		}
	}
}
