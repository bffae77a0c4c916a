package data

import (
	"math"
	"testing"
)

// TestSteam: the constant is the difference of the enthalpies in the water table.
func TestSteam(t *testing.T) {
	rows, err := WaterRows()
	if err != nil {
		t.Fatal(err)
	}
	var liquid, vapour float64
	for _, r := range rows {
		if r.Celsius == 20 {
			liquid = r.LiquidEnthalpy
		}
		vapour = r.VapourEnthalpy
	}
	if got, want := float64(SteamFrom20C), 1000*(vapour-liquid); math.Abs(got-want) > 1e-6*want {
		t.Errorf("SteamFrom20C = %g J/kg, the table gives %g", got, want)
	}
}

// TestSilverMelting compares with the heat content of solid silver from the handbook's own table of heat capacities
// (25.36 J/(mol K) at 300 K to 26.99 at 600 K), extended as a straight line to the melting point: 345 to 355 kJ/kg.
func TestSilverMelting(t *testing.T) {
	if got := float64(SilverMelting); !(got > 345e3 && got < 355e3) {
		t.Errorf("SilverMelting = %g J/kg", got)
	}
}
