package equil

import (
	"errors"
	"fmt"
	"math"
)

// Definition is a set of constants as a table states it: the components, the
// species and solids made of them, and the activity model that goes with them.
//
// The first component must be "H". Names follow the tables such sets are
// published in: "Cu+2", "AgCl3-2".
type Definition struct {
	Name       string          `toml:"name"`
	Title      string          `toml:"title"`
	Activity   string          `toml:"activity"` // "ideal", "davies", "b-dot"
	Debye      DebyeTable      `toml:"debye"`
	Range      Range           `toml:"range"`
	Components []ComponentRow  `toml:"component"`
	Species    []ConstantRow   `toml:"species"`
	Solids     []ConstantRow   `toml:"solid"`
	Gaps       []Gap           `toml:"gap"`
	Sources    map[string]Work `toml:"sources"`
}

// DebyeTable holds the Debye-Hueckel constants against temperature.
type DebyeTable struct {
	TemperatureC []float64 `toml:"temperature_c"`
	A            []float64 `toml:"a"`    // log10, (kg/mol)^0.5
	B            []float64 `toml:"b"`    // per angstrom
	Bdot         []float64 `toml:"bdot"` // kg/mol
	Source       string    `toml:"source"`
}

// Range is where a set is said to hold; outside it an answer carries a warning.
type Range struct {
	IonicStrength         float64    `toml:"ionic_strength"`          // mol/kg
	ChlorideIonicStrength float64    `toml:"chloride_ionic_strength"` // mol/kg, where sodium chloride dominates
	TemperatureC          [2]float64 `toml:"temperature_c"`
	Source                string     `toml:"source"`
}

// ComponentRow is one component: its name in totals and its master species.
type ComponentRow struct {
	Name   string  `toml:"name"` // "Ag", "NO3"
	Ion    string  `toml:"ion"`  // "Ag+", "NO3-"
	Size   float64 `toml:"size"` // ion size, angstrom, for b-dot
	Source string  `toml:"source"`
}

// ConstantRow is one species or solid with its constant.
//
// The constant at a temperature is the polynomial where there is one, else the
// van 't Hoff law with the enthalpy, else the value at 25 degC.
type ConstantRow struct {
	Name       string    `toml:"name"`
	Title      string    `toml:"title"`      // mineral name
	Reaction   string    `toml:"reaction"`   // a species stands on the right, a solid on the left
	LogK       float64   `toml:"log_k"`      // 25 degC, ionic strength 0
	Enthalpy   float64   `toml:"enthalpy"`   // kJ/mol; absent means not known
	Polynomial []float64 `toml:"polynomial"` // A1..A5 of A1 + A2 T + A3/T + A4 log10 T + A5/T^2
	Size       float64   `toml:"size"`       // ion size, angstrom, for b-dot
	Source     string    `toml:"source"`
	Note       string    `toml:"note"`
	From       string    `toml:"from"`   // another set that the row is taken from
	Reason     string    `toml:"reason"` // why this row was chosen
}

// Gap is a combination of components that a set does not describe.
type Gap struct {
	Components []string `toml:"components"`
	Refuse     bool     `toml:"refuse"` // no answer at all; otherwise a warning
	Reason     string   `toml:"reason"`
}

// Work is a publication or data file.
type Work struct {
	Text string `toml:"text"`
}

// ErrUnsupported is wrapped by the error for a component, solid or combination
// that a set of constants does not hold.
var ErrUnsupported = errors.New("not supported by this set of constants")

// ErrNotConverged is wrapped by the error for an equilibrium that was not found.
var ErrNotConverged = errors.New("equilibrium not found")

func (row ConstantRow) check() error {
	for _, v := range append([]float64{row.LogK, row.Enthalpy, row.Size}, row.Polynomial...) {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%s: a figure is not finite", row.Name)
		}
	}
	if n := len(row.Polynomial); n != 0 && n != 5 {
		return fmt.Errorf("%s: a polynomial has five terms, not %d", row.Name, n)
	}
	return nil
}

// logK is the row's own log10 K at a temperature in kelvin.
func (row ConstantRow) logK(kelvin float64) float64 {
	if len(row.Polynomial) == 5 {
		return polynomial([5]float64(row.Polynomial), kelvin)
	}
	return vantHoff(row.LogK, row.Enthalpy, kelvin)
}
