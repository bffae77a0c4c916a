package equil

import (
	"math"
	"testing"
)

// TestActivityFormulas checks both equations against values worked by hand
// from the constants of the tables.
func TestActivityFormulas(t *testing.T) {
	davies := coefficients{kind: daviesActivity, a: 0.51002}
	bdot := coefficients{kind: bdotActivity, a: 0.5114, b: 0.3288, bdot: 0.0410}
	tests := map[string]struct {
		k     coefficients
		c     gammaClass
		ionic float64
		want  float64 // log10 g
	}{
		// -0.51002 (sqrt(0.1)/(1+sqrt(0.1)) - 0.03)
		"davies, one charge":  {davies, gammaClass{z2: 1}, 0.1, -0.10723},
		"davies, two charges": {davies, gammaClass{z2: 4}, 0.1, -0.42891},
		"davies, neutral":     {davies, gammaClass{}, 2, 0.2},
		// -0.5114 / (1 + 9 0.3288) + 0.041, as pH of 1 mol/kg acid needs
		"b-dot, hydrogen ion": {bdot, gammaClass{z2: 1, size: 9}, 1, -0.08817},
		"b-dot, neutral":      {bdot, gammaClass{}, 3, 0},
		"ideal":               {coefficients{}, gammaClass{z2: 9}, 1, 0},
	}
	for name, tc := range tests {
		got, _ := tc.k.lnGamma(tc.c, tc.ionic)
		if math.Abs(got/math.Ln10-tc.want) > 1e-4 {
			t.Errorf("%s: log10 g = %.5f, want %.5f", name, got/math.Ln10, tc.want)
		}
	}
}

func TestActivitySlopes(t *testing.T) {
	kinds := []coefficients{
		{kind: daviesActivity, a: 0.51}, {kind: bdotActivity, a: 0.51, b: 0.33, bdot: 0.04}, {},
	}
	for _, k := range kinds {
		for _, c := range []gammaClass{{}, {1, 3}, {4, 6}, {16, 11.6}} {
			for _, ionic := range []float64{1e-7, 1e-3, 0.5, 7, 90} {
				h := 1e-6 * ionic
				up, _ := k.lnGamma(c, ionic+h)
				down, _ := k.lnGamma(c, ionic-h)
				_, slope := k.lnGamma(c, ionic)
				if want := (up - down) / (2 * h); math.Abs(slope-want) > 1e-5*math.Abs(want)+1e-6 {
					t.Errorf("kind %d, %v at %g: slope %g, want %g", k.kind, c, ionic, slope, want)
				}
			}
		}
	}
}

// TestActivityHeld: no ionic strength, however absurd, gives a coefficient that
// is not finite, and beyond the limit it no longer changes.
func TestActivityHeld(t *testing.T) {
	k := coefficients{kind: daviesActivity, a: 0.51}
	at, _ := k.lnGamma(gammaClass{z2: 25}, highestIonicStrength)
	beyond, slope := k.lnGamma(gammaClass{z2: 25}, 1e9)
	if !near(beyond, at, 1e-12) || slope != 0 {
		t.Errorf("beyond the limit ln g = %g with slope %g, want %g and 0", beyond, slope, at)
	}
	if v, s := k.lnGamma(gammaClass{z2: 1}, 0); v != 0 || math.IsInf(s, 0) || math.IsNaN(s) {
		t.Errorf("at no ionic strength ln g = %g, slope %g", v, s)
	}
}

func TestWaterActivity(t *testing.T) {
	k := coefficients{kind: bdotActivity}
	v, slope := k.lnWater(2)
	if !near(math.Exp(v), 1-0.034, 1e-12) || !near(slope, -0.017/0.966, 1e-12) {
		t.Errorf("over 2 mol/kg a_w = %g, slope %g", math.Exp(v), slope)
	}
	if v, slope := k.lnWater(1000); !near(math.Exp(v), lowestWaterActivity, 1e-12) || slope != 0 {
		t.Errorf("over 1000 mol/kg a_w = %g, slope %g, want held at %g", math.Exp(v), slope, lowestWaterActivity)
	}
	if v, _ := (coefficients{}).lnWater(5); v != 0 {
		t.Errorf("ideal water has ln a = %g", v)
	}
}
