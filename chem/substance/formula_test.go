package substance

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// near reports whether got is within the relative or absolute tolerance of want.
func near(got, want, tolerance float64) bool {
	d := math.Abs(got - want)
	return d <= tolerance || d <= tolerance*math.Abs(want)
}

func TestParseFormula(t *testing.T) {
	cases := map[string]struct {
		text   string // canonical
		atoms  string // "Cu 1 O 4"
		charge int
		phase  Phase
	}{
		"Ag":               {"Ag", "Ag 1", 0, Unstated},
		"AgCl(s)":          {"AgCl(s)", "Ag 1 Cl 1", 0, Solid},
		"H2O(l)":           {"H2O(l)", "H 2 O 1", 0, Liquid},
		"NO2(g)":           {"NO2(g)", "N 1 O 2", 0, Gas},
		"NH3(aq)":          {"NH3(aq)", "N 1 H 3", 0, Aqueous},
		"Cu(NO3)2":         {"Cu(NO3)2", "Cu 1 N 2 O 6", 0, Unstated},
		"[Cu(NH3)4]^2+":    {"[Cu(NH3)4]^2+", "Cu 1 N 4 H 12", 2, Unstated},
		"{K[Ag(CN)2]}2":    {"{K[Ag(CN)2]}2", "K 2 Ag 2 C 4 N 4", 0, Unstated},
		"CuSO4·5H2O":       {"CuSO4·5H2O", "Cu 1 S 1 O 9 H 10", 0, Unstated},
		"CuSO4*5H2O(s)":    {"CuSO4·5H2O(s)", "Cu 1 S 1 O 9 H 10", 0, Solid},
		"CuSO4.5H2O":       {"CuSO4·5H2O", "Cu 1 S 1 O 9 H 10", 0, Unstated},
		"CaSO4·0.5H2O":     {"CaSO4·0.5H2O", "Ca 1 S 1 O 4.5 H 1", 0, Unstated},
		"CaSO4·1/2H2O":     {"CaSO4·0.5H2O", "Ca 1 S 1 O 4.5 H 1", 0, Unstated},
		"Cu(OH)2·CuCO3":    {"Cu(OH)2·CuCO3", "Cu 2 O 5 H 2 C 1", 0, Unstated},
		"Ag^+":             {"Ag^+", "Ag 1", 1, Unstated},
		"Ag⁺":              {"Ag^+", "Ag 1", 1, Unstated},
		"Ag+":              {"Ag^+", "Ag 1", 1, Unstated},
		"Cu^2+":            {"Cu^2+", "Cu 1", 2, Unstated},
		"Cu²⁺":             {"Cu^2+", "Cu 1", 2, Unstated},
		"Cu^+2":            {"Cu^2+", "Cu 1", 2, Unstated},
		"Cu+2":             {"Cu^2+", "Cu 1", 2, Unstated},
		"SO₄²⁻":            {"SO4^2-", "S 1 O 4", -2, Unstated},
		"SO4^2−":           {"SO4^2-", "S 1 O 4", -2, Unstated},
		"SO4^2-(aq)":       {"SO4^2-(aq)", "S 1 O 4", -2, Aqueous},
		"Cl-(aq)":          {"Cl^-(aq)", "Cl 1", -1, Aqueous},
		"e^-":              {"e^-", "", -1, Unstated},
		"e⁻":               {"e^-", "", -1, Unstated},
		"(S)":              {"(S)", "S 1", 0, Unstated},
		"C6H12O6":          {"C6H12O6", "C 6 H 12 O 6", 0, Unstated},
		"  CH3COOH ":       {"CH3COOH", "C 2 H 4 O 2", 0, Unstated},
		"Na1Cl1":           {"NaCl", "Na 1 Cl 1", 0, Unstated},
		"UO2(C2O4)·3H2O":   {"UO2(C2O4)·3H2O", "U 1 O 9 C 2 H 6", 0, Unstated},
		"CO":               {"CO", "C 1 O 1", 0, Unstated},
		"Co":               {"Co", "Co 1", 0, Unstated},
		"Hg2^2+":           {"Hg2^2+", "Hg 2", 2, Unstated},
		"Na2B4O7·10H2O(s)": {"Na2B4O7·10H2O(s)", "Na 2 B 4 O 17 H 20", 0, Solid},
	}
	for in, want := range cases {
		t.Run(in, func(t *testing.T) {
			f, err := ParseFormula(in)
			if err != nil {
				t.Fatal(err)
			}
			if f.String() != want.text || f.Charge() != want.charge || f.Phase() != want.phase {
				t.Errorf("ParseFormula(%q) = %v, charge %d, phase %v; want %v, %d, %v",
					in, f, f.Charge(), f.Phase(), want.text, want.charge, want.phase)
			}
			if got := atomsText(f); got != want.atoms {
				t.Errorf("ParseFormula(%q) holds %s, want %s", in, got, want.atoms)
			}
		})
	}
}

