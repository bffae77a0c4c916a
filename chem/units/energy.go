package units

// Energy is an energy in joules.
type Energy float64

// Units of energy.
const (
	Joule        Energy = 1
	Kilojoule    Energy = 1e3
	WattHour     Energy = 3600
	KilowattHour Energy = 3.6e6
)

// Joules returns the energy in joules.
func (e Energy) Joules() float64 { return float64(e) }

// KilowattHours returns the energy in kWh.
func (e Energy) KilowattHours() float64 { return float64(e / KilowattHour) }

// Time returns how long the energy takes at the power p; zero for a power of
// zero.
func (e Energy) Time(p Power) Hours { return Hours(ratio(float64(e/WattHour), float64(p))) }

// Power is a power in watts.
type Power float64

// Units of power.
const (
	Watt     Power = 1
	Kilowatt Power = 1e3
)

// Watts returns the power in watts.
func (p Power) Watts() float64 { return float64(p) }

// Energy returns the energy E = P·t of the power over the time t.
func (p Power) Energy(t Hours) Energy { return Energy(float64(p) * t.Seconds()) }

// Hours is a length of time in hours. It is a float64 and not a time.Duration
// because simulated time is scaled, divided and drawn at random.
type Hours float64

// Units of time. A year is the Julian year of 365.25 days, a month a twelfth
// of it.
const (
	Second Hours = 1.0 / 3600
	Minute Hours = 1.0 / 60
	Hour   Hours = 1
	Day    Hours = 24
	Week   Hours = 7 * Day
	Year   Hours = 365.25 * Day
	Month  Hours = Year / 12
)

// Seconds returns the time in seconds.
func (h Hours) Seconds() float64 { return float64(h) * 3600 }

// Minutes returns the time in minutes.
func (h Hours) Minutes() float64 { return float64(h) * 60 }

// Hours returns the time in hours.
func (h Hours) Hours() float64 { return float64(h) }

// Days returns the time in days of 24 hours.
func (h Hours) Days() float64 { return float64(h / Day) }
