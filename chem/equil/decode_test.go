package equil

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"

	"afterpour/chem/input"
)

// caseFile writes a case as a file of its own, without its results.
func caseFile(c publishedCase) string {
	keys := map[string]any{
		"id": c.ID, "group": c.Group, "title": c.Title, "temperature_c": c.TemperatureC,
		"control": c.Control, "total": c.Total, "allowed": c.Allowed,
	}
	if c.Note != "" {
		keys["note"] = c.Note
	}
	if c.SolidAdded != nil {
		keys["solid_added"] = c.SolidAdded
	}
	if c.Control == "fixed_pH" {
		keys["fixed_pH"], keys["titrant"] = c.FixedPH, c.Titrant
	}
	var b bytes.Buffer
	if err := toml.NewEncoder(&b).Encode(keys); err != nil {
		panic(err)
	}
	return b.String()
}

func decodeProblem(t *testing.T, text string) Problem {
	t.Helper()
	doc, err := input.Parse("case.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	p, err := DecodeProblem(doc)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestDecodeProblem(t *testing.T) {
	p := decodeProblem(t, `title = "AgCl in salt"
temperature_c = 60.0
control = "fixed_pH"
fixed_pH = 8
titrant = "NaOH"
total = { Ag = 0.01, NO3 = 0.01 }
solid_added = { AgCl = 0.001 }
allowed = ["AgCl", "Ag2O"]
`)
	if !p.FixedPH || !near(p.PH, 8, 0) || !near(p.TemperatureC, 60, 0) || !near(p.Total["Ag"], 0.01, 0) ||
		!near(p.SolidAdded["AgCl"], 0.001, 0) || len(p.Allowed) != 2 {
		t.Errorf("DecodeProblem: %+v", p)
	}
	if p := decodeProblem(t, "total = { Cl = 1.0 }\n"); !near(p.TemperatureC, 25, 1e-9) || p.FixedPH {
		t.Errorf("DecodeProblem without the rest: %+v, want 25 degC and no fixed pH", p)
	}
}

func TestDecodeProblemFaults(t *testing.T) {
	tests := map[string]struct {
		text string
		want []string // in the error
	}{
		"unknown key":     {"totals = { Cl = 1.0 }\n", []string{"case.toml:1:1", "totals", "total"}},
		"below nothing":   {"total = { Cl = -1.0 }\n", []string{"1:16", "total.Cl"}},
		"not a number":    {"total = { Cl = nan }\n", []string{"total.Cl"}},
		"unknown control": {"control = \"free\"\ntotal = { Cl = 1.0 }\n", []string{"1:11", "control", "charge"}},
		"pH missing":      {"control = \"fixed_pH\"\ntotal = { Cl = 1.0 }\n", []string{"pH to reach"}},
		"impossible pH":   {"control = \"fixed_pH\"\nfixed_pH = 20.0\ntotal = { Cl = 1.0 }\n", []string{"2:12", "fixed_pH"}},
		"titrant":         {"titrant = \"KOH\"\ntotal = { Cl = 1.0 }\n", []string{"titrant", "NaOH"}},
		"too hot":         {"temperature_c = 400.0\ntotal = { Cl = 1.0 }\n", []string{"temperature_c", "150"}},
		"two faults":      {"temperature_c = 400.0\ntotal = { Cl = -1.0 }\n", []string{":1:", ":2:"}},
	}
	for name, tc := range tests {
		t.Run(name, func(t *testing.T) {
			doc, err := input.Parse("case.toml", []byte(tc.text))
			if err == nil {
				_, err = DecodeProblem(doc)
			}
			if err == nil {
				t.Fatalf("DecodeProblem(%q) took it", tc.text)
			}
			for _, want := range tc.want {
				if !strings.Contains(err.Error(), want) {
					t.Errorf("error %q does not say %q", err, want)
				}
			}
		})
	}
}

// TestResultKeys pins the names that the result is printed under.
func TestResultKeys(t *testing.T) {
	r, err := mustSet(t, DefaultSet).Solve(Problem{TemperatureC: 25, Total: map[string]float64{"Cl": 1}})
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	var keys map[string]any
	if err := json.Unmarshal(text, &keys); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"set", "converged", "ph", "ionic_strength", "water_kg", "naoh_added_mol",
		"dissolved_mol", "solids_mol", "species_mol", "warnings", "residual", "iterations",
	} {
		if _, ok := keys[want]; !ok {
			t.Errorf("the result has no key %q", want)
		}
	}
	if _, ok := keys["warnings"].([]any); !ok {
		t.Errorf("warnings is %v, want a list even when empty", keys["warnings"])
	}
}
