package units

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

	kindCount = int(ChargeKind) + 1
)

// String returns what the kind measures, as a message names it.
func (k Kind) String() string { return "" }

// BaseUnit returns the unit of the plain value; empty for a pure number.
func (k Kind) BaseUnit() string { return "" }

// Example returns a quantity of this kind as a user would write it.
func (k Kind) Example() string { return "" }
