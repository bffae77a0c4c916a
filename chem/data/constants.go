package data

// Physical constants, CODATA 2018 (exact since the 2019 revision of the SI); no other edition is mixed in.
const (
	// Avogadro is the Avogadro constant in 1/mol, exact.
	Avogadro = 6.02214076e23

	// ElementaryCharge is the charge of a proton in C, exact.
	ElementaryCharge = 1.602176634e-19

	// Boltzmann is the Boltzmann constant in J/K, exact.
	Boltzmann = 1.380649e-23

	// Faraday is the charge of a mole of electrons in C/mol: e·N_A.
	Faraday = ElementaryCharge * Avogadro

	// GasConstant is the molar gas constant in J/(mol K): k·N_A.
	GasConstant = Boltzmann * Avogadro

	// Atmosphere is the standard atmosphere in Pa, by definition.
	Atmosphere = 101325.0

	// ZeroCelsius is 0 degC in K, by definition.
	ZeroCelsius = 273.15
)

// ConstantsSource says where the constants come from.
const ConstantsSource = "CODATA 2018, exact since the 2019 revision of the SI"
