package units

// Mass is a mass in kilograms.
type Mass float64

// Units of mass. The pound is exact by the international agreement of 1959;
// the troy and avoirdupois ounce follow from it through the grain, of which
// 7000 make a pound (NIST Handbook 44, appendix C).
const (
	Kilogram    Mass = 1
	Gram        Mass = 1e-3
	Milligram   Mass = 1e-6
	Microgram   Mass = 1e-9
	Tonne       Mass = 1e3
	Pound       Mass = 0.45359237
	Grain       Mass = Pound / 7000
	Ounce       Mass = Pound / 16
	TroyOunce   Mass = 480 * Grain
	Pennyweight Mass = 24 * Grain
)

// Kilograms returns the mass in kilograms.
func (m Mass) Kilograms() float64 { return float64(m) }

// Grams returns the mass in grams.
func (m Mass) Grams() float64 { return float64(m / Gram) }

// Milligrams returns the mass in milligrams.
func (m Mass) Milligrams() float64 { return float64(m / Milligram) }

// TroyOunces returns the mass in troy ounces of 31.1034768 g.
func (m Mass) TroyOunces() float64 { return float64(m / TroyOunce) }

// Amount returns the amount of substance n = m/M for the molar mass M. A molar
// mass of zero gives zero, so that no infinity leaves the package.
func (m Mass) Amount(mm MolarMass) Amount { return Amount(ratio(m.Grams(), float64(mm))) }

// Volume returns the volume V = m/ρ for the density ρ; zero for a density of
// zero.
func (m Mass) Volume(d Density) Volume { return Volume(ratio(float64(m), float64(d))) }

// Concentration returns the mass concentration γ = m/V; zero for a volume of
// zero.
func (m Mass) Concentration(v Volume) MassConcentration {
	return MassConcentration(ratio(m.Grams(), float64(v)))
}

// Fraction returns the mass fraction w = m/total; zero for a total of zero.
func (m Mass) Fraction(total Mass) MassFraction {
	return MassFraction(ratio(float64(m), float64(total)))
}

// MassFraction is a share of a mass, as a plain ratio: 0.08 is 8 %.
type MassFraction float64

// Units of mass fraction.
const (
	Percent  MassFraction = 1e-2
	Permille MassFraction = 1e-3
	PPM      MassFraction = 1e-6
)

// Percent returns the share in percent.
func (w MassFraction) Percent() float64 { return float64(w) * 100 }

// Permille returns the share in parts per thousand, the unit of fineness.
func (w MassFraction) Permille() float64 { return float64(w) * 1000 }

// Of returns the part w·m of the mass m.
func (w MassFraction) Of(m Mass) Mass { return Mass(float64(w) * float64(m)) }

// ratio divides, with zero for a divisor of zero.
func ratio(a, b float64) float64 {
	if b == 0 {
		return 0
	}
	return a / b
}
