package electro

// CODATA 2018; the three are exact since the redefinition of the SI in 2019.
const (
	elementaryCharge = 1.602176634e-19 // C
	avogadro         = 6.02214076e23   // 1/mol
	boltzmann        = 1.380649e-23    // J/K
)

// Faraday is the charge of a mole of electrons in C/mol, F = e·NA
// (96 485.332 12…, CODATA 2018, exact).
const Faraday = elementaryCharge * avogadro

// gasConstant is R = k·NA in J/(mol K), CODATA 2018, exact.
const gasConstant = boltzmann * avogadro

// standardKelvins is 25 °C, at which standard potentials are tabulated.
const standardKelvins = 298.15

// thermalVolt returns R·T/F in volts, 25.69 mV at 25 °C.
func thermalVolt(kelvins float64) float64 { return gasConstant * kelvins / Faraday }
