package data

import (
	"errors"
	"fmt"
	"sync"

	"afterpour/chem/units"
)

// What a solubility may be asked for in vain.
var (
	ErrNoSolubility = errors.New("no solubility is tabled")
	ErrTemperature  = errors.New("temperature outside the table")
)

// SolubilityCurve is a row of solubility.toml: a salt in water against temperature.
type SolubilityCurve struct {
	Formula string    `toml:"formula"`
	Name    string    `toml:"name"`
	Celsius []float64 `toml:"celsius"` // rising
	Grams   []float64 `toml:"grams"`   // of the salt as written per 100 g of water
	Row
}

// SolubilityCurves returns every curve.
func SolubilityCurves() ([]SolubilityCurve, error) { return solubilities() }

var solubilities = sync.OnceValues(func() ([]SolubilityCurve, error) {
	return rows[SolubilityCurve]("solubility.toml")
})

func (c SolubilityCurve) check() error {
	ok := named(c.Formula, c.Name) && len(c.Celsius) > 0 && len(c.Celsius) == len(c.Grams)
	for i := range c.Grams {
		ok = ok && positive(c.Grams[i]) && (i == 0 || c.Celsius[i] > c.Celsius[i-1])
	}
	return wrong(ok, "solubility of %s", c.Formula)
}

// At returns the solubility at t in grams of the salt as written per 100 g of water, linear between the tabled points.
// A curve of one point holds within 5 K of it. Error: ErrTemperature.
func (c SolubilityCurve) At(t units.Temperature) (float64, error) {
	x, last := t.Celsius(), len(c.Celsius)-1
	if last == 0 && x >= c.Celsius[0]-5 && x <= c.Celsius[0]+5 {
		return c.Grams[0], nil
	}
	const edge = 1e-9
	for i := 1; i <= last; i++ {
		if x >= c.Celsius[i-1]-edge && x <= c.Celsius[i]+edge {
			share := (x - c.Celsius[i-1]) / (c.Celsius[i] - c.Celsius[i-1])
			return c.Grams[i-1] + share*(c.Grams[i]-c.Grams[i-1]), nil
		}
	}
	return 0, fmt.Errorf("data: %w: %s is tabled from %g to %g degC, not at %.1f",
		ErrTemperature, c.Name, c.Celsius[0], c.Celsius[last], x)
}

// SolubilityOf returns the curve of a salt by its formula ("CuSO4·5H2O"). Error: ErrNoSolubility.
func SolubilityOf(formula string) (SolubilityCurve, error) {
	all, err := SolubilityCurves()
	if err != nil {
		return SolubilityCurve{}, err
	}
	for _, c := range all {
		if c.Formula == formula {
			return c, nil
		}
	}
	return SolubilityCurve{}, fmt.Errorf("data: %w for %s", ErrNoSolubility, formula)
}

// Solubility returns the solubility of a salt at t in grams as written per 100 g of water.
// Errors: ErrNoSolubility, ErrTemperature.
func Solubility(formula string, t units.Temperature) (float64, error) {
	c, err := SolubilityOf(formula)
	if err != nil {
		return 0, err
	}
	return c.At(t)
}
