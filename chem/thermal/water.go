package thermal

import (
	"sort"

	"afterpour/chem/units"
)

// Water is water on its saturation line.
type Water struct {
	Density        units.Density
	HeatCapacity   float64 // J/(kg K), at constant pressure
	VapourPressure float64 // Pa
	LiquidEnthalpy float64 // J/kg, from 0 at the triple point
	VapourEnthalpy float64 // J/kg
	Latent         float64 // J/kg, to evaporate
}

// WaterAt returns the properties of saturated water from 5 to 100 °C, straight
// between rows 5 or 10 K apart. Between rows the density is within 0.02 %, the
// vapour pressure up to 4 % high (at 35 °C), the latent heat within 0.01 %.
// ErrDomain outside 5 to 100 °C.
//
// Source: IAPWS-95, rows of water.toml.
func WaterAt(t units.Temperature) (Water, error) {
	c := t.Celsius()
	if err := demand("WaterAt", within("temperature", c, 5, 100)); err != nil {
		return Water{}, err
	}
	rows := loaded().water
	i := min(max(1, sort.Search(len(rows), func(i int) bool { return rows[i].Celsius >= c })), len(rows)-1)
	a, b := rows[i-1], rows[i]
	x := (c - a.Celsius) / (b.Celsius - a.Celsius)
	mix := func(u, v float64) float64 { return u + (v-u)*x }
	return Water{
		Density:        units.Density(mix(a.Density, b.Density)) * units.KilogramPerCubicMetre,
		HeatCapacity:   mix(a.HeatCapacity, b.HeatCapacity) * 1000,
		VapourPressure: mix(a.VapourPressure, b.VapourPressure),
		LiquidEnthalpy: mix(a.LiquidEnthalpy, b.LiquidEnthalpy) * 1000,
		VapourEnthalpy: mix(a.VapourEnthalpy, b.VapourEnthalpy) * 1000,
		Latent:         mix(a.Latent, b.Latent) * 1000,
	}, nil
}

// WarmWater returns the heat that takes liquid water from one temperature to
// another, negative for cooling.
//
//	Q = m·(h(T2) − h(T1))
//
// ErrDomain for a negative mass or temperatures outside 5 to 100 °C.
//
// Source: enthalpies of IAPWS-95.
func WarmWater(m units.Mass, from, to units.Temperature) (units.Energy, error) {
	const name = "WarmWater"
	if err := demand(name, notNegative("mass", float64(m))); err != nil {
		return 0, err
	}
	a, err := WaterAt(from)
	if err != nil {
		return 0, err
	}
	b, err := WaterAt(to)
	if err != nil {
		return 0, err
	}
	q, err := result(name, float64(m)*(b.LiquidEnthalpy-a.LiquidEnthalpy))
	return units.Energy(q), err
}

// BoilDown returns the heat that takes pure water from 20 °C to its boiling
// point at 1 atm and boils it down from one volume to another, both as measured
// at 20 °C, without losses. All of it is warmed, what is boiled off also evaporated:
//
//	Q = ρ·(V1·335.0 kJ/kg + (V1 − V2)·2256.5 kJ/kg),  ρ = 0.99816 kg/L
//
// so that boiling to dryness takes 2591.5 kJ/kg. A liquor takes a little less
// for its salts' smaller heat capacity and a little more for its higher boiling
// point; neither is counted. ErrDomain where to is not between 0 and from.
//
// Source: IAPWS-IF97 at 0.101325 MPa.
func BoilDown(from, to units.Volume) (units.Energy, error) {
	const name = "BoilDown"
	if err := demand(name, notNegative("first volume", float64(from)), notNegative("last volume", float64(to)),
		argument{name: "last volume", value: float64(to), valid: to <= from, want: "no more than the first"}); err != nil {
		return 0, err
	}
	water, err := WaterAt(units.Celsius(20))
	if err != nil {
		return 0, err
	}
	kept, gone := to.Mass(water.Density), (from - to).Mass(water.Density)
	warm, err := Evaporate(gone, units.Celsius(20))
	if err != nil {
		return 0, err
	}
	q, err := result(name, float64(warm)+float64(kept)*sensible())
	return units.Energy(q), err
}

// Evaporate returns the heat that takes a mass of water at the temperature
// given to its boiling point at 1 atm and boils it off.
//
//	Q = m·(335.0 kJ/kg − (h(T) − h(20 °C)) + 2256.5 kJ/kg)
//
// ErrDomain for a negative mass or a temperature outside 5 to 100 °C.
//
// Source: IAPWS-IF97 and IAPWS-95.
func Evaporate(m units.Mass, from units.Temperature) (units.Energy, error) {
	const name = "Evaporate"
	if err := demand(name, notNegative("mass", float64(m))); err != nil {
		return 0, err
	}
	head, err := WarmWater(m, units.Celsius(20), from)
	if err != nil {
		return 0, err
	}
	q, err := result(name, float64(m)*(sensible()+latent())-float64(head))
	return units.Energy(q), err
}

// sensible is the heat from 20 °C to boiling at 1 atm in J/kg.
func sensible() float64 { return loaded().figures["evaporation-sensible"].Value * 1000 }

// latent is the heat of boiling at 1 atm in J/kg.
func latent() float64 { return loaded().figures["evaporation-latent"].Value * 1000 }
