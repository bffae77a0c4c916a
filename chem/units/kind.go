package units

import "fmt"

// Kind says what is measured. It fixes the dimension, the base unit of the
// plain value that Parse returns, and the example that messages show.
type Kind uint8

// The kinds, each with the base unit of its plain value.
const (
	Number                Kind = iota // a plain number: a pH, a ratio, a sum of money
	Fraction                          // a share as a plain ratio: "8 %" is 0.08
	MassKind                          // kg
	VolumeKind                        // L
	AmountKind                        // mol
	ConcentrationKind                 // mol/L
	MassConcentrationKind             // g/L
	DensityKind                       // kg/L
	TemperatureKind                   // K
	LengthKind                        // m
	AreaKind                          // m2
	HoursKind                         // h
	CurrentKind                       // A
	PotentialKind                     // V
	PowerKind                         // W
	EnergyKind                        // J
	FlowKind                          // m3/h
	PerHourKind                       // 1/h: a rate, or a price an hour or a month
	HoursPerVolumeKind                // h/L
	HoursPerMassKind                  // h/kg
	MolarMassKind                     // g/mol
	PerMassKind                       // 1/kg: a price such as "30.00 / ozt"
	PerVolumeKind                     // 1/L
	PerEnergyKind                     // 1/kWh
	CountKind                         // pieces
	PerCountKind                      // 1/piece
	ChargeKind                        // C
)

// kindInfo describes a kind; base is the size of its base unit in coherent SI
// units.
type kindInfo struct {
	name, unit, example string
	dim                 dimension
	base                scale
	signed              bool // may be negative
}

var (
	litre       = scale{1, 1e3} // m3
	gram        = scale{1, 1e3} // kg
	hour        = scale{3600, 1}
	kilowatth   = scale{3.6e6, 1}
	dimDensity  = dimMass.times(dimVolume, -1)
	dimMolarity = dimAmount.times(dimVolume, -1)
)

var kinds = [...]kindInfo{
	Number:                {"plain number", "", "0.3 ± 0.3", dimension{}, unity, true},
	Fraction:              {"share", "", "8.0 % ± 1 %", dimension{}, unity, false},
	MassKind:              {"mass", "kg", "410 g ± 2 g", dimMass, unity, false},
	VolumeKind:            {"volume", "L", "3.2 L ± 5 %", dimVolume, litre, false},
	AmountKind:            {"amount of substance", "mol", "0.25 mol", dimAmount, unity, false},
	ConcentrationKind:     {"amount concentration", "mol/L", "6 mol/L", dimMolarity, unity.times(litre, -1), false},
	MassConcentrationKind: {"mass concentration", "g/L", "4.9 g/L ± 4 %", dimDensity, unity, false},
	DensityKind:           {"density", "kg/L", "1.41 kg/L", dimDensity, unity.times(litre, -1), false},
	TemperatureKind:       {"temperature", "K", "20 degC ± 2 degC", dimTemperature, unity, true},
	LengthKind:            {"length", "m", "37 um ± 25 %", dimLength, unity, false},
	AreaKind:              {"area", "m2", "850 cm2", dimArea, unity, false},
	HoursKind:             {"time", "h", "2..12 h", dimTime, hour, false},
	CurrentKind:           {"current", "A", "5 A", dimCurrent, unity, false},
	PotentialKind:         {"voltage", "V", "12 V", dimPotential, unity, true},
	PowerKind:             {"power", "W", "800 W", dimPower, unity, false},
	EnergyKind:            {"energy", "J", "1.2 kWh", dimEnergy, unity, false},
	FlowKind:              {"volume flow", "m3/h", "60 m3/h", dimVolume.times(dimTime, -1), unity.times(hour, -1), false},
	PerHourKind:           {"rate or price by time", "1/h", "20.00 / h", dimTime.power(-1), unity.times(hour, -1), false},
	HoursPerVolumeKind:    {"time by volume", "h/L", "2 min/L", dimTime.times(dimVolume, -1), hour.times(litre, -1), false},
	HoursPerMassKind:      {"time by mass", "h/kg", "5 min/kg", dimTime.times(dimMass, -1), hour, false},
	MolarMassKind:         {"molar mass", "g/mol", "169.87 g/mol", dimMass.times(dimAmount, -1), gram, false},
	PerMassKind:           {"price by mass", "1/kg", "30.00 / ozt", dimMass.power(-1), unity, false},
	PerVolumeKind:         {"price by volume", "1/L", "4.00 / L", dimVolume.power(-1), unity.times(litre, -1), false},
	PerEnergyKind:         {"price by energy", "1/kWh", "0.20 / kWh", dimEnergy.power(-1), unity.times(kilowatth, -1), false},
	CountKind:             {"count", "", "3", dimCount, unity, false},
	PerCountKind:          {"price by piece", "1/piece", "0.50 / piece", dimCount.power(-1), unity, false},
	ChargeKind:            {"charge", "C", "2.5 Ah", dimCharge, unity, false},
}

func (k Kind) info() kindInfo {
	if int(k) >= len(kinds) {
		return kindInfo{name: fmt.Sprintf("Kind(%d)", uint8(k)), base: unity}
	}
	return kinds[k]
}

// String returns what the kind measures, as a message names it.
func (k Kind) String() string { return k.info().name }

// BaseUnit returns the unit of the plain value; empty for a pure number.
func (k Kind) BaseUnit() string { return k.info().unit }

// Example returns a quantity of this kind as a user would write it.
func (k Kind) Example() string { return k.info().example }

// accepts reports whether a quantity in the unit u is of this kind.
func (k Kind) accepts(u unit) bool {
	switch k {
	case Number:
		return u.plain()
	case Fraction:
		return u.dim == dimension{}
	case CountKind:
		return u.plain() || u.dim == dimCount
	default:
		return u.dim == k.info().dim && !u.plain()
	}
}
