package tui

import (
	"strings"
	"testing"

	"afterpour/chem/units"

	"pgregory.net/rapid"
)

func TestJarSize(t *testing.T) {
	for litres, want := range map[float64]float64{3.2: 5, 0.99: 2, 0.9: 1, 4.95: 10, 12: 20, 0.033: 0.05, 0: 1} {
		if got := jarSize(litres); got < want*0.999 || got > want*1.001 {
			t.Errorf("jarSize(%v) = %v, want %v", litres, got, want)
		}
	}
}

// TestVesselToScale: the filled share of the drawing is that of the jar, to a
// row; solids are never drawn as nothing.
func TestVesselToScale(t *testing.T) {
	look := look{signs: asciiSigns}
	rapid.Check(t, func(t *rapid.T) {
		liquid := rapid.Float64Range(0.001, 50).Draw(t, "liquid")
		solids := rapid.Float64Range(0, 5).Draw(t, "solids")
		height := rapid.IntRange(10, 40).Draw(t, "height")
		lines := look.drawVessel(units.Volume(liquid), units.Volume(solids), height)
		rows, filled, bottom := 0, 0, 0
		for _, row := range lines {
			s := row.String()
			if !strings.Contains(s, "|") {
				break
			}
			rows++
			if strings.ContainsAny(s, ".~%_") && !strings.Contains(s, "|       |") {
				filled++
			}
			if strings.Contains(s, "%") || strings.Contains(s, "_") {
				bottom++
			}
		}
		want := (liquid + solids) / jarSize(liquid+solids) * float64(rows)
		if d := float64(filled) - want; d > 1 || d < -0.51 {
			t.Fatalf("%d of %d rows filled for %v L, want %v", filled, rows, liquid+solids, want)
		}
		if solids > 0 && bottom == 0 {
			t.Fatalf("%v L of solids are not drawn", solids)
		}
		if len(lines) > height {
			t.Fatalf("%d lines for a height of %d", len(lines), height)
		}
	})
}
