package data

import "sync"

// Water is a row of water.toml: liquid water and its vapour at saturation.
type Water struct {
	Celsius        float64 `toml:"celsius"`
	Density        float64 `toml:"density"`         // kg/L
	HeatCapacity   float64 `toml:"heat_capacity"`   // kJ/(kg K)
	VapourPressure float64 `toml:"vapour_pressure"` // Pa
	LatentHeat     float64 `toml:"latent_heat"`     // kJ/kg
	LiquidEnthalpy float64 `toml:"liquid_enthalpy"` // kJ/kg, 0 near 0 degC
	VapourEnthalpy float64 `toml:"vapour_enthalpy"` // kJ/kg
	Row
}

// WaterRows returns the saturation table of water, 5 to 100 degC, in rising order of temperature.
func WaterRows() ([]Water, error) { return water() }

var water = sync.OnceValues(func() ([]Water, error) {
	return rows[Water]("water.toml")
})

func (w Water) check() error {
	ok := finite(w.Celsius) && positive(w.Density) && positive(w.HeatCapacity) && positive(w.VapourPressure) &&
		positive(w.LatentHeat) && positive(w.LiquidEnthalpy) && positive(w.VapourEnthalpy)
	return wrong(ok, "water at %g degC lacks a figure", w.Celsius)
}
