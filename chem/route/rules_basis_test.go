package route

import (
	"math"
	"testing"

	"afterpour/chem/electro"
	"afterpour/chem/substance"
)

// The room that thresholds are derived for, and the molar volume of a gas at 25
// degC and 1 atm.
const (
	roomM3   = 30.0
	litreMol = 24.465
)

// ppmInRoom is what so many moles of a gas make of the room's air.
func ppmInRoom(mol float64) float64 { return mol * litreMol / 1000 / roomM3 * 1e6 }

// boundOf is the threshold of the first condition of a rule's level that looks
// at what.
func boundOf(t *testing.T, rule, severity, what string) float64 {
	t.Helper()
	list, err := Rules()
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range list {
		for _, l := range r.Levels {
			for _, c := range l.When {
				if r.ID == rule && l.Severity == severity && c.what == what {
					return c.bound
				}
			}
		}
	}
	t.Fatalf("no level %s of %s looks at %q", severity, rule, what)
	return 0
}

// TestThresholdsOfGas: amounts that bring the air of a room of 30 m3 to the limit
// in the tables.
func TestThresholdsOfGas(t *testing.T) {
	limit := func(gas string) float64 {
		l, err := substance.AirLimitOf(gas)
		if err != nil {
			t.Fatal(err)
		}
		return l.PPM
	}
	for _, c := range []struct {
		rule, severity, what string
		perMol               float64 // kg or mol of what a mole of gas takes
		ppm, within          float64
	}{
		{"chloride-oxidant", SeverityCaution, "gas Cl2", 70.90e-3, limit("Cl2"), 0.1},
		{"nitric-metal", SeverityCaution, "gas NO + NO2", 46.01e-3, limit("NO2"), 0.15},
		{"nitrate-heat", SeverityCaution, "NO3^-", 62.00e-3, limit("NO2"), 0.35},
		{"boiling-acid", SeverityCaution, "NO3^- + Cl^-", 1, 16, 0.05},
		{"bleach-acid", SeverityStop, "ClO^-", 51.45e-3, 8, 0.05},
		{"sulfite-acid", SeverityStop, "SO3^2- + HSO3^-", 1, 8, 0.05},
		{"sulfide-acid", SeverityStop, "Ag2S(s)", 247.8e-3, 3.3, 0.05},
		{"arsine", SeverityRefuse, "As + Sb", 74.92e-3, 0.05, 0.1},
	} {
		near(t, c.rule+", ppm", ppmInRoom(boundOf(t, c.rule, c.severity, c.what)/c.perMol), c.ppm, c.within)
	}
}

// TestThresholdsOfFume: fume and vapour in a room of 30 m3, in mg/m3.
func TestThresholdsOfFume(t *testing.T) {
	perM3 := func(kg float64) float64 { return kg * 1e6 / roomM3 }
	near(t, "cadmium, half an hour against 8 h at 0.005 mg/m3", perM3(boundOf(t, "cadmium-melt", SeverityRefuse, "Cd"))*0.5, 8*0.005, 0.2)
	near(t, "mercury, mg/m3", perM3(boundOf(t, "mercury", SeverityRefuse, "Hg")), 0.33, 0.02)
	near(t, "zinc as oxide, mg/m3", perM3(boundOf(t, "zinc-melt", SeverityCaution, "Zn"))*81.38/65.38, 20, 0.05)
	near(t, "beryllium, mg in the room at its limit", 0.0002*roomM3, 0.006, 1e-9)
	near(t, "hydrogen over a bucket of 30 L, share", boundOf(t, "metal-hydrogen", SeverityCaution, "gas H2")*1000/2.016*litreMol/30, 0.04, 0.02)
	near(t, "nitric oxide in a closed neck, mL", boundOf(t, "closed-vessel", SeverityStop, "gas")*1000/30.01*litreMol*1000, 40, 0.05)
}

// TestNitrateWarmsTheSludge: glucose burnt by nitrate to carbon dioxide and
// nitrogen, 24 NO3⁻ + 24 H⁺ to 5 C6H12O6. Enthalpies of formation in kJ/mol,
// CRC Handbook: glucose −1273.3, NO3⁻ −207.4, CO2 −393.5, H2O −285.8.
func TestNitrateWarmsTheSludge(t *testing.T) {
	perMol := (5*-1273.3 + 24*-207.4 - 30*-393.5 - 42*-285.8) / 24 // kJ a mole of nitrate
	perGram := perMol / 62.00
	near(t, "heat, kJ a gram of nitrate", perGram, 8.4, 0.02)
	const water, chloride = 4.184, 0.36 // kJ/(kg K); silver chloride: CRC Handbook, 50.8 J/(mol K)
	nitrate := boundOf(t, "sugar-nitrate", SeverityStop, "NO3^-") * 1000
	near(t, "warming, K", nitrate*perGram/(water+chloride), 20, 0.1)
}

// TestNitrateMakesChlorine: by Nernst's law, with concentrations for activities
// and both gases at their limits in air, nitrate begins to turn chloride to
// chlorine between 3 and 5 mol/L of acid, nitrate and chloride alike. The stop
// stands at the lower end.
func TestNitrateMakesChlorine(t *testing.T) {
	potential := func(id string) float64 {
		c, err := electro.CoupleByID(id)
		if err != nil {
			t.Fatal(err)
		}
		return float64(c.Standard)
	}
	nitrate, chlorine := potential("no3_no"), potential("cl2")
	ahead := func(c float64) float64 {
		const rt = 0.025693 // V: RT/F at 25 degC
		no, cl2 := 1e-6, 0.5e-6
		return nitrate + rt/3*math.Log(c*math.Pow(c, 4)/no) - (chlorine - rt/2*math.Log(c*c/cl2))
	}
	low, high := 0.1, 20.0
	for range 60 {
		if mid := (low + high) / 2; ahead(mid) > 0 {
			high = mid
		} else {
			low = mid
		}
	}
	t.Logf("nitrate and chloride meet at %.2f mol/L", low)
	if low < 3 || low > 5 {
		t.Errorf("chlorine begins at %.2f mol/L, not between 3 and 5", low)
	}
	near(t, "the stop, mol/L", boundOf(t, "chloride-oxidant", SeverityStop, "H^+"), 3, 1e-9)
}
