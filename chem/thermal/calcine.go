package thermal

import (
	"fmt"

	"afterpour/chem/units"
)

// Part is a product of a calcination for a mole of the solid.
type Part struct {
	Formula string
	Gas     bool
	Moles   float64
}

// Calcination is what a solid turns into on heating.
type Calcination struct {
	ID, Formula, Reaction string
	Enthalpy              float64 // J/mol of the solid, at 25 °C
	Begins, Ends          units.Temperature
	Products              []Part
	Provenance                    // of the temperatures
	warming               float64 // J/(mol K) of all products
}

// addCalcinations joins each row with its temperatures and enthalpies.
func (t *tables) addCalcinations(doc *document) error {
	for _, r := range doc.Calcination {
		c, err := t.calcination(r)
		if err != nil {
			return err
		}
		t.calcinations = append(t.calcinations, c)
	}
	return nil
}

func (t *tables) calcination(r calcinationRow) (Calcination, error) {
	d, ok := t.decompositions[r.Decomposition]
	start, known := t.formation[species{r.Formula, "s"}]
	if !ok || !known {
		return Calcination{}, fmt.Errorf("thermal: calcination %q: no decomposition row or no enthalpy of formation", r.ID)
	}
	c := Calcination{
		ID: r.ID, Formula: r.Formula, Reaction: r.Reaction, Enthalpy: -start, Provenance: d.Provenance,
		Begins: units.Celsius(d.Low), Ends: units.Celsius(d.High),
	}
	for _, p := range r.Products {
		key := species{p.Formula, p.Phase}
		h, known := t.formation[key]
		cp, warm := t.capacity[key]
		if !known || !warm {
			return Calcination{}, fmt.Errorf("thermal: calcination %q: no enthalpy or heat capacity of %s(%s)", r.ID, p.Formula, p.Phase)
		}
		c.Enthalpy += p.Moles * h
		c.warming += p.Moles * cp
		c.Products = append(c.Products, Part{p.Formula, p.Phase == "g", p.Moles})
	}
	return c, nil
}

// Calcinations returns the solids that calcine, in the order of the table.
func Calcinations() []Calcination { return append([]Calcination(nil), loaded().calcinations...) }

// CalcinationOf returns how a solid calcines, by its formula with * before water
// of crystallisation ("Cu(NO3)2*3H2O"). ErrUnknown where there is no row.
func CalcinationOf(formula string) (Calcination, error) {
	for _, c := range loaded().calcinations {
		if c.Formula == formula {
			return c, nil
		}
	}
	return Calcination{}, fmt.Errorf("calcination of %q: %w", formula, ErrUnknown)
}

// Share returns how much of the solid has decomposed when held long at a
// temperature: 0 up to where it begins, 1 from where it ends, a straight line
// between. The line is an assumption; the time needed is not modelled.
// ErrDomain for a negative temperature.
func (c Calcination) Share(t units.Temperature) (float64, error) {
	if err := demand("Calcination.Share", notNegative("temperature", float64(t))); err != nil {
		return 0, err
	}
	return min(1, max(0, float64((t-c.Begins)/(c.Ends-c.Begins)))), nil
}

// Heat returns the heat that decomposes an amount of the solid, from one
// temperature to the products at another.
//
//	Q = n·(ΔH(25 °C) + Σν·Cp·(T2 − 25 °C) − Σν·Cp·(T1 − 25 °C))
//
// with the heat capacities at 25 °C of the products on both legs. It is within
// about 10 %: a solid's heat capacity rises by a third to 500 °C, and a salt's
// differs from its products' near room temperature, but ΔH is most of it.
// ErrDomain for a negative amount or temperatures outside 250 to 1500 K.
//
// Sources: CRC enthalpies of formation and heat capacities; those of the copper
// nitrate hydrates from the NBS tables, from memory.
func (c Calcination) Heat(n units.Amount, from, to units.Temperature) (units.Energy, error) {
	const name = "Calcination.Heat"
	if err := demand(name, notNegative("amount", float64(n)), within("first temperature", float64(from), 250, 1500),
		within("last temperature", float64(to), 250, 1500)); err != nil {
		return 0, err
	}
	q, err := result(name, float64(n)*(c.Enthalpy+c.warming*float64(to-from)))
	return units.Energy(q), err
}

// Formed is a species with its number of moles in a reaction, for
// ReactionEnthalpy: Phase is "s", "l", "g" or "aq"; Nu is positive for products.
type Formed struct {
	Formula, Phase string
	Nu             float64
}

// ReactionEnthalpy returns the enthalpy of a reaction in J/mol at 25 °C from
// enthalpies of formation; dissolved ions at infinite dilution.
//
//	ΔH = Σ ν·ΔfH
//
// ErrUnknown for a species without a row, ErrDomain for a ν that is no number.
//
// Sources: CRC Handbook and NBS tables, formation.toml.
func ReactionEnthalpy(terms ...Formed) (float64, error) {
	var sum float64
	for _, f := range terms {
		h, ok := loaded().formation[species{f.Formula, f.Phase}]
		if !ok {
			return 0, fmt.Errorf("enthalpy of formation of %s(%s): %w", f.Formula, f.Phase, ErrUnknown)
		}
		if err := demand("ReactionEnthalpy", finite("number of "+f.Formula, f.Nu)); err != nil {
			return 0, err
		}
		sum += f.Nu * h
	}
	return result("ReactionEnthalpy", sum)
}

// Dry returns the heat that dries a wet solid: its water is evaporated and the
// solid warmed to 105 °C.
//
//	Q = m_water·(335.0 − … + 2256.5) kJ/kg + m·c·(105 °C − T)
//
// from a temperature of 5 to 100 °C. Water of crystallisation is not counted.
// ErrDomain for masses below 0 or a specific heat not above 0.
func Dry(water, solid units.Mass, c SpecificHeat, from units.Temperature) (units.Energy, error) {
	wet, err := Evaporate(water, from)
	if err != nil {
		return 0, err
	}
	dry, err := Sensible(solid, c, from, units.Celsius(105))
	if err != nil {
		return 0, err
	}
	q, err := result("Dry", float64(wet+dry))
	return units.Energy(q), err
}
