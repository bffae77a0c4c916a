package equil

import (
	"math"
	"os"
	"testing"

	"github.com/BurntSushi/toml"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

type measuredWater struct {
	ID           string  `toml:"id"`
	TemperatureC float64 `toml:"temperature_c"`
	Milligrams   float64 `toml:"mg_per_l"`
	Source       string  `toml:"source"`
}

type measuredChloride struct {
	ID           string  `toml:"id"`
	Salt         string  `toml:"salt"`
	TemperatureC float64 `toml:"temperature_c"`
	Chloride     float64 `toml:"chloride_mol_l"`
	Silver       float64 `toml:"silver_mol_l"`
	Uncertainty  float64 `toml:"uncertainty"`
	Source       string  `toml:"source"`
}

func loadMeasured(t *testing.T) (water []measuredWater, chloride []measuredChloride) {
	t.Helper()
	text, err := os.ReadFile("testdata/measured.toml")
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Water    []measuredWater    `toml:"water"`
		Chloride []measuredChloride `toml:"chloride"`
	}
	if err := toml.Unmarshal(text, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.Water) == 0 || len(file.Chloride) == 0 {
		t.Fatal("no measured rows")
	}
	return file.Water, file.Chloride
}

// molality turns mol/L of a chloride into mol per kg of water through the
// volume of the liquor, and gives the liters that 1 kg of water makes.
func molality(salt string, molar, celsius float64) (molal, liters float64) {
	low, high := 0.0, 20.0
	for range 60 {
		molal = (low + high) / 2
		s := substance.NewStream(units.Celsius(celsius))
		s.Add(substance.MustFind("H2O(l)"), 1/waterMolarMass)
		s.Add(substance.MustFind("Cl^-"), molal)
		s.Add(substance.MustFind(map[string]string{"HCl": "H^+", "NaCl": "Na^+"}[salt]), molal)
		liters = float64(s.LiquidVolume())
		if molal/liters > molar {
			high = molal
		} else {
			low = molal
		}
	}
	return molal, liters
}

// TestDefaultAgainstMeasuredWater prints the deviations of every set that can
// answer and holds the default to its documented doubt. The measurement itself
// is a rounded handbook figure, good to about 10 %.
func TestDefaultAgainstMeasuredWater(t *testing.T) {
	const handbook = 1.10
	water, _ := loadMeasured(t)
	for _, row := range water {
		for _, name := range SetNames() {
			set := mustSet(t, name)
			r, err := set.Solve(Problem{
				TemperatureC: row.TemperatureC, SolidAdded: map[string]float64{"AgCl": 0.01}, Allowed: []string{"AgCl"},
			})
			if err != nil {
				t.Fatalf("%s, %s: %v", row.ID, name, err)
			}
			s := substance.NewStream(units.Celsius(row.TemperatureC))
			s.Add(substance.MustFind("H2O(l)"), 1/waterMolarMass)
			molarMass := float64(substance.MustFind("AgCl(s)").Species().MolarMass)
			got := r.DissolvedMol["Ag"] / float64(s.LiquidVolume()) * molarMass * 1000
			ratio := got / row.Milligrams
			t.Logf("%-24s %-16s %6.2f mg/L, measured %6.2f, ratio %.2f", row.ID, name, got, row.Milligrams, ratio)
			if band := DocumentedDoubt(r.IonicStrength) * handbook; name == DefaultSet && !(math.Max(ratio, 1/ratio) < band) {
				t.Errorf("%s: default gives %.3g mg/L, measured %.3g: outside the factor %.2f", row.ID, got, row.Milligrams, band)
			}
		}
	}
}

func TestDefaultAgainstMeasuredChloride(t *testing.T) {
	_, chloride := loadMeasured(t)
	for _, row := range chloride {
		molal, liters := molality(row.Salt, row.Chloride, row.TemperatureC)
		p := Problem{
			TemperatureC: row.TemperatureC, Total: map[string]float64{"Cl": molal},
			SolidAdded: map[string]float64{"AgCl": 0.1}, Allowed: []string{"AgCl"},
		}
		if row.Salt == "NaCl" {
			p.Total["Na"] = molal
		}
		for _, name := range SetNames() {
			r, err := mustSet(t, name).Solve(p)
			if err != nil {
				t.Fatalf("%s, %s: %v", row.ID, name, err)
			}
			got := r.DissolvedMol["Ag"] / liters
			ratio := got / row.Silver
			t.Logf("%-18s %-16s I %5.2f  %.2e mol/L, measured %.2e, ratio %5.2f",
				row.ID, name, r.IonicStrength, got, row.Silver, ratio)
			band := DocumentedDoubt(r.IonicStrength) * (1 + row.Uncertainty/row.Silver)
			if name == DefaultSet && !(math.Max(ratio, 1/ratio) < band) {
				t.Errorf("%s: default gives %.3g mol/L, measured %.3g: outside the factor %.2f", row.ID, got, row.Silver, band)
			}
		}
	}
}
