package units

// Temperature is a thermodynamic temperature in kelvins.
type Temperature float64

// zeroCelsius is 0 °C in kelvins, exact by definition (SI Brochure, 9th
// edition, 2.3.1).
const zeroCelsius = 273.15

// Kelvin is the unit of temperature. There is no constant for the degree
// Celsius: its scale has an offset, so it enters through Celsius.
const Kelvin Temperature = 1

// Celsius returns the temperature of t degrees Celsius.
func Celsius(t float64) Temperature { return Temperature(t + zeroCelsius) }

// Fahrenheit returns the temperature of t degrees Fahrenheit.
func Fahrenheit(t float64) Temperature { return Celsius((t - 32) / 1.8) }

// Kelvins returns the temperature in kelvins.
func (t Temperature) Kelvins() float64 { return float64(t) }

// Celsius returns the temperature in degrees Celsius.
func (t Temperature) Celsius() float64 { return float64(t) - zeroCelsius }
