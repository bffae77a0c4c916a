package thermal

import (
	"testing"

	"afterpour/chem/units"
)

// 24.45 L/mol at 25 °C is the figure that NIOSH's conversions use; 22.41 L at 0 °C.
func TestMolarVolume(t *testing.T) {
	near(t, "25 °C", float64(must[units.Volume](t)(MolarVolume(units.Celsius(25)))), 24.45, 0.02)
	near(t, "0 °C", float64(must[units.Volume](t)(MolarVolume(units.Celsius(0)))), 22.414, 0.001)
}

// NIOSH Pocket Guide conversion factors at 25 °C: 1 ppm is 1.88 mg/m3 of NO2,
// 2.90 of Cl2, 1.23 of NO, 1.49 of HCl, 2.62 of SO2 (from memory; check there).
func TestPPMConversion(t *testing.T) {
	for name, c := range map[string]struct{ mm, want float64 }{
		"NO2": {46.006, 1.88}, "Cl2": {70.90, 2.90}, "NO": {30.006, 1.23}, "HCl": {36.46, 1.49}, "SO2": {64.06, 2.62},
	} {
		near(t, name, must[float64](t)(MilligramsPerCubicMetre(1, units.MolarMass(c.mm), units.Celsius(25))), c.want, 0.005)
	}
}

func TestFreshAir(t *testing.T) {
	// A mole of NO2 to 1 ppm: 24.465 L·1e6 = 24 465 m3.
	v := must[units.Volume](t)(FreshAir(1, 1, units.Celsius(25)))
	near(t, "a mole of NO2", v.CubicMetres(), 24465, 5)
	dust := must[units.Volume](t)(FreshAirForDust(10*units.Milligram, 0.01))
	near(t, "silver dust", dust.CubicMetres(), 1000, 1e-6)
}

func TestAcidMist(t *testing.T) {
	// 100 L of gas through 100 g/L of acid throws up a tenth of a millilitre: 10 mg.
	near(t, "AcidMist", must[units.Mass](t)(AcidMist(100, 100)).Milligrams(), 10, 1e-9)
}
