package main

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestWorkMass: weights of the 2021 abridged table: Ag 107.87, Cl 35.45, Cu
// 63.546, S 32.06, O 15.999, H 1.0080.
func TestWorkMass(t *testing.T) {
	object := call(t, "work", "mass", "AgCl", "--json").want(t, exitDone).object(t)
	if got := number(t, object, "molar_mass_g_mol"); !near(got, 143.32, 0.005) {
		t.Errorf("AgCl: %v g/mol, want 143.32", got)
	}
	shares := object["shares"].(map[string]any)
	if got := number(t, shares, "Ag"); !near(got, 107.87/143.32, 1e-6) {
		t.Errorf("AgCl: silver share %v, want %v", got, 107.87/143.32)
	}
	blue := call(t, "work", "mass", "CuSO4·5H2O", "--json").want(t, exitDone).object(t)
	if got := number(t, blue, "molar_mass_g_mol"); !near(got, 63.546+32.06+9*15.999+10*1.008, 1e-6) {
		t.Errorf("CuSO4·5H2O: %v g/mol", got)
	}
}

func TestWorkBalance(t *testing.T) {
	object := call(t, "work", "balance", "Cu + Ag^+ -> Cu^2+ + Ag", "--json").want(t, exitDone).object(t)
	if diff := cmp.Diff([]any{1.0, 2.0, 1.0, 2.0}, object["coefficients"]); diff != "" {
		t.Errorf("coefficients (-want +got):\n%s", diff)
	}
	if got, want := object["balanced"], "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag"; got != want {
		t.Errorf("balanced %q, want %q", got, want)
	}
}

func TestWorkBalanceSpellings(t *testing.T) {
	for _, reaction := range []string{"Cu + Ag^+ = Cu^2+ + Ag", "Cu + Ag⁺ → Cu²⁺ + Ag", "Cu(s) + Ag^+(aq) -> Cu^2+(aq) + Ag(s)"} {
		object := call(t, "work", "balance", reaction, "--json").want(t, exitDone).object(t)
		if diff := cmp.Diff([]any{1.0, 2.0, 1.0, 2.0}, object["coefficients"]); diff != "" {
			t.Errorf("%s (-want +got):\n%s", reaction, diff)
		}
	}
}

// TestWorkYield: 10 g of copper is 0.15737 mol and would take 0.31473 mol of
// silver; 0.2 mol of silver is less, so 0.1 mol of copper goes.
func TestWorkYield(t *testing.T) {
	object := call(t, "work", "yield", "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag", "Cu=10 g", "Ag^+=0.2 mol", "--json").want(t, exitDone).object(t)
	if got, want := object["limiting"], "Ag^+"; got != want {
		t.Errorf("limiting %v, want %v", got, want)
	}
	if got := number(t, object, "extent_mol"); !near(got, 0.1, 1e-9) {
		t.Errorf("extent %v mol, want 0.1", got)
	}
	if got := number(t, object["made_g"].(map[string]any), "Ag"); !near(got, 0.2*107.87, 1e-6) {
		t.Errorf("made %v g of Ag, want %v", got, 0.2*107.87)
	}
	if got := number(t, object["left_g"].(map[string]any), "Cu"); !near(got, 10-0.1*63.546, 1e-6) {
		t.Errorf("left %v g of Cu, want %v", got, 10-0.1*63.546)
	}
}

// TestWorkDeposit: 10.23 A for one hour lay down 41.19 g of silver (OpenStax
// Chemistry 2e, example 17.9).
func TestWorkDeposit(t *testing.T) {
	object := call(t, "work", "deposit", "Ag", "1", "10.23", "1", "--json").want(t, exitDone).object(t)
	if got := number(t, object, "mass_g"); !near(got, 41.19, 0.03) {
		t.Errorf("%v g of silver, want 41.19", got)
	}
	half := call(t, "work", "deposit", "Ag", "1", "10.23 A", "60 min", "--efficiency", "50%", "--json").want(t, exitDone).object(t)
	if got := number(t, half, "mass_g"); !near(got, number(t, object, "mass_g")/2, 1e-9) {
		t.Errorf("at half the efficiency %v g, want half of %v", got, object["mass_g"])
	}
}

// TestWorkAcid: 68 % nitric acid has about 1.405 g/mL and 15.2 mol/L.
func TestWorkAcid(t *testing.T) {
	object := call(t, "work", "acid", "nitric acid", "68 %", "--json").want(t, exitDone).object(t)
	density, molar, mass := number(t, object, "density_g_mL"), number(t, object, "mol_L"), number(t, object, "g_L")
	if !near(density, 1.405, 0.01) || !near(molar, 15.2, 0.2) {
		t.Errorf("68 %% nitric acid: %v g/mL, %v mol/L, want about 1.405 and 15.2", density, molar)
	}
	if want := 1000 * density * 0.68; !near(mass, want, 1e-6) {
		t.Errorf("68 %% nitric acid: %v g/L, want 0.68 × density = %v", mass, want)
	}
	back := call(t, "work", "acid", "HNO3", "15 mol/L", "--json").want(t, exitDone).object(t)
	if got := number(t, back, "mol_L"); !near(got, 15, 1e-6) {
		t.Errorf("15 mol/L came back as %v mol/L", got)
	}
}

