package electro

import (
	"testing"

	"afterpour/chem/units"
)

// Both anchors of the nitrate line must lie on it.
func TestNitrateAnchors(t *testing.T) {
	near(t, "copper at rest", must[float64](t)(NitrateReduction(1, 1, 0.30, 1, standardKelvins)), 5, 1e-9)
	near(t, "onset", must[float64](t)(NitrateReduction(0.01, 0.1, 0.05, 1, standardKelvins)), 1, 1e-9)
	// About 0.2 to 1.8 mg of copper a cm2 and hour in 1 mol/L acid.
	low, high := NitrateFactor()
	for f, want := range map[float64]float64{low: 0.18, high: 1.78} {
		j := must[float64](t)(NitrateReduction(1, 1, 0.30, f, standardKelvins))
		m := must[units.Mass](t)(Deposit(units.Charge(j*3600), 2, 63.546, 1)) // a m2 and hour
		near(t, "attack", m.Milligrams()/1e4, want, 0.01)
	}
	warm := must[float64](t)(NitrateReduction(1, 1, 0.30, 1, 298.15+20))
	if ratio := warm / 5; ratio < 2.5 || ratio > 6 {
		t.Errorf("20 K make the attack %.1f times faster", ratio)
	}
}

func TestAmmoniumShare(t *testing.T) {
	for volts, want := range map[float64]float64{0.3: 0, 0: 0, -0.19: 0.5, -0.38: 1, -1: 1} {
		near(t, "ammoniumShare", ammoniumShare(volts), want, 1e-9)
	}
}
