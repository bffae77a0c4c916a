package equil

import (
	"errors"
	"math"
	"strings"
	"testing"
)

func TestSolveRefuses(t *testing.T) {
	set := mustSet(t, LLNLBdot)
	tests := map[string]struct {
		p           Problem
		unsupported bool
		want        string
	}{
		"component":         {Problem{TemperatureC: 25, Total: map[string]float64{"Xx": 1}}, true, "Xx"},
		"solid":             {Problem{TemperatureC: 25, Total: map[string]float64{"Ag": 1}, Allowed: []string{"Ag2O"}}, true, "Ag2O"},
		"combination":       {Problem{TemperatureC: 25, Total: map[string]float64{"Ag": 0.1, "NH3": 1}}, true, "silver-ammonia"},
		"hydrogen":          {Problem{TemperatureC: 25, Total: map[string]float64{"H": 1}}, false, "charge"},
		"negative":          {Problem{TemperatureC: 25, Total: map[string]float64{"Cl": -1}}, false, "Cl"},
		"not a number":      {Problem{TemperatureC: 25, Total: map[string]float64{"Cl": math.NaN()}}, false, "Cl"},
		"too hot":           {Problem{TemperatureC: 900}, false, "900"},
		"no temperature":    {Problem{TemperatureC: math.NaN()}, false, "degC"},
		"solid not allowed": {Problem{TemperatureC: 25, SolidAdded: map[string]float64{"AgCl": 1}}, false, "allowed"},
		"solid below 0":     {Problem{TemperatureC: 25, SolidAdded: map[string]float64{"AgCl": -1}, Allowed: []string{"AgCl"}}, false, "AgCl"},
	}
	for name, tc := range tests {
		_, err := set.Solve(tc.p)
		if err == nil || errors.Is(err, ErrUnsupported) != tc.unsupported || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: error %v, want one about %q", name, err, tc.want)
		}
	}
}

// TestWarnings: outside what the set is good for the answer says so; inside it
// says nothing.
func TestWarnings(t *testing.T) {
	tests := map[string]struct {
		set  string
		p    Problem
		want string
	}{
		"weak":             {MinteqDavies, Problem{TemperatureC: 25, Total: map[string]float64{"Na": 0.1, "Cl": 0.1}}, ""},
		"strong, davies":   {MinteqDavies, Problem{TemperatureC: 25, Total: map[string]float64{"Na": 1, "Cl": 1}}, "ionic strength"},
		"salt, b-dot":      {LLNLBdot, Problem{TemperatureC: 25, Total: map[string]float64{"Na": 2, "Cl": 2}}, ""},
		"acid, b-dot":      {LLNLBdot, Problem{TemperatureC: 25, Total: map[string]float64{"Cl": 2}}, "ionic strength"},
		"too hot":          {DefaultSet, Problem{TemperatureC: 120, Total: map[string]float64{"Na": 0.1, "Cl": 0.1}}, "120"},
		"below pH 0":       {DefaultSet, Problem{TemperatureC: 25, Total: map[string]float64{"Cl": 3}}, "pH"},
		"copper, ammonia":  {MinteqDavies, Problem{TemperatureC: 25, Total: map[string]float64{"Cu": 0.01, "NO3": 0.02, "NH3": 0.1}}, "first copper-ammonia"},
		"zinc, carbonate":  {DefaultSet, Problem{TemperatureC: 25, Total: map[string]float64{"Zn": 0.01, "NO3": 0.02, "CO3": 0.001, "Na": 0.002}}, "zinc carbonate"},
		"held at the edge": {DefaultSet, Problem{TemperatureC: 25, Total: map[string]float64{"Na": 40, "Cl": 40}}, "held"},
	}
	for name, tc := range tests {
		r, err := mustSet(t, tc.set).Solve(tc.p)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		all := strings.Join(r.Warnings, "; ")
		if (tc.want == "" && all != "") || !strings.Contains(all, tc.want) {
			t.Errorf("%s: warnings %q, want %q", name, all, tc.want)
		}
	}
}

func TestKeepFinite(t *testing.T) {
	r := Result{
		Converged: true, PH: math.NaN(), Residual: math.Inf(1),
		SpeciesMol: map[string]float64{"Ag+": math.NaN(), "Cl-": 1}, DissolvedMol: map[string]float64{"Ag": math.Inf(1)},
	}
	r.keepFinite()
	if r.Converged || r.PH != 0 || r.Residual != 0 || len(r.SpeciesMol) != 1 || len(r.DissolvedMol) != 0 {
		t.Errorf("keepFinite left %+v", r)
	}
}

// TestCompetingSolids: of two forms of the same hydroxide the less soluble
// stands, in whichever order they are named.
func TestCompetingSolids(t *testing.T) {
	for _, allowed := range [][]string{{"Cu(OH)2", "CuO"}, {"CuO", "Cu(OH)2"}} {
		r, err := mustSet(t, MinteqDavies).Solve(Problem{
			TemperatureC: 25, Total: map[string]float64{"Cu": 0.1, "NO3": 0.2, "Na": 0.2}, Allowed: allowed,
		})
		if err != nil || r.SolidsMol["Cu(OH)2"] > 0 || !(r.SolidsMol["CuO"] > 0.099) {
			t.Errorf("allowed %v: %v stand (%v)", allowed, r.SolidsMol, err)
		}
	}
}
