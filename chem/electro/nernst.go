package electro

import (
	"math"

	"afterpour/chem/units"
)

// Nernst returns the potential of an electrode or a cell whose standard
// potential is standard, at the reaction quotient and temperature given.
//
//	E = E° − (R·T/n·F)·ln Q
//
// Q is the product of activities of the products over that of the reactants as
// the reaction is written for n electrons (for an electrode: of the reduction).
// It is exact in activities; concentrations in place of activities are off by
// some 10 to 30 mV in liquors of 1 mol/L. The change of E° with temperature is
// not included. ErrDomain for n outside 1 to 8, a quotient not above 0, or a
// temperature not above 0 K.
//
// Source: OpenStax Chemistry 2e, section 17.4.
func Nernst(standard units.Potential, n int, quotient float64, t units.Temperature) (units.Potential, error) {
	const name = "Nernst"
	if err := demand(name, finite("standard potential", float64(standard)), electrons(n),
		positive("quotient", quotient), positive("temperature", float64(t))); err != nil {
		return 0, err
	}
	e, err := result(name, nernst(float64(standard), float64(n), quotient, float64(t)))
	return units.Potential(e), err
}

// nernst is E = E° − RT/nF·ln Q in volts and kelvins.
func nernst(standard, n, quotient, kelvins float64) float64 {
	return standard - thermalVolt(kelvins)/n*math.Log(quotient)
}

// CellVoltage returns the reversible voltage of a cell from the reduction
// potentials of its electrodes, positive where the cell gives current by itself.
//
//	U = E(cathode) − E(anode)
//
// A voltage below 0 is the least that a supply must give to drive the cell.
// ErrDomain for potentials that are no numbers.
func CellVoltage(cathode, anode units.Potential) (units.Potential, error) {
	const name = "CellVoltage"
	if err := demand(name, finite("cathode potential", float64(cathode)),
		finite("anode potential", float64(anode))); err != nil {
		return 0, err
	}
	u, err := result(name, float64(cathode)-float64(anode))
	return units.Potential(u), err
}

// LogK returns the decadic logarithm of the equilibrium constant of a cell
// reaction of n electrons from its standard voltage.
//
//	log10 K = n·F·E°/(R·T·ln 10)
//
// ErrDomain as for Nernst.
//
// Source: OpenStax Chemistry 2e, section 17.4.
func LogK(standard units.Potential, n int, t units.Temperature) (float64, error) {
	const name = "LogK"
	if err := demand(name, finite("standard voltage", float64(standard)), electrons(n),
		positive("temperature", float64(t))); err != nil {
		return 0, err
	}
	return result(name, float64(n)*float64(standard)/thermalVolt(float64(t))/math.Ln10)
}
