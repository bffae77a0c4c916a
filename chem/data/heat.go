package data

// Heats that a bench pays for, in J/kg.
const (
	// SteamFrom20C is the heat that turns water of 20 degC into steam at 1 atm: h_vapour(100 degC) − h_liquid(20 degC).
	SteamFrom20C = 2675.57e3 - 83.91e3

	// SteamSource is where SteamFrom20C comes from.
	SteamSource = "IAPWS-95, saturation rows at 20 and 100 degC"
)

// Heat capacity of solid silver, a + bT in J/(mol K), and what melting it takes, in J/mol.
const (
	silverA       = 23.4304
	silverB       = 0.006276
	silverFusion  = 11.3e3
	silverMelts   = 961.78 + ZeroCelsius
	roomKelvin    = 20 + ZeroCelsius
	silverPerGram = 107.87
)

const (
	// SilverMelting is the heat that takes silver from 20 degC to just molten: (∫c dT + ΔH(fusion))/M. Other silver-rich
	// bars differ little; of the heat a torch or a small furnace gives, only a part arrives.
	SilverMelting = 1000 / silverPerGram *
		(silverA*(silverMelts-roomKelvin) + silverB/2*(silverMelts*silverMelts-roomKelvin*roomKelvin) + silverFusion)

	// SilverMeltingSource is where SilverMelting comes from.
	SilverMeltingSource = "Perry's Chemical Engineers' Handbook Table 2-151 (heat capacity); CRC Handbook (Haynes), enthalpy of fusion"
)
