package thermal

import "afterpour/chem/units"

// CODATA 2018, exact: R = k·NA in J/(mol K).
const gasConstant = 1.380649e-23 * 6.02214076e23

// atmosphere is 1 atm in Pa, exact.
const atmosphere = 101325.0

// MolarVolume returns the volume of a mole of any gas at a temperature and 1 atm.
//
//	V = R·T/p
//
// 24.05 L at 20 °C, 24.47 L at 25 °C. Real gases of the bench differ by less
// than 1 %. ErrDomain for a temperature not above 0 K.
func MolarVolume(t units.Temperature) (units.Volume, error) {
	if err := demand("MolarVolume", positive("temperature", float64(t))); err != nil {
		return 0, err
	}
	v, err := result("MolarVolume", gasConstant*float64(t)/atmosphere)
	return units.Volume(v) * units.CubicMetre, err
}

// GasVolume returns the volume of an amount of gas at a temperature and 1 atm.
// ErrDomain for an amount below 0 or a temperature not above 0 K.
func GasVolume(n units.Amount, t units.Temperature) (units.Volume, error) {
	if err := demand("GasVolume", notNegative("amount", float64(n))); err != nil {
		return 0, err
	}
	per, err := MolarVolume(t)
	if err != nil {
		return 0, err
	}
	v, err := result("GasVolume", float64(n)*float64(per))
	return units.Volume(v), err
}

// MilligramsPerCubicMetre returns the mass concentration in mg/m3 of a gas at a
// share in ppm by volume.
//
//	mg/m3 = ppm·M/V_m
//
// with M in g/mol and V_m in L/mol. ErrDomain for ppm below 0 or above a
// million, M not above 0, or a temperature not above 0 K.
//
// Source: the conversion printed in the NIOSH Pocket Guide (24.45 L/mol at 25 °C).
func MilligramsPerCubicMetre(ppm float64, mm units.MolarMass, t units.Temperature) (float64, error) {
	const name = "MilligramsPerCubicMetre"
	if err := demand(name, within("ppm", ppm, 0, 1e6), positive("molar mass", float64(mm))); err != nil {
		return 0, err
	}
	per, err := MolarVolume(t)
	if err != nil {
		return 0, err
	}
	return result(name, ppm*float64(mm)/float64(per))
}

// FreshAir returns the air that dilutes an amount of gas to a limit in ppm.
//
//	V = n·V_m/(limit·1e-6)
//
// It is what must pass through the room while the gas comes off, if the air
// mixes fully; a factor of 1 to 10 for poor mixing is not in it (FigureByID
// "mixing"). ErrDomain for an amount below 0, a limit not from above 0 to a
// million, or a temperature not above 0 K.
//
// Source: mass balance.
func FreshAir(n units.Amount, limitPPM float64, t units.Temperature) (units.Volume, error) {
	const name = "FreshAir"
	if err := demand(name, positive("limit", limitPPM), within("limit", limitPPM, 0, 1e6)); err != nil {
		return 0, err
	}
	v, err := GasVolume(n, t)
	if err != nil {
		return 0, err
	}
	air, err := result(name, float64(v)/(limitPPM*1e-6))
	return units.Volume(air), err
}

// FreshAirForDust returns the air that dilutes a mass of dust, mist or fume to a
// limit in mg/m3.
//
//	V = m/limit
//
// ErrDomain for a mass below 0 or a limit not above 0.
func FreshAirForDust(m units.Mass, milligramsPerM3 float64) (units.Volume, error) {
	const name = "FreshAirForDust"
	if err := demand(name, notNegative("mass", float64(m)), positive("limit", milligramsPerM3)); err != nil {
		return 0, err
	}
	v, err := result(name, m.Milligrams()/milligramsPerM3)
	return units.Volume(v) * units.CubicMetre, err
}

// AcidMist returns the acid thrown up by a gas that bubbles through a liquor.
//
//	m = V_gas·e·γ
//
// with the liquor e thrown up by a litre of gas, 1e-6 to a power of ten, an
// assumption (FigureByID "mist"), and the acid's mass concentration γ.
// ErrDomain for anything below 0.
func AcidMist(gas units.Volume, acid units.MassConcentration) (units.Mass, error) {
	const name = "AcidMist"
	if err := demand(name, notNegative("gas", float64(gas)), notNegative("acid", float64(acid))); err != nil {
		return 0, err
	}
	m, err := result(name, float64(gas)*loaded().figures["mist"].Value*float64(acid)/1000)
	return units.Mass(m), err
}