// TestWorkWash: (heel/(heel+fill))^n = (0.05/0.55)^5.
func TestWorkWash(t *testing.T) {
	object := call(t, "work", "wash", "--heel", "0.05L", "--fill", "0.5L", "--times", "5", "--json").want(t, exitDone).object(t)
	if got, want := number(t, object, "left_share"), math.Pow(0.05/0.55, 5); !near(got, want, 1e-9*want) {
		t.Errorf("left share %v, want %v", got, want)
	}
}

// TestWorkBoilDown: saturated liquid at 20 degC has 83.91 kJ/kg and vapour at
// 100 degC 2675.6 kJ/kg (IAPWS-95): 3 L at 0.998 kg/L to 0.2 L at 0.958 kg/L.
func TestWorkBoilDown(t *testing.T) {
	object := call(t, "work", "boil-down", "--from", "3L", "--to", "0.2L", "--json").want(t, exitDone).object(t)
	const startKg, endKg, liquid20, liquid100, vapour100 = 3 * 0.9982, 0.2 * 0.9584, 83.91, 419.1, 2675.6
	want := (startKg*(liquid100-liquid20) + (startKg-endKg)*(vapour100-liquid100)) / 3600
	if got := number(t, object, "energy_kwh"); !near(got, want, 0.01*want) {
		t.Errorf("%v kWh, want %v within 1 %%", got, want)
	}
	lossy := call(t, "work", "boil-down", "--from", "3L", "--to", "0.2L", "--efficiency", "0.5", "--json").want(t, exitDone).object(t)
	if got := number(t, lossy, "energy_kwh"); !near(got, 2*number(t, object, "energy_kwh"), 1e-9) {
		t.Errorf("at half the efficiency %v kWh, want twice as much", got)
	}
}

// A wrong argument is a wrong call, with an explanation, and an error object
// where JSON was asked for.
func TestWorkRefuses(t *testing.T) {
	for name, args := range map[string][]string{
		"unknown element":    {"work", "mass", "Xx2O"},
		"broken formula":     {"work", "mass", "Cu(OH"},
		"cannot be balanced": {"work", "balance", "Ag -> Cu"},
		"no quantity":        {"work", "yield", "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag", "Cu"},
		"wrong unit":         {"work", "yield", "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag", "Cu=3 V"},
		"not in reaction":    {"work", "yield", "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag", "Zn=3 g"},
		"charge":             {"work", "deposit", "Ag", "one", "1", "1"},
		"negative current":   {"work", "deposit", "Ag", "1", "--", "-1", "1"},
		"NaN":                {"work", "deposit", "Ag", "1", "NaN", "1"},
		"infinite":           {"work", "deposit", "Ag", "1", "1e999", "1"},
		"efficiency":         {"work", "deposit", "Ag", "1", "1", "1", "--efficiency", "120%"},
		"unknown acid":       {"work", "acid", "phlogistic acid", "10 %"},
		"too strong":         {"work", "acid", "hydrochloric acid", "90 %"},
		"no washes":          {"work", "wash", "--heel", "1L", "--fill", "1L", "--times", "-1"},
		"boil up":            {"work", "boil-down", "--from", "1L", "--to", "2L"},
		"missing flag":       {"work", "boil-down", "--from", "1L"},
		"missing argument":   {"work", "mass"},
		"unknown command":    {"work", "mas", "AgCl"},
	} {
		t.Run(name, func(t *testing.T) {
			got := call(t, args...).want(t, exitUsage)
			if got.stdout != "" || got.stderr == "" {
				t.Errorf("run(%q) = stdout %q, stderr %q, want a message on stderr only", args, got.stdout, got.stderr)
			}
		})
	}
	object := call(t, "work", "mass", "Cu(OH", "--json").want(t, exitUsage).object(t)
	if problems, _ := object["errors"].([]any); len(problems) != 1 {
		t.Errorf("errors %v, want one", object["errors"])
	}
}

// TestWorkText compares what people read with what scripts get.
func TestWorkText(t *testing.T) {
	for name, tc := range map[string]struct {
		args []string
		want string
	}{
		"mass":    {[]string{"work", "mass", "AgCl"}, "AgCl: 143.320 g/mol\n  Ag  75.27 %\n  Cl  24.73 %\n"},
		"balance": {[]string{"work", "balance", "Cu + Ag^+ -> Cu^2+ + Ag"}, "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag\n"},
		"deposit": {[]string{"work", "deposit", "Ag", "1", "10.23", "1"}, "41.17 g of Ag from 10.23 A h\n"},
		"wash":    {[]string{"work", "wash", "--heel", "0.05L", "--fill", "0.5L", "--times", "5"}, "6.21e-06 of the salt in the heel is left after 5 washes\n"},
		"yield": {
			[]string{"work", "yield", "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag", "Cu=10 g", "Ag^+=0.2 mol"},
			"limited by Ag^+; extent 0.1000 mol\n  made  Ag     21.57 g\n  made  Cu^2+  6.355 g\n  left  Ag^+       0 g\n  left  Cu     3.645 g\n",
		},
	} {
		t.Run(name, func(t *testing.T) {
			if diff := cmp.Diff(tc.want, call(t, tc.args...).want(t, exitDone).stdout); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}
