package equil

import "math"

// gasConstant is R in kJ/(mol K): CODATA 2018, exact (k times N_A).
const gasConstant = 8.31446261815324e-3

// zeroCelsius and roomKelvin anchor the temperature laws, in kelvin.
const (
	zeroCelsius = 273.15
	roomKelvin  = 298.15
)

// vantHoff is log10 K at a temperature in kelvin from its value at 25 degC and
// a constant reaction enthalpy in kJ/mol:
//
//	log K(T) = log K(25) + dH / (R ln 10) (1/298.15 - 1/T)
func vantHoff(logK25, enthalpy, kelvin float64) float64 {
	return logK25 + enthalpy/(gasConstant*math.Ln10)*(1/roomKelvin-1/kelvin)
}

// polynomial is log10 K at a temperature in kelvin by the five-term law
//
//	log K = A1 + A2 T + A3/T + A4 log10 T + A5/T^2
func polynomial(a [5]float64, kelvin float64) float64 {
	return a[0] + a[1]*kelvin + a[2]/kelvin + a[3]*math.Log10(kelvin) + a[4]/(kelvin*kelvin)
}
