package units

// Length is a length in metres.
type Length float64

// Units of length. The inch is 25.4 mm exactly.
const (
	Metre      Length = 1
	Centimetre Length = 1e-2
	Millimetre Length = 1e-3
	Micrometre Length = 1e-6
	Nanometre  Length = 1e-9
	Inch       Length = 0.0254
	Foot       Length = 12 * Inch
)

// Metres returns the length in metres.
func (l Length) Metres() float64 { return float64(l) }

// Micrometres returns the length in micrometres.
func (l Length) Micrometres() float64 { return float64(l / Micrometre) }

// Area is an area in square metres.
type Area float64

// Units of area.
const (
	SquareMetre      Area = 1
	SquareDecimetre  Area = 1e-2
	SquareCentimetre Area = 1e-4
)

// SquareMetres returns the area in m2.
func (a Area) SquareMetres() float64 { return float64(a) }

// SquareDecimetres returns the area in dm2, in which current densities are
// usually stated.
func (a Area) SquareDecimetres() float64 { return float64(a / SquareDecimetre) }

// SquareCentimetres returns the area in cm2.
func (a Area) SquareCentimetres() float64 { return float64(a / SquareCentimetre) }

// Volume returns the volume V = A·t of a layer of thickness t.
func (a Area) Volume(thickness Length) Volume {
	return Volume(float64(a)*float64(thickness)) * CubicMetre
}
