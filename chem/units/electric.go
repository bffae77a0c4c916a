package units

// Potential is an electric potential or voltage in volts.
type Potential float64

// Units of potential.
const (
	Volt      Potential = 1
	Millivolt Potential = 1e-3
)

// Volts returns the potential in volts.
func (u Potential) Volts() float64 { return float64(u) }

// Current is an electric current in amperes.
type Current float64

// Units of current.
const (
	Ampere      Current = 1
	Milliampere Current = 1e-3
)

// Amperes returns the current in amperes.
func (i Current) Amperes() float64 { return float64(i) }

// Charge returns the charge Q = I·t passed in the time t.
func (i Current) Charge(t Hours) Charge { return Charge(float64(i) * t.Seconds()) }

// Power returns the power P = U·I at the potential U.
func (i Current) Power(u Potential) Power { return Power(float64(i) * float64(u)) }

// Charge is an electric charge in coulombs.
type Charge float64

// Units of charge.
const (
	Coulomb    Charge = 1
	AmpereHour Charge = 3600
)

// Coulombs returns the charge in coulombs.
func (q Charge) Coulombs() float64 { return float64(q) }

// AmpereHours returns the charge in ampere-hours.
func (q Charge) AmpereHours() float64 { return float64(q / AmpereHour) }

// Energy returns the energy E = Q·U that the charge takes at the potential U.
func (q Charge) Energy(u Potential) Energy { return Energy(float64(q) * float64(u)) }

// Time returns how long the charge takes at the current i; zero for a current
// of zero.
func (q Charge) Time(i Current) Hours { return Hours(ratio(q.AmpereHours(), float64(i))) }
