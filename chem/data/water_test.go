package data

import (
	"math"
	"testing"
)

// TestWaterRows: temperatures rise, and the latent heat is the difference of the two enthalpies of its row.
func TestWaterRows(t *testing.T) {
	rows, err := WaterRows()
	if err != nil {
		t.Fatal(err)
	}
	last := -1.0
	for _, r := range rows {
		if !(r.Celsius > last) {
			t.Errorf("%g degC does not rise", r.Celsius)
		}
		last = r.Celsius
		if d := r.VapourEnthalpy - r.LiquidEnthalpy - r.LatentHeat; math.Abs(d) > 0.02 {
			t.Errorf("at %g degC the latent heat is off by %g kJ/kg", r.Celsius, d)
		}
	}
}
