package equil

import (
	_ "embed"
	"fmt"
	"math"
	"sync"

	"github.com/BurntSushi/toml"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

//go:embed data/sparing.toml
var sparingText string

// sparingSalt is a salt held in solution up to an ion product.
type sparingSalt struct {
	ID           string    `toml:"id"`
	Text         string    `toml:"reaction"`
	TemperatureC []float64 `toml:"temperature_c"`
	Solubility   []float64 `toml:"solubility"` // g per 100 g water
	LogK         float64   `toml:"log_k"`      // 25 degC, dissolving
	Enthalpy     float64   `toml:"enthalpy"`   // kJ/mol, dissolving
	Source       string    `toml:"source"`

	metal, anion, solid substance.SpeciesID
	anions              float64 // anions per formula unit
}

var sparingSalts = sync.OnceValues(func() ([]sparingSalt, error) {
	var file struct {
		Salt []sparingSalt `toml:"salt"`
	}
	if _, err := toml.Decode(sparingText, &file); err != nil {
		return nil, fmt.Errorf("equil: sparing salts: %w", err)
	}
	for i := range file.Salt {
		if err := file.Salt[i].resolve(); err != nil {
			return nil, err
		}
	}
	return file.Salt, nil
})

// resolve checks the precipitation for balance and finds its three species.
func (p *sparingSalt) resolve() error {
	r, err := substance.ParseReaction(p.Text)
	if err != nil {
		return fmt.Errorf("equil: sparing salt %s: %w", p.ID, err)
	}
	if p.Source == "" || len(p.TemperatureC) != len(p.Solubility) || len(r.Terms) != 3 {
		return fmt.Errorf("equil: sparing salt %s: row is incomplete", p.ID)
	}
	for _, term := range r.Terms {
		switch {
		case term.Nu > 0:
			p.solid = term.Species
		case term.Species.Species().Formula.Charge() > 0:
			p.metal = term.Species
		default:
			p.anion, p.anions = term.Species, -term.Nu
		}
	}
	return nil
}

// product is the ion product that saturates water with the salt, in mol per kg
// of water to the power of the ions: (n s)^n s for a solubility s.
//
// With a table it is the product found in pure water, so it carries that
// solution's activities and complexes; more of the common ion lowers the
// solubility, which is true of lead chloride up to about 1 mol/kg chloride only.
func (p sparingSalt) product(t units.Temperature) float64 {
	if len(p.Solubility) == 0 {
		return math.Pow(10, vantHoff(p.LogK, p.Enthalpy, float64(t)))
	}
	grams := logInterpolate(p.TemperatureC, p.Solubility, t.Celsius())
	molal := grams * 10 / float64(p.solid.Species().MolarMass)
	return molal * math.Pow(p.anions*molal, p.anions)
}

// settle brings the salt to saturation in the given water, or dissolves all of it.
func (p sparingSalt) settle(mol []float64, water float64, t units.Temperature) {
	metal, anion, solid := mol[p.metal], mol[p.anion], mol[p.solid]
	excess := func(x float64) float64 {
		return (metal-x)/water*math.Pow((anion-p.anions*x)/water, p.anions) - p.product(t)
	}
	low, high := -solid, min(metal, anion/p.anions)
	if !(low < high) {
		return
	}
	if excess(low) <= 0 {
		high = low
	}
	for range 200 {
		mid := low + (high-low)/2
		if mid <= low || mid >= high {
			break
		}
		if excess(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	mol[p.metal] = metal - high
	mol[p.anion] = math.Max(0, anion-p.anions*high)
	mol[p.solid] = solid + high
}

// logInterpolate is the value at x on the line through the logarithms of y;
// outside the table the nearest row holds.
func logInterpolate(xs, ys []float64, x float64) float64 {
	last := len(xs) - 1
	switch {
	case !(x > xs[0]):
		return ys[0]
	case x >= xs[last]:
		return ys[last]
	}
	i := 1
	for xs[i] < x {
		i++
	}
	share := (x - xs[i-1]) / (xs[i] - xs[i-1])
	return math.Exp(math.Log(ys[i-1])*(1-share) + math.Log(ys[i])*share)
}
