package equil

import (
	"strings"
	"testing"
)

func TestParseEquation(t *testing.T) {
	eq, err := parseEquation("2 Cu+2 + H2O = Cu2(OH)+3 + H+")
	if err != nil {
		t.Fatal(err)
	}
	parts, err := eq.stoichiometry("Cu2(OH)+3")
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range map[string]float64{"Cu+2": 2, "H2O": 1, "H+": -1} {
		if !near(parts[name], want, 1e-12) {
			t.Errorf("one Cu2(OH)+3 holds %g %s, want %g", parts[name], name, want)
		}
	}
}

func TestParseEquationFaults(t *testing.T) {
	for _, text := range []string{"", "Ag+ + Cl-", "Ag+ = Cl- = AgCl", "x Ag+ = AgCl", "-1 Ag+ = AgCl", "1 2 Ag+ = AgCl"} {
		if _, err := parseEquation(text); err == nil {
			t.Errorf("parseEquation(%q) took it", text)
		} else if !strings.HasPrefix(err.Error(), "equil: ") {
			t.Errorf("parseEquation(%q): %v has no prefix", text, err)
		}
	}
	eq, err := parseEquation("Ag+ + Cl- = AgCl")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := eq.stoichiometry("AgBr"); err == nil {
		t.Error("AgBr stands in no reaction of silver chloride")
	}
}

func TestChargeOf(t *testing.T) {
	for name, want := range map[string]int{
		"Ag+": 1, "Cu+2": 2, "Cl-": -1, "AgCl3-2": -2, "Fe3(OH)4+5": 5, "AgCl": 0, "NH3": 0, "Cu2(OH)2+2": 2,
	} {
		if got := chargeOf(name); got != want {
			t.Errorf("chargeOf(%s) = %d, want %d", name, got, want)
		}
	}
}

func FuzzParseEquation(f *testing.F) {
	f.Add("Ag+ + 2 Cl- = AgCl2-")
	f.Add("Cu(OH)2 + 2 H+ = Cu+2 + 2 H2O")
	f.Fuzz(func(t *testing.T, text string) {
		eq, err := parseEquation(text)
		if err != nil {
			_ = err.Error()
			return
		}
		for _, term := range eq.right {
			_, _ = eq.stoichiometry(term.name)
			_ = chargeOf(term.name)
		}
	})
}
