package thermal

import (
	"errors"
	"math"
	"testing"

	"afterpour/chem/units"
)

func TestBadArguments(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	room := Room{Volume: 30 * units.CubicMetre, AirChanges: 2, Mixing: 1}
	sol, _ := SolubilityOf("PbCl2")
	dec, _ := CalcinationOf("AgNO3")
	for name, call := range map[string]func() error{
		"WaterAt":           func() error { _, err := WaterAt(units.Celsius(101)); return err },
		"WaterAt NaN":       func() error { _, err := WaterAt(units.Temperature(nan)); return err },
		"WarmWater":         func() error { _, err := WarmWater(-1, 300, 310); return err },
		"WarmWater from":    func() error { _, err := WarmWater(1, 200, 310); return err },
		"WarmWater to":      func() error { _, err := WarmWater(1, 300, 500); return err },
		"WarmWater huge":    func() error { _, err := WarmWater(1e308, units.Celsius(5), units.Celsius(100)); return err },
		"BoilDown up":       func() error { _, err := BoilDown(1, 2); return err },
		"BoilDown Inf":      func() error { _, err := BoilDown(units.Volume(inf), 1); return err },
		"BoilDown NaN":      func() error { _, err := BoilDown(units.Volume(nan), 1); return err },
		"Evaporate":         func() error { _, err := Evaporate(-1, 300); return err },
		"Evaporate T":       func() error { _, err := Evaporate(1, 3000); return err },
		"Sensible":          func() error { _, err := Sensible(1, 0, 300, 310); return err },
		"PhaseChange":       func() error { _, err := PhaseChange(1, nan); return err },
		"MixTemperature":    func() error { _, err := MixTemperature(0); return err },
		"MixTemperature m":  func() error { _, err := MixTemperature(0, Body{0, 1, 300}); return err },
		"MixTemperature <0": func() error { _, err := MixTemperature(-1e9, Body{1, 1, 300}); return err },
		"StartTemperature":  func() error { _, err := StartTemperature(0, 1, Body{1, 1, 300}, 310); return err },
		"Start below 0 K":   func() error { _, err := StartTemperature(1e-9, 1, Body{1, 1, 300}, 290); return err },
		"AtWall":            func() error { _, err := AtWall(1, 0); return err },
		"AtWall 2":          func() error { _, err := AtWall(1, 2); return err },
		"HeaterHours":       func() error { _, err := HeaterHours(1, 0, 1); return err },
		"HeaterHours eta":   func() error { _, err := HeaterHours(1, 1, nan); return err },
		"Hess":              func() error { _, err := Hess(Step{inf, 1}); return err },
		"Hess NaN":          func() error { _, err := Hess(Step{1, nan}); return err },
		"Melt":              func() error { _, err := Melt("Ag", -1, 300, 400); return err },
		"Melt T":            func() error { _, err := Melt("Ag", 1, 300, 4000); return err },
		"Share":             func() error { _, err := dec.Share(units.Temperature(nan)); return err },
		"Heat":              func() error { _, err := dec.Heat(1, 1, 500); return err },
		"ReactionEnthalpy":  func() error { _, err := ReactionEnthalpy(Formed{"AgCl", "s", nan}); return err },
		"Dry":               func() error { _, err := Dry(-1, 1, 1, 300); return err },
		"Dry solid":         func() error { _, err := Dry(1, -1, 1, 300); return err },
		"LeftShare":         func() error { _, err := LeftShare(0, 0, 1); return err },
		"LeftShare n":       func() error { _, err := LeftShare(1, 1, -1); return err },
		"WashesFor target":  func() error { _, err := WashesFor(1, 1, 0); return err },
		"WashesFor NaN":     func() error { _, err := WashesFor(1, 1, nan); return err },
		"WashesFor fill":    func() error { _, err := WashesFor(1, 0, 0.5); return err },
		"WashesFor endless": func() error { _, err := WashesFor(1e12, 1e-6, 1e-9); return err },
		"WashWater":         func() error { _, err := WashWater(-1, 1); return err },
		"WashLoss":          func() error { _, err := WashLoss(-1, 1, 1, 1); return err },
		"WashLoss n":        func() error { _, err := WashLoss(1, 1, -1, 1); return err },
		"BestWashes":        func() error { _, err := BestWashes(1, 1, 1, 1, 0); return err },
		"BestWashes many":   func() error { _, err := BestWashes(1e12, 1e-6, 1, 1, 1); return err },
		"CakeLeftShare":     func() error { _, err := CakeLeftShare(0, 1, 0.5); return err },
		"Solubility.At":     func() error { _, err := sol.At(units.Celsius(-1)); return err },
		"Crystallise":       func() error { _, err := Crystallise(sol, 1, 1, 1, 300); return err },
		"Crystallise T":     func() error { _, err := Crystallise(sol, 1, 1, 0, 3000); return err },
		"MolarVolume":       func() error { _, err := MolarVolume(0); return err },
		"GasVolume":         func() error { _, err := GasVolume(-1, 300); return err },
		"GasVolume T":       func() error { _, err := GasVolume(1, -300); return err },
		"ppm":               func() error { _, err := MilligramsPerCubicMetre(2e6, 46, 300); return err },
		"ppm T":             func() error { _, err := MilligramsPerCubicMetre(1, 46, 0); return err },
		"FreshAir":          func() error { _, err := FreshAir(1, 0, 300); return err },
		"FreshAir n":        func() error { _, err := FreshAir(units.Amount(nan), 1, 300); return err },
		"FreshAir huge":     func() error { _, err := FreshAir(1e300, 1e-300, 300); return err },
		"FreshAirForDust":   func() error { _, err := FreshAirForDust(1, 0); return err },
		"AcidMist":          func() error { _, err := AcidMist(-1, 1); return err },
		"Room":              func() error { _, err := RoomConcentration(1, 1, Room{}, 300); return err },
		"Room time":         func() error { _, err := RoomConcentration(1, 0, room, 300); return err },
		"Room T":            func() error { _, err := RoomConcentration(1, 1, room, 0); return err },
		"NewRoom":           func() error { _, err := NewRoom(0, 1, 1); return err },
		"NewRoom flow":      func() error { _, err := NewRoom(1, 1, -1); return err },
		"ClearingTime":      func() error { _, err := ClearingTime(1, 0.5, Room{Volume: 1, Mixing: 1}); return err },
		"ClearingTime room": func() error { _, err := ClearingTime(1, 0.5, Room{}); return err },
		"HoodCapture":       func() error { _, err := HoodCapture(1, 0); return err },
	} {
		err := call()
		var domain *DomainError
		if !errors.Is(err, ErrDomain) || !errors.As(err, &domain) || domain.Error() == "" {
			t.Errorf("%s: %v, want a DomainError", name, err)
		}
	}
}
