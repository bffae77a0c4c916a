package thermal

import (
	"errors"
	"math"
	"testing"
)

func TestTablesLoad(t *testing.T) {
	tab, err := load()
	if err != nil {
		t.Fatal(err)
	}
	if len(tab.water) != 14 || len(tab.substances) < 15 || len(tab.formation) < 60 || len(tab.soluble) < 20 || len(tab.calcinations) < 8 {
		t.Errorf("rows: water %d, melting %d, formation %d, solubility %d, calcination %d: some are missing",
			len(tab.water), len(tab.substances), len(tab.formation), len(tab.soluble), len(tab.calcinations))
	}
	for _, s := range Sources() {
		if s == "" {
			t.Error("an empty source")
		}
	}
}

func TestSourceKeysAreChecked(t *testing.T) {
	tab := &tables{sources: map[string]string{"known": "A work", "idle": "Another"}, used: map[string]bool{}}
	for name, r := range map[string]row{
		"unknown key":           {Source: "nowhere", Basis: Published},
		"no key":                {Basis: Published},
		"unknown basis":         {Source: "known", Basis: "hearsay"},
		"assumption, no reason": {Source: "known", Basis: Assumption},
		"no basis":              {Source: "known"},
	} {
		if _, err := tab.provenance(r, "x"); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := tab.provenance(row{Source: "known", Basis: Published}, "x"); err != nil {
		t.Error(err)
	}
	if tab.unusedSources(nil) == nil {
		t.Error("a source that no row names went through")
	}
}

// Second figures of enthalpies of formation come from OpenStax Appendix G, which
// prints some values of the older tables.
func TestFormationAgainstTheSecondFigure(t *testing.T) {
	var doc document
	for _, name := range []string{"sources", "formation"} {
		if err := decode("data/"+name+".toml", &doc); err != nil {
			t.Fatal(err)
		}
	}
	apart := map[string]float64{"NO3^-": 2.5, "CaCO3": 13, "NO": 1.1} // known disagreements, kJ/mol
	checked := 0
	for _, r := range doc.Formation {
		if r.Check == 0 {
			continue
		}
		checked++
		if d := math.Abs(r.Value - r.Check); d > max(0.3, apart[r.Formula]) {
			t.Errorf("%s(%s): %g kJ/mol, the second figure is %g", r.Formula, r.Phase, r.Value, r.Check)
		}
	}
	if checked < 25 {
		t.Errorf("only %d rows have a second figure", checked)
	}
}

func TestUnknownRows(t *testing.T) {
	calls := map[string]func() error{
		"figure":      func() error { _, err := FigureByID("x"); return err },
		"melting":     func() error { _, err := Melt("Xx", 1, 300, 400); return err },
		"point":       func() error { _, _, err := MeltingPoint("Xx"); return err },
		"calcination": func() error { _, err := CalcinationOf("Xx"); return err },
		"solubility":  func() error { _, err := SolubilityOf("Xx"); return err },
		"formation":   func() error { _, err := ReactionEnthalpy(Formed{"Xx", "s", 1}); return err },
	}
	for name, call := range calls {
		if err := call(); !errors.Is(err, ErrUnknown) {
			t.Errorf("%s: %v, want ErrUnknown", name, err)
		}
	}
}
