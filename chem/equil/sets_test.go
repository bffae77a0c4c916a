package equil

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"afterpour/chem/substance"
)

func TestLoadSet(t *testing.T) {
	for _, name := range SetNames() {
		set := mustSet(t, name)
		if set.Name() != name || set.Title() == "" {
			t.Errorf("set %q calls itself %q, %q", name, set.Name(), set.Title())
		}
		for _, c := range []string{"H", "Na", "K", "Ag", "Cu", "Zn", "Ni", "Pb", "Cl", "NO3", "SO4", "NH3"} {
			if set.componentIndex(c) < 0 {
				t.Errorf("%s has no component %s", name, c)
			}
		}
	}
	if _, err := LoadSet("guesswork"); err == nil || !strings.Contains(err.Error(), DefaultSet) {
		t.Errorf("LoadSet(guesswork): %v, want an error that names the sets there are", err)
	}
}

var trailingCharge = regexp.MustCompile(`([+-])(\d*)$`)

// formulaOf reads a name in the notation of the tables as a formula.
func formulaOf(t *testing.T, name string) substance.Formula {
	t.Helper()
	text := trailingCharge.ReplaceAllString(strings.TrimSuffix(name, "(am)"), "^$2$1")
	f, err := substance.ParseFormula(text)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return f
}

// TestRowsBalance: every reaction of every set is balanced in every element
// and in charge, by the formulas alone.
func TestRowsBalance(t *testing.T) {
	for _, name := range SetNames() {
		d := mustSet(t, name).Definition()
		for _, row := range append(append([]ConstantRow{}, d.Species...), d.Solids...) {
			eq, err := parseEquation(row.Reaction)
			if err != nil {
				t.Fatal(err)
			}
			off := map[string]float64{}
			tally := func(terms []equationTerm, sign float64) {
				for _, term := range terms {
					f := formulaOf(t, term.name)
					for _, el := range f.Elements() {
						off[el] += sign * term.count * f.Atoms(el)
					}
					off["charge"] += sign * term.count * float64(f.Charge())
				}
			}
			tally(eq.left, 1)
			tally(eq.right, -1)
			for what, v := range off {
				if math.Abs(v) > 1e-9 {
					t.Errorf("%s: %s is off by %g %s", name, row.Reaction, v, what)
				}
			}
		}
	}
}

// TestRowsTraceable: every row has a source with a text, and every row of the
// reviewed set a reason.
func TestRowsTraceable(t *testing.T) {
	for _, name := range SetNames() {
		d := mustSet(t, name).Definition()
		for _, row := range append(append([]ConstantRow{}, d.Species...), d.Solids...) {
			if d.Sources[row.Source].Text == "" {
				t.Errorf("%s: %s has no source", name, row.Name)
			}
			if name == DefaultSet && len(row.Reason) < 10 {
				t.Errorf("%s: %s gives no reason", name, row.Name)
			}
		}
	}
}

// TestPolynomialsMeetConstants: where a row has both, the law and the constant
// at 25 degC say the same within the rounding of the table.
func TestPolynomialsMeetConstants(t *testing.T) {
	n := 0
	for _, name := range SetNames() {
		d := mustSet(t, name).Definition()
		for _, row := range append(append([]ConstantRow{}, d.Species...), d.Solids...) {
			if len(row.Polynomial) == 0 {
				continue
			}
			n++
			if got := row.logK(roomKelvin); math.Abs(got-row.LogK) > 0.0012 {
				t.Errorf("%s: %s has log K %.4f by its law, %.4f in the table", name, row.Name, got, row.LogK)
			}
		}
	}
	if n < 100 {
		t.Errorf("only %d rows have a law", n)
	}
}

// TestEnthalpiesMeetPolynomials: between 15 and 35 degC a row's law and its
// enthalpy run alongside each other, so no sign has slipped. Rows that say so
// in a note are the source's own contradiction.
func TestEnthalpiesMeetPolynomials(t *testing.T) {
	for _, name := range publishedSets() {
		d := mustSet(t, name).Definition()
		for _, row := range append(append([]ConstantRow{}, d.Species...), d.Solids...) {
			if len(row.Polynomial) == 0 || row.Enthalpy == 0 || row.Note != "" {
				continue
			}
			slope := row.logK(308.15) - row.logK(288.15)
			row.Polynomial = nil
			if want := row.logK(308.15) - row.logK(288.15); math.Abs(slope-want) > 0.03+0.1*math.Abs(want) {
				t.Errorf("%s: %s changes by %.3f from 15 to 35 degC, its enthalpy says %.3f", name, row.Name, slope, want)
			}
		}
	}
}

func TestParseSetFaults(t *testing.T) {
	const head = "name = \"x\"\nactivity = \"ideal\"\n[debye]\nsource = \"s\"\n[range]\nsource = \"s\"\n[[component]]\nname = \"H\"\nion = \"H+\"\n"
	tests := map[string]struct{ text, want string }{
		"not a table": {"name =", "constants"},
		"unknown key": {head + "volume = 1\n[sources.s]\ntext = \"t\"\n", "unknown key"},
		"no source":   {head + "[[species]]\nname = \"OH-\"\nreaction = \"H2O = OH- + H+\"\n[sources.s]\ntext = \"t\"\n", "no text"},
		"no such set": {head + "[[species]]\nname = \"OH-\"\nfrom = \"nowhere\"\n[sources.s]\ntext = \"t\"\n", "nowhere"},
	}
	for name, tc := range tests {
		if _, err := parseSet(tc.text, nil); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: error %v, want one about %q", name, err, tc.want)
		}
	}
	if _, err := parseSet(head+"[sources.s]\ntext = \"t\"\n", nil); err != nil {
		t.Errorf("a set of hydrogen alone: %v", err)
	}
}
