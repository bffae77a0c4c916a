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

// sparingSalt is a salt of a metal held in solution up to an ion product.
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
		if file.Salt[i].metal != file.Salt[0].metal || i >= maxSparing {
			return nil, fmt.Errorf("equil: sparing salt %s: all are of one metal, at most %d", file.Salt[i].ID, maxSparing)
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

// settleSalts brings the salts of one metal to saturation together and reports
// whether any moved.
//
// For a concentration of the free metal each salt lets only so much of its
// anion be free, and the rest stands; more free metal means more of both, so
// the balance of the metal is met by halving.
func settleSalts(salts []sparingSalt, mol []float64, water float64, t units.Temperature) bool {
	metal := salts[0].metal
	total := mol[metal]
	var before [maxSparing]float64
	var limit [maxSparing]float64
	for i := range salts {
		salt := &salts[i]
		before[i] = mol[salt.solid]
		limit[i] = salt.product(t)
		total += before[i]
		mol[salt.anion] += salt.anions * before[i]
		mol[salt.solid] = 0
	}
	free := func(x float64) float64 {
		sum := x
		for i := range salts {
			sum += salts[i].standing(mol, x, water, limit[i])
		}
		return sum
	}
	low, high := 0.0, total
	for range 1100 { // down to the smallest number there is
		mid := low + (high-low)/2
		if mid <= low || mid >= high {
			break
		}
		if free(mid) > total {
			high = mid
		} else {
			low = mid
		}
	}
	return precipitateAll(salts, mol, water, total, low, before[:], limit[:])
}

// maxSparing is how many sparing salts there may be.
const maxSparing = 4

// precipitateAll takes the salts out of solution. The last free metal is the
// balance, so that nothing is lost.
func precipitateAll(salts []sparingSalt, mol []float64, water, total, free float64, before, limit []float64) bool {
	moved := false
	left := total
	for i := range salts {
		salt := &salts[i]
		stands := math.Min(salt.standing(mol, free, water, limit[i]), left)
		mol[salt.solid] = stands
		mol[salt.anion] -= salt.anions * stands
		left -= stands
		if math.Abs(stands-before[i]) > 1e-12*(stands+before[i])+1e-18 {
			moved = true
		}
	}
	mol[salts[0].metal] = left
	return moved
}

// standing is how much of the salt stands where so much of its metal is free.
func (p *sparingSalt) standing(mol []float64, free, water, limit float64) float64 {
	anion := mol[p.anion]
	if !(free > 0) {
		return 0
	}
	allowed := water * math.Pow(limit*water/free, 1/p.anions)
	return math.Max(0, (anion-allowed)/p.anions)
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
