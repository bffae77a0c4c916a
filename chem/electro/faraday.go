package electro

import "afterpour/chem/units"

// Deposit returns the mass that the charge q deposits or dissolves.
//
//	m = η·q·M/(n·F)
//
// with the molar mass M, n electrons for each atom or formula unit, and the
// current efficiency η, the share of the charge that goes into this reaction
// (0 to 1). It holds for any temperature and concentration. ErrDomain for a
// negative charge, n outside 1 to 8, M not above 0 or η outside 0 to 1.
//
// Source: Faraday's laws, OpenStax Chemistry 2e, section 17.7.
func Deposit(q units.Charge, n int, mm units.MolarMass, efficiency float64) (units.Mass, error) {
	const name = "Deposit"
	if err := demand(name, notNegative("charge", float64(q)), electrons(n),
		positive("molar mass", float64(mm)), share("efficiency", efficiency)); err != nil {
		return 0, err
	}
	m, err := result(name, deposited(float64(q)*efficiency, float64(n))*float64(mm))
	return units.Mass(m) * units.Gram, err
}

// ChargeFor returns the charge that deposits or dissolves the mass m, the
// inverse of Deposit.
//
//	q = m·n·F/(M·η)
//
// ErrDomain as for Deposit, and for an efficiency of 0.
//
// Source: Faraday's laws, OpenStax Chemistry 2e, section 17.7.
func ChargeFor(m units.Mass, n int, mm units.MolarMass, efficiency float64) (units.Charge, error) {
	const name = "ChargeFor"
	if err := demand(name, notNegative("mass", float64(m)), electrons(n), positive("molar mass", float64(mm)),
		share("efficiency", efficiency), positive("efficiency", efficiency)); err != nil {
		return 0, err
	}
	q, err := result(name, m.Grams()/float64(mm)*float64(n)*Faraday/efficiency)
	return units.Charge(q), err
}

// Equivalent returns the electrochemical equivalent in g/(A h): the mass that
// one ampere turns over in one hour at full efficiency.
//
//	M/(n·F)·3600 s/h
//
// ErrDomain for n outside 1 to 8 or M not above 0.
func Equivalent(n int, mm units.MolarMass) (float64, error) {
	m, err := Deposit(units.AmpereHour, n, mm, 1)
	return m.Grams(), err
}

// deposited returns the moles that the charge in C turns over with n electrons each.
func deposited(coulombs, n float64) float64 { return coulombs / (n * Faraday) }
