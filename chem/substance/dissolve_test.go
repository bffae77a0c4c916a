package substance

import (
	"errors"
	"strings"
	"testing"
)

// TestNitricBranches: every metal that nitric acid dissolves has its own NO and NO2 row, zinc and iron N2O and NH4 too.
func TestNitricBranches(t *testing.T) {
	branches := map[string]string{}
	for _, d := range DissolvingReactions() {
		if d.Agent == "nitric acid" && !d.Untouched && d.Branch != "" {
			branches[d.Solid.Species().Name] += d.Branch + " "
		}
	}
	for _, metal := range strings.Fields("Ag(s) Cu(s) Ni(s) Pb(s) Cd(s) Co(s) Sn(s) Mn(s) Hg(l) Pd(s)") {
		if branches[metal] != "NO NO2 " {
			t.Errorf("%s has the branches %q, want NO and NO2", metal, branches[metal])
		}
	}
	for _, metal := range []string{"Zn(s)", "Fe(s)"} {
		if branches[metal] != "NO NO2 N2O NH4 " {
			t.Errorf("%s has the branches %q, want NO, NO2, N2O and NH4", metal, branches[metal])
		}
	}
}

// TestAcidPerMetal holds the acid eaten against the published stoichiometry: 4/3 and 2 mol a mole of silver, 8/3 and 4
// a mole of copper, counted as what the metal takes up and as gas together.
func TestAcidPerMetal(t *testing.T) {
	cases := map[string]float64{"Ag NO": 4.0 / 3, "Ag NO2": 2, "Cu NO": 8.0 / 3, "Cu NO2": 4}
	for name, want := range cases {
		metal, branch, _ := strings.Cut(name, " ")
		all, err := Dissolve("nitric acid", metal)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range all {
			if d.Branch == branch {
				got := d.Reaction.Nu(MustFind("H^+")) / d.Reaction.Nu(d.Solid)
				if !near(got, want, 1e-12) {
					t.Errorf("%s by %s: %g mol of acid a mole, want %g", metal, branch, got, want)
				}
			}
		}
	}
}

func TestDissolve(t *testing.T) {
	made := map[string]string{
		"nitric acid/Sn":                  "SnO2(s)",
		"HCl + H2O2/Ag":                   "AgCl(s)",
		"hydrochloric acid + peroxide/Au": "AuCl4^-",
		"ferric chloride/Ag":              "AgCl(s)",
		"iron(III) chloride/Cu":           "Fe^2+",
		"copper(II) chloride/Cu":          "Cu^+",
		"aqua regia/Ag":                   "AgCl(s)",
		"sulfuric acid + peroxide/Pb":     "PbSO4(s)",
	}
	for name, product := range made {
		agent, metal, _ := strings.Cut(name, "/")
		all, err := Dissolve(agent, metal)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if d := all[0]; !(d.Reaction.Nu(MustFind(product)) > 0) {
			t.Errorf("%s makes no %s: %s", name, product, d.Reaction.Text)
		}
	}
	for _, metal := range []string{"Au", "Pt", "C", "SnO2"} {
		all, err := Dissolve("nitric acid", metal)
		if err != nil || len(all) != 1 || !all[0].Untouched || all[0].Note == "" {
			t.Errorf("%s in nitric acid: %v, %v; want untouched, with a reason", metal, all, err)
		}
	}
	if _, err := Dissolve("nitric acid", "NaCl"); !errors.Is(err, ErrNoDissolving) {
		t.Errorf("salt in nitric acid: %v, want %v", err, ErrNoDissolving)
	}
	if _, err := Dissolve("nitric acid", "Ag^+"); err == nil {
		t.Error("an ion was dissolved")
	}
	var unknown *UnknownNameError
	if _, err := Dissolve("nitrick acid", "Ag"); !errors.As(err, &unknown) || unknown.Near[0] != "nitric acid" {
		t.Errorf("a misspelt agent: %v", err)
	}
}

// TestAlloysCanBeDissolved: every constituent of a grade that comes to nitric acid has a row, so that no lot falls
// through; dental amalgam and beryllium copper too, though they are refused elsewhere.
func TestAlloysCanBeDissolved(t *testing.T) {
	for _, a := range Alloys() {
		for _, s := range a.Shares {
			if _, err := Dissolve("nitric acid", s.Species.Species().Name); err != nil {
				t.Errorf("%s: %v", a.ID, err)
			}
		}
	}
}

func TestAgentsHaveReagents(t *testing.T) {
	for _, a := range Agents() {
		for _, id := range a.Reagents {
			if r, err := FindReagent(id); err != nil || r.ID != id {
				t.Errorf("%s: %v", a.Name, err)
			}
		}
	}
}
