package equil

import (
	"errors"
	"math"
	"testing"
)

// TestSilverAgainstChloride: silver is least dissolved at a few mmol/kg of
// chloride, and much more so in strong acid.
func TestSilverAgainstChloride(t *testing.T) {
	for _, name := range SetNames() {
		set := mustSet(t, name)
		p := Problem{TemperatureC: 25, SolidAdded: map[string]float64{"AgCl": 0.01}, Allowed: []string{"AgCl"}}
		curve, err := set.SilverAgainstChloride(p, "Na", 1e-4, 1, 60)
		if err != nil {
			t.Fatal(err)
		}
		least, ok := curve.Least("Ag")
		if !ok || !(least.X > 1e-3 && least.X < 6e-3) || !(least.Dissolved[0] > 3e-7 && least.Dissolved[0] < 7e-7) {
			t.Errorf("%s: least silver %g at %g mol/kg chloride", name, least.Dissolved[0], least.X)
		}
		if last := curve.Points[59]; !near(last.X, 1, 1e-9) || last.Dissolved[0] < 20*least.Dissolved[0] {
			t.Errorf("%s: at 1 mol/kg %g, at the least %g", name, last.Dissolved[0], least.Dissolved[0])
		}
		if _, changed := p.Total["Cl"]; changed {
			t.Error("the problem was changed")
		}
	}
}

// TestCurveMeetsSolve: every point of a curve is what a single question gives.
func TestCurveMeetsSolve(t *testing.T) {
	set := mustSet(t, DefaultSet)
	p := Problem{TemperatureC: 25, Total: map[string]float64{"Ag": 0.01, "NO3": 0.01}}
	curve, err := set.SilverAgainstChloride(p, "", 1e-3, 6, 15)
	if err != nil {
		t.Fatal(err)
	}
	for _, point := range curve.Points {
		r, err := set.Solve(Problem{
			TemperatureC: 25, Total: map[string]float64{"Ag": 0.01, "NO3": 0.01, "Cl": point.X}, Allowed: []string{"AgCl"},
		})
		if err != nil || !near(r.DissolvedMol["Ag"], point.Dissolved[0], 1e-7) || math.Abs(r.PH-point.PH) > 1e-8 {
			t.Errorf("at %g mol/kg: %g and pH %g, alone %g and %g (%v)",
				point.X, point.Dissolved[0], point.PH, r.DissolvedMol["Ag"], r.PH, err)
		}
		if point.Beyond != (len(r.Warnings) > 0) {
			t.Errorf("at %g mol/kg: beyond %v, warnings %q", point.X, point.Beyond, r.Warnings)
		}
	}
}

// TestMetalsAgainstPH: copper falls from pH 5 to 9 and rises again in alkali;
// iron is gone long before.
func TestMetalsAgainstPH(t *testing.T) {
	p := Problem{
		TemperatureC: 25, Total: map[string]float64{"Cu": 0.1, "Fe": 0.01, "NO3": 0.3},
		Allowed: []string{"Cu(OH)2", "Fe(OH)3"},
	}
	curve, err := mustSet(t, DefaultSet).MetalsAgainstPH(p, 1, 13, 49)
	if err != nil {
		t.Fatal(err)
	}
	if len(curve.Names) != 2 || curve.Names[0] != "Cu" || curve.Names[1] != "Fe" {
		t.Fatalf("names %v, want Cu and Fe", curve.Names)
	}
	at := func(ph float64, i int) float64 {
		for _, point := range curve.Points {
			if near(point.X, ph, 1e-9) {
				return point.Dissolved[i]
			}
		}
		t.Fatalf("no point at pH %g", ph)
		return 0
	}
	if !near(at(2, 0), 0.1, 1e-9) || at(9, 0) > 1e-6 || at(13, 0) < 10*at(10, 0) {
		t.Errorf("copper: %g at pH 2, %g at 9, %g at 10, %g at 13", at(2, 0), at(9, 0), at(10, 0), at(13, 0))
	}
	if at(5, 1) > 1e-6 || !near(at(1, 1), 0.01, 1e-6) {
		t.Errorf("iron: %g at pH 1, %g at 5", at(1, 1), at(5, 1))
	}
	for _, point := range curve.Points {
		if math.Abs(point.PH-point.X) > 1e-9 {
			t.Errorf("asked for pH %g, got %g", point.X, point.PH)
		}
	}
}

func TestCurveFaults(t *testing.T) {
	set := mustSet(t, LLNLBdot)
	p := Problem{TemperatureC: 25, Total: map[string]float64{"Cu": 0.1, "NO3": 0.2}}
	if _, err := set.SilverAgainstChloride(p, "Na", 1, 0.1, 10); err == nil {
		t.Error("a range backwards")
	}
	if _, err := set.MetalsAgainstPH(p, 1, 40, 10); err == nil {
		t.Error("a pH of 40")
	}
	if _, err := set.MetalsAgainstPH(p, 1, 4, 1); err == nil {
		t.Error("a curve of one point")
	}
	p.Allowed = []string{"Cu(OH)2"}
	if _, err := set.MetalsAgainstPH(p, 1, 4, 10); !errors.Is(err, ErrUnsupported) {
		t.Errorf("a solid that the set lacks: %v", err)
	}
	if _, ok := (Curve{}).Least("Ag"); ok {
		t.Error("an empty curve has a least point")
	}
}
