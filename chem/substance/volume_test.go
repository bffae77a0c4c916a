package substance

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"afterpour/chem/data"
	"afterpour/chem/units"

	"pgregory.net/rapid"
)

// solutionIons says what the solutes of the density table are in a stream.
var solutionIons = map[string]map[string]float64{
	"HCl":      {"H^+": 1, "Cl^-": 1},
	"HNO3":     {"H^+": 1, "NO3^-": 1},
	"H2SO4":    {"H^+": 2, "SO4^2-": 1},
	"NaOH":     {"Na^+": 1, "OH^-": 1},
	"NH3":      {"NH3(aq)": 1},
	"H2O2":     {"H2O2(aq)": 1},
	"NaCl":     {"Na^+": 1, "Cl^-": 1},
	"CuSO4":    {"Cu^2+": 1, "SO4^2-": 1},
	"Cu(NO3)2": {"Cu^2+": 1, "NO3^-": 2},
	"CuCl2":    {"Cu^2+": 1, "Cl^-": 2},
	"FeCl3":    {"Fe^3+": 1, "Cl^-": 3},
	"Na2CO3":   {"Na^+": 2, "CO3^2-": 1},
	"NaNO3":    {"Na^+": 1, "NO3^-": 1},
	"Na2S2O3":  {"Na^+": 2, "S2O3^2-": 1},
	"AgNO3":    {"Ag^+": 1, "NO3^-": 1},
	"C6H12O6":  {"C6H12O6(aq)": 1},
}

// notMixed lists solutes whose table is not of the pure solution.
var notMixed = map[string]string{"NaOCl": "bleach as sold carries about as much salt as hypochlorite"}

// densityTolerance is the largest deviation allowed, in %: 1 except where the model is known to be coarser.
func densityTolerance(solute string, percent float64) float64 {
	switch {
	case solute == "H2SO4" && percent > 80:
		return 16
	case solute == "H2SO4":
		return 3
	}
	return 1
}

// TestLiquidVolumeAgainstDensities mixes every solution of the density table as a stream and compares its density.
func TestLiquidVolumeAgainstDensities(t *testing.T) {
	rows, err := data.Densities()
	if err != nil {
		t.Fatal(err)
	}
	worst, at := map[string]float64{}, map[string]string{}
	for _, row := range rows {
		ions, ok := solutionIons[row.Solute]
		if !ok {
			if notMixed[row.Solute] == "" {
				t.Errorf("%s is not mixed here", row.Solute)
			}
			continue
		}
		got := mixedDensity(t, row.Solute, row.Percent, ions)
		deviation := 100 * (got/row.Density - 1)
		if math.Abs(deviation) > math.Abs(worst[row.Solute]) {
			worst[row.Solute] = deviation
			at[row.Solute] = fmt.Sprintf("at %g %%: %.4f for %.4f kg/L", row.Percent, got, row.Density)
		}
		if math.Abs(deviation) > densityTolerance(row.Solute, row.Percent) {
			t.Errorf("%s %g %%: density %.4f, tabled %.4f kg/L (%+.2f %%)", row.Solute, row.Percent, got, row.Density, deviation)
		}
	}
	for solute, d := range worst {
		t.Logf("%-9s largest deviation %+6.2f %% %s", solute, d, at[solute])
	}
}

// mixedDensity returns mass/volume in kg/L of 1 kg of solution at 20 degC.
func mixedDensity(t *testing.T, solute string, percent float64, ions map[string]float64) float64 {
	t.Helper()
	f, err := ParseFormula(solute)
	if err != nil {
		t.Fatal(err)
	}
	s := NewStream(units.Celsius(20))
	for name, n := range ions {
		s.Add(MustFind(name), n*10*percent/float64(f.MolarMass()))
	}
	s.Add(MustFind("H2O(l)"), (1000-10*percent)/float64(MustFind("H2O(l)").Species().MolarMass))
	return float64(s.Mass()) / float64(s.LiquidVolume())
}

func TestWaterDensity(t *testing.T) {
	// IAPWS-95 at saturation: 0.998162 at 20 degC, 0.958349 at 100 degC.
	for celsius, want := range map[float64]float64{20: 0.998162, 100: 0.958349, 22.5: 0.9975825, -5: 0.999917, 150: 0.958349} {
		if got := float64(WaterDensity(units.Celsius(celsius))); !near(got, want, 1e-6) {
			t.Errorf("density of water at %g degC = %.6f, want %.6f", celsius, got, want)
		}
	}
}

func TestFillToVolume(t *testing.T) {
	s := nitrateLiquor()
	water, err := s.FillToVolume(3.2 * units.Litre)
	if err != nil {
		t.Fatal(err)
	}
	if got := float64(s.LiquidVolume()); !near(got, 3.2, 1e-12) {
		t.Errorf("filled to %.15g L, want 3.2", got)
	}
	if water != s.Water() || !(float64(water) > 170 && float64(water) < 180) {
		t.Errorf("water = %g mol", float64(water))
	}
	before := s.Clone()
	for _, v := range []units.Volume{-1, units.Volume(math.NaN()), units.Volume(math.Inf(1))} {
		if _, err := s.FillToVolume(v); !errors.Is(err, ErrVolume) {
			t.Errorf("FillToVolume(%g) = %v, want %v", float64(v), err, ErrVolume)
		}
	}
	thick := NewStream(units.Celsius(20))
	thick.Add(MustFind("C6H12O6(aq)"), 100)
	if _, err := thick.FillToVolume(1); !errors.Is(err, ErrVolume) {
		t.Errorf("100 mol of glucose in 1 L: %v, want %v", err, ErrVolume)
	}
	if s.Mol[loaded().water] != before.Mol[loaded().water] {
		t.Error("a refused volume changed the stream")
	}
}

// TestVolumeGrows: more water never takes less room, down to a drop.
func TestVolumeGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawStream(t)
		s.Add(MustFind("H2O(l)"), rapid.Float64Range(1, 100).Draw(t, "water"))
		v := s.LiquidVolume()
		if !(v >= 0) || math.IsInf(float64(v), 0) {
			t.Fatalf("volume %g", float64(v))
		}
	})
}