func atomsText(f Formula) string {
	var words []string
	for _, symbol := range f.Elements() {
		words = append(words, symbol, strings.TrimSuffix(f.ExactAtoms(symbol).FloatString(1), ".0"))
	}
	return strings.Join(words, " ")
}

func TestParseFormulaErrors(t *testing.T) {
	cases := map[string]struct {
		column int
		says   string
	}{
		"":                  {1, "an element symbol"},
		"AgNo3":             {3, "No is an element, but outside the table of this program; if N and O are meant, write NO"},
		"agCl":              {1, "capital letter"},
		"Agx":               {3, "capital letter"},
		"Xy":                {1, `"Xy" is no element symbol`},
		"Tc":                {1, "outside the table"},
		"2H2O":              {1, "belongs to a reaction"},
		"Cu(NO3":            {7, "to close"},
		"Cu(NO3]2":          {7, "to close"},
		"CuNO3)2":           {6, "the end of the formula"},
		"H0":                {2, "above 0"},
		"H2O^":              {5, "the sign of the charge"},
		"Cu^2":              {5, "the sign of the charge"},
		"Cu^0+":             {4, "above 0"},
		"Cu2+":              {4, "write Cu^2+, or Cu2^+"},
		"SO42-":             {5, "write SO^42-, or SO42^-"},
		"H1234567":          {8, "at most 6 digits"},
		"CuSO4·0H2O":        {7, "above 0"},
		"CuSO4··5H2O":       {7, "an element symbol"},
		"CuSO4·5":           {8, "an element symbol"},
		"Cu()":              {4, "an element symbol"},
		"e":                 {2, "e^-"},
		"e^+":               {4, "e^-"},
		"Ag^+(s)x":          {8, "the end of the formula"},
		"Ag Cl":             {3, "the end of the formula"},
		"Ag\x00":            {3, "the end of the formula"},
		"((((((((((((((((H": {13, "brackets within each other"},
	}
	for in, want := range cases {
		t.Run(in, func(t *testing.T) {
			_, err := ParseFormula(in)
			var e *SyntaxError
			if !errors.As(err, &e) {
				t.Fatalf("ParseFormula(%q) = %v, want a SyntaxError", in, err)
			}
			if e.Column != want.column || !strings.Contains(e.Error(), want.says) {
				t.Errorf("ParseFormula(%q): character %d, %q; want %d, saying %q", in, e.Column, e, want.column, want.says)
			}
		})
	}
	if _, err := ParseFormula(strings.Repeat("H", longestText+1)); err == nil {
		t.Error("a text without bounds is read")
	}
	if _, err := ParseFormula("((H999999)999999)999999"); err == nil {
		t.Error("more than a billion atoms are counted")
	}
}

// TestMolarMass compares with the abridged atomic weights added up by hand.
func TestMolarMass(t *testing.T) {
	cases := map[string]float64{
		"H2O":          2*1.008 + 15.999,
		"AgCl":         107.87 + 35.45,
		"CuSO4·5H2O":   63.546 + 32.06 + 4*15.999 + 5*(2*1.008+15.999),
		"Ca3(PO4)2":    3*40.078 + 2*(30.974+4*15.999),
		"[Ag(NH3)2]^+": 107.87 + 2*(14.007+3*1.008),
		"e^-":          0,
		"Na2S2O3·5H2O": 2*22.990 + 2*32.06 + 3*15.999 + 5*(2*1.008+15.999),
	}
	for text, want := range cases {
		f, err := ParseFormula(text)
		if err != nil {
			t.Fatal(err)
		}
		if got := float64(f.MolarMass()); !near(got, want, 1e-12) {
			t.Errorf("molar mass of %s = %g, want %g", text, got, want)
		}
	}
}

