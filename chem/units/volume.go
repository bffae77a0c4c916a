package units

// Volume is a volume in litres.
type Volume float64

// Units of volume. The United States gallon is 231 cubic inches of 2.54 cm a
// side; the imperial gallon is 4.546 09 L (NIST Handbook 44, appendix C).
const (
	Litre          Volume = 1
	Millilitre     Volume = 1e-3
	Microlitre     Volume = 1e-6
	CubicMetre     Volume = 1e3
	Gallon         Volume = 231 * 0.016387064
	Quart          Volume = Gallon / 4
	Pint           Volume = Gallon / 8
	FluidOunce     Volume = Gallon / 128
	ImperialGallon Volume = 4.54609
)

// Litres returns the volume in litres.
func (v Volume) Litres() float64 { return float64(v) }

// Millilitres returns the volume in millilitres.
func (v Volume) Millilitres() float64 { return float64(v / Millilitre) }

// CubicMetres returns the volume in cubic metres.
func (v Volume) CubicMetres() float64 { return float64(v / CubicMetre) }

// Mass returns the mass m = ρ·V for the density ρ.
func (v Volume) Mass(d Density) Mass { return Mass(float64(d) * float64(v)) }

// Density is a density in kilograms per litre, which is g/mL.
type Density float64

// Units of density.
const (
	KilogramPerLitre      Density = 1
	GramPerMillilitre     Density = 1
	KilogramPerCubicMetre Density = 1e-3
)

// KilogramsPerLitre returns the density in kg/L.
func (d Density) KilogramsPerLitre() float64 { return float64(d) }

// GramsPerMillilitre returns the density in g/mL, the same number as in kg/L.
func (d Density) GramsPerMillilitre() float64 { return float64(d) }

// MassConcentration returns the mass concentration γ = w·ρ of a solute whose
// mass fraction in a solution of this density is w.
func (d Density) MassConcentration(w MassFraction) MassConcentration {
	return MassConcentration(float64(d) * 1000 * float64(w))
}

// Flow is a volume flow in cubic metres per hour.
type Flow float64

// CubicMetrePerHour is the base unit of flow.
const CubicMetrePerHour Flow = 1

// CubicMetresPerHour returns the flow in m3/h.
func (f Flow) CubicMetresPerHour() float64 { return float64(f) }

// Volume returns the volume that flows in the time h.
func (f Flow) Volume(h Hours) Volume { return Volume(float64(f)*float64(h)) * CubicMetre }
