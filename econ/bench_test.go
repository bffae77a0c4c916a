package econ

import (
	"strings"
	"testing"
)

func TestBenchOfTheBook(t *testing.T) {
	b, _ := decoded(t, smallBook)
	bench := b.Bench()
	near(t, "vessel", bench.LargestVessel.Litres(), 2, 1e-12)
	near(t, "heater", bench.Heater.Watts(), 800, 1e-12)
	near(t, "volts", bench.SupplyVolts.Volts(), 12, 1e-12)
	near(t, "amperes", bench.SupplyAmps.Amperes(), 5, 1e-12)
	near(t, "cathode", bench.CathodeArea.SquareCentimetres(), 100, 1e-12)
	near(t, "room", bench.RoomM3, 30, 1e-12)
	near(t, "air changes", bench.AirChanges, 2, 1e-12)
	near(t, "balance", bench.Balance.Grams(), 0.01, 1e-12)
	if bench.Melting != "torch" || bench.Separation != "decant" || bench.Extraction != 0 {
		t.Errorf("bench %+v", bench)
	}
	near(t, "lye", float64(b.Shelf()["sodium-hydroxide"].Strength), 0.98, 1e-12)
}

func TestBookWithoutBenchAssumesOneAndSaysSo(t *testing.T) {
	b, _ := decoded(t, without(t, smallBook, "[bench]"))
	near(t, "vessel", b.Bench().LargestVessel.Litres(), 5, 1e-12)
	if b.Bench().Extraction != 0 || b.Bench().Melting != "none" {
		t.Errorf("bench %+v", b.Bench())
	}
	if len(b.notes) != 1 || !strings.Contains(b.notes[0], "heater 800 W") {
		t.Errorf("notes %q", b.notes)
	}
}
