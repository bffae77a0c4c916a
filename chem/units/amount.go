package units

// Amount is an amount of substance in moles.
type Amount float64

// Units of amount of substance.
const (
	Mole      Amount = 1
	Millimole Amount = 1e-3
)

// Moles returns the amount in moles.
func (n Amount) Moles() float64 { return float64(n) }

// Millimoles returns the amount in millimoles.
func (n Amount) Millimoles() float64 { return float64(n / Millimole) }

// Mass returns the mass m = n·M for the molar mass M.
func (n Amount) Mass(mm MolarMass) Mass { return Mass(float64(n)*float64(mm)) * Gram }

// Concentration returns the amount concentration c = n/V; zero for a volume of
// zero.
func (n Amount) Concentration(v Volume) Concentration {
	return Concentration(ratio(float64(n), float64(v)))
}

// MolarMass is a molar mass in grams per mole, the unit in which atomic weights
// are tabulated.
type MolarMass float64

// GramPerMole is the unit of molar mass.
const GramPerMole MolarMass = 1

// GramsPerMole returns the molar mass in g/mol.
func (mm MolarMass) GramsPerMole() float64 { return float64(mm) }

// Concentration is an amount concentration in moles per litre of solution.
type Concentration float64

// Units of amount concentration.
const (
	MolePerLitre      Concentration = 1
	MillimolePerLitre Concentration = 1e-3
)

// MolesPerLitre returns the concentration in mol/L.
func (c Concentration) MolesPerLitre() float64 { return float64(c) }

// Amount returns the amount n = c·V in the volume V.
func (c Concentration) Amount(v Volume) Amount { return Amount(float64(c) * float64(v)) }

// MassConcentration returns the mass concentration γ = c·M for the molar mass M.
func (c Concentration) MassConcentration(mm MolarMass) MassConcentration {
	return MassConcentration(float64(c) * float64(mm))
}

// MassConcentration is a mass of solute in a volume of solution, in grams per
// litre.
type MassConcentration float64

// Units of mass concentration.
const (
	GramPerLitre      MassConcentration = 1
	MilligramPerLitre MassConcentration = 1e-3
)

// GramsPerLitre returns the mass concentration in g/L.
func (g MassConcentration) GramsPerLitre() float64 { return float64(g) }

// Mass returns the mass m = γ·V in the volume V.
func (g MassConcentration) Mass(v Volume) Mass { return Mass(float64(g)*float64(v)) * Gram }

// Concentration returns the amount concentration c = γ/M for the molar mass M;
// zero for a molar mass of zero.
func (g MassConcentration) Concentration(mm MolarMass) Concentration {
	return Concentration(ratio(float64(g), float64(mm)))
}
