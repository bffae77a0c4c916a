package main

import (
	"strings"
	"testing"
)

// silverChloride is 0.01 mol of silver nitrate with 0.011 mol of sodium
// chloride in 1 kg of water.
const silverChloride = `title = "AgNO3 0.01 + NaCl 0.011"
temperature_c = 25.0
control = "charge"
total = { "Ag" = 0.01, "NO3" = 0.01, "Na" = 0.011, "Cl" = 0.011 }
allowed = ["AgCl"]
`

// TestWorkEquilibrium: the answers of a general speciation engine (PHREEQC 3)
// with the same constants and the same activity models.
func TestWorkEquilibrium(t *testing.T) {
	path := writeFile(t, "liquor.toml", silverChloride)
	for set, want := range map[string]struct{ ph, silver float64 }{
		"minteq4_davies":  {6.9986, 6.1572e-07},
		"llnl_bdot":       {7.0045, 6.0814e-07},
		"thermoddem_bdot": {6.9976, 5.8418e-07},
	} {
		t.Run(set, func(t *testing.T) {
			object := call(t, "work", "equilibrium", path, "--set", set, "--json").want(t, exitDone).object(t)
			if got := number(t, object, "ph"); !near(got, want.ph, 0.01/want.ph) {
				t.Errorf("pH %v, want %v", got, want.ph)
			}
			if got := number(t, object["dissolved_mol"].(map[string]any), "Ag"); !near(got/want.silver, 1, 0.005) {
				t.Errorf("dissolved silver %v mol, want %v", got, want.silver)
			}
			if object["set"] != set || object["converged"] != true {
				t.Errorf("set %v, converged %v", object["set"], object["converged"])
			}
		})
	}
}

func TestWorkEquilibriumContract(t *testing.T) {
	object := callWith(t, silverChloride, "work", "equilibrium", "-", "--json").want(t, exitDone).object(t)
	for _, key := range []string{"set", "converged", "ph", "ionic_strength", "water_kg", "naoh_added_mol", "dissolved_mol", "solids_mol", "species_mol", "warnings"} {
		if value, ok := object[key]; !ok || value == nil {
			t.Errorf("%q is %v", key, value)
		}
	}
	if object["set"] != "default" {
		t.Errorf("set %v, want default", object["set"])
	}
}

// With a fixed pH, what is added must be told.
func TestWorkEquilibriumFixedPH(t *testing.T) {
	text := strings.Replace(silverChloride, `"charge"`, "\"fixed_pH\"\nfixed_pH = 9.0\ntitrant = \"NaOH\"", 1)
	object := callWith(t, text, "work", "equilibrium", "-", "--json").want(t, exitDone).object(t)
	if got := number(t, object, "ph"); !near(got, 9, 1e-6) {
		t.Errorf("pH %v, want 9", got)
	}
	if got := number(t, object, "naoh_added_mol"); !(got > 0) {
		t.Errorf("sodium hydroxide added %v mol, want more than 0", got)
	}
}

func TestWorkEquilibriumText(t *testing.T) {
	got := callWith(t, silverChloride, "work", "equilibrium", "-").want(t, exitDone).stdout
	for _, want := range []string{"pH ", "Dissolved, mol", "AgCl", "default"} {
		if !strings.Contains(got, want) {
			t.Errorf("the text does not show %q:\n%s", want, got)
		}
	}
}

func TestWorkEquilibriumRefuses(t *testing.T) {
	for name, text := range map[string]string{
		"unknown key":       silverChloride + "pressure = 3\n",
		"unknown component": strings.Replace(silverChloride, `"Ag"`, `"Xx"`, 1),
		"unknown solid":     strings.Replace(silverChloride, `["AgCl"]`, `["XxCl"]`, 1),
		"negative":          strings.Replace(silverChloride, "0.011 }", "-0.011 }", 1),
		"not a number":      strings.Replace(silverChloride, "0.011 }", "nan }", 1),
		"no pH":             strings.Replace(silverChloride, `"charge"`, `"fixed_pH"`, 1),
		"absurd pH":         strings.Replace(silverChloride, `"charge"`, "\"fixed_pH\"\nfixed_pH = 99.0", 1),
		"unknown control":   strings.Replace(silverChloride, `"charge"`, `"magic"`, 1),
		"temperature":       strings.Replace(silverChloride, "25.0", "2500.0", 1),
		"empty":             "",
	} {
		t.Run(name, func(t *testing.T) {
			got := callWith(t, text, "work", "equilibrium", "-", "--json").want(t, exitInput)
			if len(objects(t, got.object(t), "errors")) == 0 {
				t.Errorf("no error told: %s", got.stdout)
			}
		})
	}
}
