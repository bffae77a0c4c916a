package stoich

import (
	"math"
	"os"
	"testing"

	"afterpour/chem/data"
	"afterpour/chem/substance"
	"afterpour/chem/units"

	"github.com/BurntSushi/toml"
)

// example is a row of testdata/worked-examples.toml.
type example struct {
	ID        string         `toml:"id"`
	Group     string         `toml:"group"`
	Value     float64        `toml:"value"`
	Unit      string         `toml:"unit"`
	Source    string         `toml:"source"`
	Given     map[string]any `toml:"given"`
	Answers   map[string]any `toml:"answers"`
	Tolerance float64        `toml:"tolerance"`
}

// number returns a given figure.
func (e example) number(t *testing.T, key string) float64 {
	t.Helper()
	switch v := e.Given[key].(type) {
	case float64:
		return v
	case int64:
		return float64(v)
	}
	t.Fatalf("%s gives no %s", e.ID, key)
	return 0
}

func workedExamples(t *testing.T) map[string]example {
	t.Helper()
	text, err := os.ReadFile("../../testdata/worked-examples.toml")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Example []example `toml:"example"`
	}
	if err := toml.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	all := map[string]example{}
	for _, e := range file.Example {
		all[e.ID] = e
	}
	return all
}

func concentration(v float64) units.Concentration { return units.Concentration(v) }
func millilitres(v float64) units.Volume          { return units.Volume(v) * units.Millilitre }
func grams(v float64) units.Mass                  { return units.Mass(v) * units.Gram }

