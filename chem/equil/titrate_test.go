package equil

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestTitrateBothWays: alkali above the mixture's own pH, acid below it, and
// the warning says so.
func TestTitrateBothWays(t *testing.T) {
	set := mustSet(t, DefaultSet)
	own, err := set.Solve(Problem{TemperatureC: 25, Total: map[string]float64{"Cu": 0.1, "NO3": 0.21}})
	if err != nil {
		t.Fatal(err)
	}
	for _, ph := range []float64{-0.5, 0.5, own.PH - 0.01, own.PH + 0.01, 3, 12, 14} {
		p := Problem{
			TemperatureC: 25, Total: map[string]float64{"Cu": 0.1, "NO3": 0.21}, Allowed: []string{"Cu(OH)2"},
			FixedPH: true, PH: ph,
		}
		r, err := set.Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		if (r.NaOHAddedMol > 0) != (ph > own.PH) || math.Abs(r.PH-ph) > 1e-9 {
			t.Errorf("to pH %g from %g takes %g mol NaOH and gives %g", ph, own.PH, r.NaOHAddedMol, r.PH)
		}
		if said := strings.Contains(strings.Join(r.Warnings, " "), "nitric acid"); said != (ph < own.PH) {
			t.Errorf("to pH %g: warnings %q", ph, r.Warnings)
		}
	}
}

// TestTitrateThereAndBack: what a titration took, put in as a total, gives its
// pH by the charge balance.
func TestTitrateThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		set := drawSet(t)
		p := Problem{
			TemperatureC: 25, FixedPH: true, PH: rapid.Float64Range(0, 13.5).Draw(t, "pH"),
			Total:   map[string]float64{"Cu": 0.05, "Zn": 0.02, "Cl": 0.3, "NO3": 0.1, "Na": 0.1},
			Allowed: []string{"CuO"},
		}
		r, err := set.Solve(p)
		if err != nil {
			t.Fatal(err)
		}
		back := p.copy()
		back.FixedPH = false
		if r.NaOHAddedMol > 0 {
			back.Total["Na"] += r.NaOHAddedMol
		} else {
			back.Total["NO3"] -= r.NaOHAddedMol
		}
		again, err := set.Solve(back)
		if err != nil {
			t.Fatal(err)
		}
		// Near neutral a hair of titrant moves the pH by much.
		if math.Abs(again.PH-p.PH) > 0.01 {
			t.Fatalf("%g mol to pH %g, put in they give %g", r.NaOHAddedMol, p.PH, again.PH)
		}
	})
}

// TestTitrateOutOfReach: a pH that no amount of alkali gives is said to be one.
func TestTitrateOutOfReach(t *testing.T) {
	r, err := mustSet(t, DefaultSet).Solve(Problem{TemperatureC: 25, FixedPH: true, PH: 40})
	if !errors.Is(err, ErrNotConverged) || r.Converged {
		t.Errorf("pH 40: converged %v, %v", r.Converged, err)
	}
}
