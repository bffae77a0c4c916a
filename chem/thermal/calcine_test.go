package thermal

import (
	"math"
	"testing"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// Enthalpies by hand from the same table: 3Cu + 8H+ + 2NO3- → 3Cu2+ + 2NO + 4H2O
// gives −117.1 kJ a mole of copper, Cu + 2Ag+ → Cu2+ + 2Ag −146.4, silver in
// dilute acid +14.6, H+ + OH- −55.8 (all derived from CRC figures).
func TestReactionEnthalpies(t *testing.T) {
	for id, c := range map[string]struct {
		terms []Formed
		per   float64
	}{
		"dissolve-copper": {[]Formed{{"Cu", "s", -3}, {"NO3^-", "aq", -2}, {"Cu^2+", "aq", 3}, {"NO", "g", 2}, {"H2O", "l", 4}}, 3},
		"cement-silver":   {[]Formed{{"Cu", "s", -1}, {"Ag^+", "aq", -2}, {"Cu^2+", "aq", 1}, {"Ag", "s", 2}}, 1},
		"dissolve-silver": {[]Formed{{"Ag", "s", -3}, {"NO3^-", "aq", -1}, {"Ag^+", "aq", 3}, {"NO", "g", 1}, {"H2O", "l", 2}}, 3},
		"neutralise":      {[]Formed{{"OH^-", "aq", -1}, {"H2O", "l", 1}}, 1},
		"dissolve-H2SO4":  {[]Formed{{"H2SO4", "l", -1}, {"SO4^2-", "aq", 1}}, 1},
		"dissolve-HNO3":   {[]Formed{{"HNO3", "l", -1}, {"NO3^-", "aq", 1}}, 1},
		"dissolve-HCl":    {[]Formed{{"HCl", "g", -1}, {"Cl^-", "aq", 1}}, 1},
	} {
		want := must[Figure](t)(FigureByID(id))
		got := must[float64](t)(ReactionEnthalpy(c.terms...))
		near(t, id, got/1000/c.per, want.Value, 0.25)
	}
}

// The trihydrate of copper nitrate: 0.329 kg of oxide and 0.381 kg of NO2 a
// kilogram; its enthalpy by hand −157.3 + 2·33.2 − 3·241.8 + 1217.1 = 400.8 kJ/mol.
func TestCalcineCopperNitrate(t *testing.T) {
	c := must[Calcination](t)(CalcinationOf("Cu(NO3)2*3H2O"))
	near(t, "enthalpy", c.Enthalpy/1000, 400.8, 0.05)
	moles := 1000 / 241.60
	var nitrogen float64
	for _, p := range c.Products {
		if p.Formula == "NO2" {
			nitrogen = p.Moles
		}
	}
	near(t, "oxide", moles*79.545, 329, 1)
	near(t, "nitrogen dioxide", moles*nitrogen*46.006, 381, 1)
	silver := must[Calcination](t)(CalcinationOf("AgNO3"))
	near(t, "silver nitrate", silver.Enthalpy/1000, 33.2+124.4, 0.05)
	if !(silver.Begins > c.Ends) {
		t.Error("copper nitrate is not gone before silver nitrate begins")
	}
	q := must[units.Energy](t)(c.Heat(2, units.Celsius(25), units.Celsius(25)))
	near(t, "Heat of two moles at 25 °C", float64(q/units.Kilojoule), 801.6, 0.1)
	hot := must[units.Energy](t)(c.Heat(2, units.Celsius(20), units.Celsius(300)))
	if hot <= q {
		t.Error("hot products take no more heat")
	}
}

func TestCalcinationShare(t *testing.T) {
	for _, c := range Calcinations() {
		if !(c.Begins < c.Ends) || c.Source == "" || c.Enthalpy <= 0 {
			t.Errorf("%s: %+v", c.ID, c)
		}
		last := -1.0
		for k := 250.0; k < 1500; k += 10 {
			s := must[float64](t)(c.Share(units.Temperature(k)))
			if s < last || s < 0 || s > 1 {
				t.Fatalf("%s: share %g after %g at %g K", c.ID, s, last, k)
			}
			last = s
		}
		near(t, c.ID+" in the end", last, 1, 1e-12)
	}
	copper, silver := must[Calcination](t)(CalcinationOf("Cu(NO3)2")), must[Calcination](t)(CalcinationOf("AgNO3"))
	at := units.Celsius(370)
	near(t, "copper at 370 °C", must[float64](t)(copper.Share(at)), 1, 1e-12)
	near(t, "silver at 370 °C", must[float64](t)(silver.Share(at)), 0, 1e-12)
}

func TestDry(t *testing.T) {
	// 100 g of water and 100 g of copper (0.385 J/(g K)) from 20 °C.
	q := must[units.Energy](t)(Dry(100*units.Gram, 100*units.Gram, 0.385, units.Celsius(20)))
	near(t, "Dry", q.Joules(), 259150+100*0.385*85, 1)
}

// Every calcination must balance.
func TestCalcinationsBalance(t *testing.T) {
	for _, c := range Calcinations() {
		sum := map[string]float64{}
		add := func(formula string, n float64) {
			f, err := substance.ParseFormula(formula)
			if err != nil {
				t.Fatalf("%s: %v", formula, err)
			}
			for _, e := range f.Elements() {
				sum[e] += n * f.Atoms(e)
			}
		}
		add(c.Formula, -1)
		for _, p := range c.Products {
			add(p.Formula, p.Moles)
		}
		for e, n := range sum {
			if math.Abs(n) > 1e-9 {
				t.Errorf("%s: off by %g in %s", c.ID, n, e)
			}
		}
	}
}
