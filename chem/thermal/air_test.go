package thermal

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/units"
)

// euler integrates the room's box model numerically.
func euler(gasM3, hours, roomM3, flow float64) float64 {
	const steps = 200000
	c, dt := 0.0, hours/steps
	for range steps {
		c += dt * (gasM3/hours/roomM3 - flow/roomM3*c)
	}
	return c * 1e6
}

func TestRoomAgainstNumericalIntegration(t *testing.T) {
	for name, c := range map[string]struct {
		room Room
		over units.Hours
	}{
		"aired":  {Room{Volume: 30 * units.CubicMetre, AirChanges: 2, Mixing: 1}, 3},
		"sealed": {Room{Volume: 30 * units.CubicMetre, Mixing: 1}, 3},
		"hood":   {Room{Volume: 30 * units.CubicMetre, AirChanges: 1, Extraction: 200, Mixing: 1}, 0.2},
	} {
		got := must[float64](t)(RoomConcentration(0.1, c.over, c.room, units.Celsius(25)))
		gas := must[units.Volume](t)(GasVolume(0.1, units.Celsius(25)))
		want := euler(gas.CubicMetres(), float64(c.over), 30, c.room.airFlow())
		near(t, name, got, want, 1e-4*want)
	}
}

func TestRoomProperties(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		room := Room{
			Volume: units.Volume(rapid.Float64Range(5, 200).Draw(r, "m3")) * units.CubicMetre, AirChanges: rapid.Float64Range(0, 20).Draw(r, "ach"),
			Extraction: units.Flow(rapid.Float64Range(0, 1000).Draw(r, "flow")), Captured: rapid.Float64Range(0, 1).Draw(r, "captured"),
			Mixing: rapid.Float64Range(1, 10).Draw(r, "mixing"),
		}
		n := units.Amount(rapid.Float64Range(0, 10).Draw(r, "mol"))
		over := units.Hours(rapid.Float64Range(0.01, 100).Draw(r, "h"))
		c, err := RoomConcentration(n, over, room, units.Celsius(20))
		if err != nil || c < 0 || c > 1e6 {
			r.Fatal(c, err)
		}
		slower, err := RoomConcentration(n, 2*over, room, units.Celsius(20))
		if err != nil || slower > c*(1+1e-9) {
			r.Fatalf("slower release is worse: %g > %g", slower, c)
		}
		room.AirChanges++
		aired, err := RoomConcentration(n, over, room, units.Celsius(20))
		if err != nil || aired > c*(1+1e-9) {
			r.Fatalf("more air is worse: %g > %g", aired, c)
		}
	})
}

func TestClearingTime(t *testing.T) {
	room := Room{Volume: 30 * units.CubicMetre, AirChanges: 2, Mixing: 1}
	near(t, "a tenth", float64(must[units.Hours](t)(ClearingTime(10, 1, room))), math.Log(10)/2, 1e-9)
	near(t, "clear already", float64(must[units.Hours](t)(ClearingTime(1, 10, room))), 0, 1e-12)
}

func TestHoodCapture(t *testing.T) {
	// 0.1 m2 at 0.5 m/s is 180 m3/h.
	for flow, want := range map[units.Flow]float64{0: 0, 90: 0.495, 180: 0.99, 2000: 0.99} {
		near(t, "HoodCapture", must[float64](t)(HoodCapture(flow, 0.1)), want, 1e-9)
	}
	room := must[Room](t)(NewRoom(30*units.CubicMetre, 2, 180))
	near(t, "captured", room.Captured, 0.99, 1e-9)
	near(t, "mixing", room.Mixing, 3, 1e-9)
}

func FuzzRoom(f *testing.F) {
	f.Add(0.1, 2.0, 30.0, 2.0, 100.0, 0.5, 3.0, 293.15)
	f.Fuzz(func(t *testing.T, n, over, volume, changes, flow, captured, mixing, kelvins float64) {
		room := Room{units.Volume(volume), changes, units.Flow(flow), captured, mixing}
		c, err := RoomConcentration(units.Amount(n), units.Hours(over), room, units.Temperature(kelvins))
		if err != nil {
			_ = err.Error()
		} else if math.IsNaN(c) || c < 0 || c > 1e6 {
			t.Errorf("%g ppm", c)
		}
		if h, err := ClearingTime(n, over, room); err == nil && (math.IsNaN(float64(h)) || h < 0 || math.IsInf(float64(h), 0)) {
			t.Errorf("%g h", h)
		}
	})
}