// must fails the test on an error and passes the value on.
func must[T any](t *testing.T) func(T, error) T {
	return func(v T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

// molesOf returns the amount in g grams of a formula.
func molesOf(t *testing.T, g float64, formula string) float64 {
	t.Helper()
	return g / mass(t, formula)
}

// covered computes each example from its given numbers, by public functions of this and the lower packages.
var covered = map[string]func(*testing.T, example) float64{
	"as_hcl2": func(t *testing.T, e example) float64 {
		acid := units.Density(e.number(t, "density")).MassConcentration(units.MassFraction(e.number(t, "percent")) * units.Percent)
		return 1000 * e.number(t, "grams") / acid.GramsPerLitre()
	},
	"as_hg_ppm": func(t *testing.T, e example) float64 {
		share := (units.Mass(e.number(t, "mg")) * units.Milligram).Fraction(grams(e.number(t, "sample_g")))
		return float64(share / units.PPM)
	},
	"as_naoh": func(t *testing.T, e example) float64 {
		w := units.MassFraction(e.number(t, "percent")) * units.Percent
		density := must[units.Density](t)(substance.SolutionDensity("NaOH", w))
		if math.Abs(float64(density)-e.number(t, "density")) > 0.001 {
			t.Errorf("our density table says %.4f kg/L, the example %.4f", float64(density), e.number(t, "density"))
		}
		alkali := w.Of(units.Volume(e.number(t, "volume_L")).Mass(density))
		return alkali.Grams() / (e.number(t, "purity") / 100)
	},
	"cem_zn_agcn": func(t *testing.T, e example) float64 {
		y := must[Yield](t)(YieldOf("K[Ag(CN)2] + Zn -> Ag + Zn(CN)2 + KCN",
			map[string]float64{"K[Ag(CN)2]": molesOf(t, e.number(t, "salt_g"), "K[Ag(CN)2]")}))
		return y.MadeG["Zn(CN)2"]
	},
	"di_hbr": func(t *testing.T, e example) float64 {
		return must[units.Volume](t)(Dilution(concentration(e.number(t, "c1")), units.Volume(e.number(t, "v1_L")),
			concentration(e.number(t, "c2")))).Litres()
	},
	"di_koh": func(t *testing.T, e example) float64 {
		return must[units.Volume](t)(Dilution(concentration(e.number(t, "c2")), units.Volume(e.number(t, "v2_L")),
			concentration(e.number(t, "c1")))).Litres()
	},
	"fg_dime": func(t *testing.T, e example) float64 {
		coin := must[substance.Alloy](t)(substance.FindAlloy("coin silver 900"))
		silver := coin.Fraction("Ag").Of(grams(e.number(t, "mass_g")))
		// The coin table states 0.07231 ozt, a little under 2.25/31.1034768 = 0.07234.
		if math.Abs(silver.TroyOunces()-0.07234) > 0.000005 {
			t.Errorf("%.5f ozt, want 0.07234", silver.TroyOunces())
		}
		return silver.Grams()
	},
	"fg_eff": func(t *testing.T, e example) float64 {
		return (units.Mass(e.number(t, "pounds")) * units.Pound).TroyOunces()
	},
	"fg_half40": func(t *testing.T, e example) float64 {
		fineness := units.MassFraction(e.number(t, "fineness")) * units.Permille
		return fineness.Of(grams(e.number(t, "mass_g"))).Grams()
	},
	"grav_so4": func(t *testing.T, e example) float64 {
		f := must[float64](t)(GravimetricFactor("MgSO4", "BaSO4", "S"))
		return 100 * f * e.number(t, "BaSO4_g") / e.number(t, "sample_g")
	},
	"lim_si3n4": func(t *testing.T, e example) float64 {
		silicon, nitrogen := molesOf(t, e.number(t, "Si_g"), "Si"), molesOf(t, e.number(t, "N2_g"), "N2")
		y := must[Yield](t)(YieldOf("Si + N2 -> Si3N4", map[string]float64{"Si": silicon, "N2": nitrogen}))
		if y.Limiting != e.Answers["limiting"] {
			t.Errorf("limited by %s, want %s", y.Limiting, e.Answers["limiting"])
		}
		enough := must[Yield](t)(YieldOf("Si + N2 -> Si3N4", map[string]float64{"N2": nitrogen}))
		if want := e.Answers["product_if_N2_mol"].(float64); math.Abs(enough.ExtentMol-want) > e.Tolerance {
			t.Errorf("nitrogen alone would make %g mol, want %g", enough.ExtentMol, want)
		}
		return y.ExtentMol
	},
	"lim_uranyl": func(t *testing.T, e example) float64 {
		y := must[Yield](t)(YieldOf("Na2C2O4 + UO2(NO3)2 + H2O -> UO2(C2O4)·3H2O + NaNO3", map[string]float64{
			"Na2C2O4":   molesOf(t, e.number(t, "oxalate_g"), "Na2C2O4"),
			"UO2(NO3)2": molesOf(t, e.number(t, "uranyl_g"), "UO2(NO3)2"),
		}))
		if y.Limiting != e.Answers["limiting"] {
			t.Errorf("limited by %s, want %s", y.Limiting, e.Answers["limiting"])
		}
		return 100 * e.number(t, "solid_g") / y.MadeG["UO2(C2O4)·3H2O"]
	},
	"mm_ca3po42": func(t *testing.T, e example) float64 { return mass(t, e.Given["formula"].(string)) },
	"mm_cu_atoms": func(t *testing.T, e example) float64 {
		return data.Avogadro * molesOf(t, e.number(t, "mass_g"), e.Given["element"].(string))
	},
	"pc_measured": func(t *testing.T, e example) float64 {
		percent := func(key string) float64 {
			return grams(e.number(t, key)).Fraction(grams(e.number(t, "sample_g"))).Percent()
		}
		for key, answer := range map[string]string{"O_g": "percent_O", "Cl_g": "percent_Cl"} {
			if want := e.Answers[answer].(float64); math.Abs(percent(key)-want) > e.Tolerance {
				t.Errorf("%s = %g %%, want %g", answer, percent(key), want)
			}
		}
		return percent("C_g")
	},
	"st_ki_cu": func(t *testing.T, e example) float64 {
		b := must[Balanced](t)(Balance("Cu(NO3)2 + KI -> CuI + I2 + KNO3"))
		ratio := float64(b.Coefficients[1]) / float64(b.Coefficients[0])
		copper := concentration(e.number(t, "cu_M")).Amount(millilitres(e.number(t, "cu_mL")))
		return 1000 * float64(copper) * ratio / e.number(t, "ki_M")
	},
	"st_naoh_mgoh2": func(t *testing.T, e example) float64 {
		b := must[Balanced](t)(Balance("MgCl2 + NaOH -> Mg(OH)2 + NaCl"))
		if got, want := float64(b.Coefficients[1]), e.number(t, "naoh_per_product_mol"); math.Abs(got-want) > 0 {
			t.Errorf("%g mol of NaOH a mole, want %g", got, want)
		}
		return molesOf(t, e.number(t, "product_g"), "Mg(OH)2") * float64(b.Coefficients[1]) * mass(t, "NaOH")
	},
	"tit_hcl": func(t *testing.T, e example) float64 {
		return must[units.Concentration](t)(Titration(concentration(e.number(t, "base_M")), millilitres(e.number(t, "base_mL")), 1,
			millilitres(e.number(t, "acid_mL")))).MolesPerLitre()
	},
	"tit_volhard": func(t *testing.T, e example) float64 {
		silver := concentration(e.number(t, "ag_M")).Amount(millilitres(e.number(t, "ag_mL")))
		left := concentration(e.number(t, "scn_M")).Amount(millilitres(e.number(t, "scn_mL")))
		iodide := silver - left
		if want := e.Answers["mol_I"].(float64); math.Abs(float64(iodide)-want) > 1e-6 {
			t.Errorf("%g mol of iodide, want %g", float64(iodide), want)
		}
		return iodide.Mass(units.MolarMass(mass(t, "I"))).Fraction(grams(e.number(t, "sample_g"))).Percent()
	},
	"tr_cui": func(t *testing.T, e example) float64 {
		share := units.MassFraction(e.number(t, "percent")) * units.Percent
		return share.Of(grams(e.number(t, "mass_g"))).Amount(units.MolarMass(mass(t, "CuI"))).Moles()
	},
	"yield_ba": func(t *testing.T, e example) float64 {
		y := must[Yield](t)(YieldOf("2 C7H8 + 3 O2 -> 2 C7H6O2 + 2 H2O",
			map[string]float64{"C7H8": molesOf(t, 1000*e.number(t, "toluene_kg"), "C7H8")}))
		return 100 * 1000 * e.number(t, "acid_kg") / y.MadeG["C7H6O2"]
	},
	"yield_cu_zn": func(t *testing.T, e example) float64 {
		y := must[Yield](t)(YieldOf("CuSO4 + Zn -> Cu + ZnSO4",
			map[string]float64{"CuSO4": molesOf(t, e.number(t, "cuso4_g"), "CuSO4")}))
		if want := e.Answers["theoretical_Cu_g"].(float64); math.Abs(y.MadeG["Cu"]-want) > 0.0005 {
			t.Errorf("at most %g g of copper, want %g", y.MadeG["Cu"], want)
		}
		return 100 * e.number(t, "cu_g") / y.MadeG["Cu"]
	},
}

// TestWorkedExamples holds each example against its published answer.
func TestWorkedExamples(t *testing.T) {
	all := workedExamples(t)
	for id, compute := range covered {
		t.Run(id, func(t *testing.T) {
			e, ok := all[id]
			if !ok {
				t.Fatalf("there is no example %s", id)
			}
			got := compute(t, e)
			if !(math.Abs(got-e.Value) <= e.Tolerance) {
				t.Errorf("%.6g %s, published %.6g ± %.2g (%s)", got, e.Unit, e.Value, e.Tolerance, e.Source)
			}
			t.Logf("%.6g for %.6g %s", got, e.Value, e.Unit)
		})
	}
}
