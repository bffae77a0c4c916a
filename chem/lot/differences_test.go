package lot

import (
	"math"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

func register(dists ...units.Dist) (*input.Figures, []wiggle) {
	figs := &input.Figures{}
	var refs []input.Ref
	for i, d := range dists {
		refs = append(refs, figs.Add(input.Figure{ID: string(rune('a' + i)), Dist: d}))
	}
	return figs, wiggles(figs, refs)
}

// EURACHEM/CITAC Guide QUAM, Example A1, Table A1.1: a cadmium standard of
// 100.28 mg (u 0.05) of 0.9999 metal (u 0.000058) in 100.0 mL (u 0.07) has
// 1002.7 mg/L with a standard uncertainty of 0.9 mg/L (published to one digit).
func TestDifferCadmiumStandard(t *testing.T) {
	figs, inputs := register(units.NormalDist(100.28, 0.05), units.NormalDist(0.9999, 0.000058), units.NormalDist(100.0, 0.07))
	d := differ(figs.Central(), inputs, func(v input.Values) []float64 {
		return []float64{1000 * v[0] * v[1] / v[2]}
	})
	near(t, "concentration, mg/L", d.central[0], 1002.7, 0.00005)
	if got := d.sd(0); math.Round(got*10) != 9 && math.Round(got*10) != 8 {
		t.Errorf("standard uncertainty = %g mg/L, published 0.9", got)
	}
	near(t, "by hand, √(0.0499² + 0.0058² + 0.07²) %", d.sd(0), 1002.7*math.Sqrt(0.04986*0.04986+0.0058*0.0058+0.07*0.07)/100, 0.001)
}

// A bound cuts the interval and the difference is stretched to match.
func TestDifferAtABound(t *testing.T) {
	figs, inputs := register(units.NormalDist(1, 0.1).Bounded(0, 1))
	d := differ(figs.Central(), inputs, func(v input.Values) []float64 { return []float64{3 * v[0]} })
	near(t, "sd", d.sd(0), 0.3, 1e-9)
}

// What is shared cancels in a difference and is left out on demand.
func TestDifferShared(t *testing.T) {
	figs, inputs := register(units.NormalDist(2, 0.2), units.NormalDist(3, 0.3), units.NormalDist(5, 0.5))
	d := differ(figs.Central(), inputs, func(v input.Values) []float64 {
		return []float64{v[0] * v[2], v[1] * v[2]}
	})
	shared := input.Set{}.With(2)
	near(t, "sd without the shared", d.sdWithout(0, shared), 1.0, 1e-9)
	near(t, "sd", d.sd(0), math.Sqrt2, 1e-9)
	near(t, "sd of the difference", d.sdOfDifference(1, 0), math.Sqrt(1.5*1.5+1+0.5*0.5), 1e-9)
	if refs := d.rests(0); len(refs) != 2 || refs[0] != 0 || refs[1] != 2 {
		t.Errorf("the first figure rests on %v", refs)
	}
	if !d.movers(1).Has(2) || d.movers(1).Has(0) {
		t.Errorf("the second figure is moved by %v", d.movers(1).Refs())
	}
	near(t, "sd of the mean", d.sdOfMean(0, []float64{0.5, 0.5}), math.Sqrt(0.25+0.5625+1.25*1.25), 1e-9)
}
