package thermal

import "afterpour/chem/units"

// SpecificHeat is a heat capacity in J/(g K).
type SpecificHeat float64

// Sensible returns the heat that warms a mass through a temperature difference,
// negative for cooling.
//
//	Q = m·c·(T2 − T1)
//
// The specific heat is taken as constant. ErrDomain for a negative mass or
// temperature, or a specific heat not above 0.
//
// Source: OpenStax Chemistry 2e, section 5.1.
func Sensible(m units.Mass, c SpecificHeat, from, to units.Temperature) (units.Energy, error) {
	const name = "Sensible"
	if err := demand(name, notNegative("mass", float64(m)), positive("specific heat", float64(c)),
		notNegative("first temperature", float64(from)), notNegative("last temperature", float64(to))); err != nil {
		return 0, err
	}
	q, err := result(name, m.Grams()*float64(c)*float64(to-from))
	return units.Energy(q), err
}

// PhaseChange returns the heat that an amount takes to melt, boil or react.
//
//	Q = n·ΔH
//
// with ΔH in J/mol. ErrDomain for a negative amount or a ΔH that is no number.
func PhaseChange(n units.Amount, joulesPerMole float64) (units.Energy, error) {
	const name = "PhaseChange"
	if err := demand(name, notNegative("amount", float64(n)), finite("enthalpy", joulesPerMole)); err != nil {
		return 0, err
	}
	q, err := result(name, float64(n)*joulesPerMole)
	return units.Energy(q), err
}

// Body is a mass at a temperature, for mixing.
type Body struct {
	Mass         units.Mass
	SpecificHeat SpecificHeat
	Temperature  units.Temperature
}

// capacity returns m·c in J/K.
func (b Body) capacity() float64 { return b.Mass.Grams() * float64(b.SpecificHeat) }

// MixTemperature returns the temperature that bodies reach in contact, with heat
// put in besides (negative if taken out), without loss to the surroundings.
//
//	T = (Σ m·c·T + Q)/Σ m·c
//
// It holds while nothing melts or boils. ErrDomain if there is no body, a mass
// or specific heat is not above 0, or the result would be below 0 K.
//
// Source: OpenStax Chemistry 2e, section 5.2.
func MixTemperature(heat units.Energy, bodies ...Body) (units.Temperature, error) {
	const name = "MixTemperature"
	var sum, weighted float64
	for _, b := range bodies {
		if err := demand(name, positive("mass", float64(b.Mass)), positive("specific heat", float64(b.SpecificHeat)),
			notNegative("temperature", float64(b.Temperature))); err != nil {
			return 0, err
		}
		sum += b.capacity()
		weighted += b.capacity() * float64(b.Temperature)
	}
	if err := demand(name, positive("heat capacity of all bodies", sum), finite("heat", float64(heat))); err != nil {
		return 0, err
	}
	t, err := result(name, (weighted+float64(heat))/sum)
	if err == nil {
		err = demand(name, notNegative("result", t))
	}
	if err != nil {
		return 0, err
	}
	return units.Temperature(t), nil
}

// StartTemperature returns how hot a body was that brought another from its
// temperature to the end temperature in contact.
//
//	T = T_end + m2·c2·(T_end − T2)/(m1·c1)
//
// ErrDomain for masses or specific heats not above 0, or a result below 0 K.
//
// Source: OpenStax Chemistry 2e, Example 5.3.
func StartTemperature(m units.Mass, c SpecificHeat, other Body, end units.Temperature) (units.Temperature, error) {
	const name = "StartTemperature"
	if err := demand(name, positive("mass", float64(m)), positive("specific heat", float64(c)),
		positive("other mass", float64(other.Mass)), positive("other specific heat", float64(other.SpecificHeat)),
		notNegative("other temperature", float64(other.Temperature)), notNegative("end temperature", float64(end))); err != nil {
		return 0, err
	}
	t, err := result(name, float64(end)+other.capacity()*float64(end-other.Temperature)/(m.Grams()*float64(c)))
	if err == nil {
		err = demand(name, notNegative("result", t))
	}
	if err != nil {
		return 0, err
	}
	return units.Temperature(t), nil
}

// AtWall returns the energy drawn to bring heat into the work at an efficiency.
//
//	E = Q/η
//
// ErrDomain for heat below 0 or an efficiency outside 0 (excluded) to 1.
func AtWall(heat units.Energy, efficiency float64) (units.Energy, error) {
	const name = "AtWall"
	if err := demand(name, notNegative("heat", float64(heat)), positive("efficiency", efficiency),
		share("efficiency", efficiency)); err != nil {
		return 0, err
	}
	e, err := result(name, float64(heat)/efficiency)
	return units.Energy(e), err
}

// HeaterHours returns how long a heater of the power drawn takes for a heat.
//
//	t = Q/(η·P)
//
// ErrDomain as for AtWall, or a power not above 0. Efficiencies: FigureByID
// "hotplate" 0.4 to 0.6, "oven", "furnace" (common practice).
func HeaterHours(heat units.Energy, power units.Power, efficiency float64) (units.Hours, error) {
	const name = "HeaterHours"
	if err := demand(name, positive("power", float64(power))); err != nil {
		return 0, err
	}
	e, err := AtWall(heat, efficiency)
	if err != nil {
		return 0, err
	}
	t, err := result(name, float64(e)/float64(power)/3600)
	return units.Hours(t), err
}

// Step is a reaction of a chain: its enthalpy in J/mol as written, and how many
// times it is taken (negative: reversed).
type Step struct{ Enthalpy, Times float64 }

// Hess returns the enthalpy in J/mol of the sum of reactions.
//
//	ΔH = Σ ν·ΔH
//
// ErrDomain for figures that are no numbers.
//
// Source: Hess's law, OpenStax Chemistry 2e, section 5.3.
func Hess(steps ...Step) (float64, error) {
	var sum float64
	for _, s := range steps {
		if err := demand("Hess", finite("enthalpy", s.Enthalpy), finite("times", s.Times)); err != nil {
			return 0, err
		}
		sum += s.Enthalpy * s.Times
	}
	return result("Hess", sum)
}