func TestMassShare(t *testing.T) {
	f, _ := ParseFormula("AgNO3")
	if got, want := float64(f.MassShare("Ag")), 107.87/(107.87+14.007+3*15.999); !near(got, want, 1e-12) {
		t.Errorf("share of silver in AgNO3 = %g, want %g", got, want)
	}
	if got := f.MassShare("Cu"); got != 0 {
		t.Errorf("share of copper in AgNO3 = %g, want 0", got)
	}
	e, _ := ParseFormula("e^-")
	if got := e.MassShare("Ag"); got != 0 {
		t.Errorf("share in the electron = %g, want 0", got)
	}
}

// drawFormula makes a random formula in canonical form.
func drawFormula(t *rapid.T) string {
	symbol := rapid.SampledFrom([]string{"H", "C", "N", "O", "S", "Cl", "Ag", "Cu", "Co", "Sn", "P", "Na", "U"})
	count := rapid.SampledFrom([]string{"", "2", "3", "12", "120"})
	var group func(depth int) string
	group = func(depth int) string {
		var b strings.Builder
		for range rapid.IntRange(1, 3).Draw(t, "groups") {
			if depth > 0 && rapid.Bool().Draw(t, "bracket") {
				open := rapid.SampledFrom([]string{"()", "[]", "{}"}).Draw(t, "kind")
				b.WriteString(open[:1] + group(depth-1) + open[1:])
			} else {
				b.WriteString(symbol.Draw(t, "symbol"))
			}
			b.WriteString(count.Draw(t, "count"))
		}
		return b.String()
	}
	text := group(2)
	if rapid.Bool().Draw(t, "hydrate") {
		text += "·" + rapid.SampledFrom([]string{"", "5", "0.5", "1/3"}).Draw(t, "times") + "H2O"
	}
	return text + rapid.SampledFrom([]string{"", "^+", "^2+", "^3-"}).Draw(t, "charge") +
		rapid.SampledFrom([]string{"", "(s)", "(aq)"}).Draw(t, "phase")
}

func TestFormulaRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := drawFormula(t)
		f, err := ParseFormula(text)
		if err != nil {
			t.Fatalf("ParseFormula(%q): %v", text, err)
		}
		if f.String() != text {
			t.Fatalf("ParseFormula(%q).String() = %q", text, f.String())
		}
		again, err := ParseFormula(f.String())
		if err != nil || !sameFormula(f, again) {
			t.Fatalf("%q does not read back as itself: %v, %v", text, again, err)
		}
	})
}

func sameFormula(a, b Formula) bool {
	if a.String() != b.String() || a.Charge() != b.Charge() || a.Phase() != b.Phase() || len(a.atoms) != len(b.atoms) {
		return false
	}
	for i := range a.atoms {
		if a.atoms[i].symbol != b.atoms[i].symbol || a.atoms[i].exact.Cmp(b.atoms[i].exact) != 0 {
			return false
		}
	}
	return true
}

func FuzzParseFormula(f *testing.F) {
	for _, seed := range []string{"AgCl(s)", "CuSO4·5H2O", "SO₄²⁻", "e^-", "[Cu(NH3)4]^2+", "Cu2+", "((", "H0", "CaSO4.1/2H2O", "·", "Ag^"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		formula, err := ParseFormula(text)
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error without words")
			}
			return
		}
		if m := float64(formula.MolarMass()); !(m >= 0) || math.IsInf(m, 0) {
			t.Fatalf("%q: molar mass %g", text, m)
		}
		again, err := ParseFormula(formula.String())
		if err != nil || !sameFormula(formula, again) {
			t.Fatalf("%q reads as %q, which reads as %q: %v", text, formula, again, err)
		}
	})
}
