package substance

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParseEquation(t *testing.T) {
	cases := map[string]string{
		"Cu + 2 Ag^+ -> Cu^2+ + 2 Ag":             "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag",
		"Cu+2Ag^+→Cu²⁺+2Ag":                       "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag",
		"Ag+ + Cl- -> AgCl(s)":                    "Ag^+ + Cl^- -> AgCl(s)",
		"Ag+ + Cl-->AgCl":                         "Ag^+ + Cl^- -> AgCl",
		"2H2+O2=2H2O":                             "2 H2 + O2 -> 2 H2O",
		"H2 + 1/2 O2 -> H2O(l)":                   "H2 + 0.5 O2 -> H2O(l)",
		"H2 + 0.5O2 ⇌ H2O":                        "H2 + 0.5 O2 -> H2O",
		"Cu+2 + 2 e- -> Cu":                       "Cu^2+ + 2 e^- -> Cu",
		"Zn + 2H+(aq) -> Zn^2+(aq) + H2(g)":       "Zn + 2 H^+(aq) -> Zn^2+(aq) + H2(g)",
		"CuSO4.5H2O -> CuSO4 + 5H2O":              "CuSO4·5H2O -> CuSO4 + 5 H2O",
		"2K[Ag(CN)2] + Zn = 2Ag + Zn(CN)2 + 2KCN": "2 K[Ag(CN)2] + Zn -> 2 Ag + Zn(CN)2 + 2 KCN",
	}
	for in, want := range cases {
		t.Run(in, func(t *testing.T) {
			eq, err := ParseEquation(in)
			if err != nil {
				t.Fatal(err)
			}
			if eq.String() != want {
				t.Errorf("ParseEquation(%q) = %q, want %q", in, eq, want)
			}
		})
	}
}

func TestParseEquationErrors(t *testing.T) {
	cases := map[string]struct {
		column int
		says   string
	}{
		"":                {1, "an element symbol"},
		"Cu":              {3, "the arrow"},
		"Cu ->":           {6, "an element symbol"},
		"-> Cu":           {1, "an element symbol"},
		"Cu Ag -> X":      {4, "the arrow"},
		"Cu -> Ag -> Au":  {10, "the end"},
		"Cu + -> Ag":      {6, "an element symbol"},
		"Cu2+ + Zn -> Cu": {4, "write Cu^2+, or Cu2^+"},
		"0 Cu -> Cu":      {1, "above 0"},
		"1//2 O2 -> O":    {1, "such as 5, 0.5 or 1/2"},
	}
	for in, want := range cases {
		t.Run(in, func(t *testing.T) {
			_, err := ParseEquation(in)
			var e *SyntaxError
			if !errors.As(err, &e) {
				t.Fatalf("ParseEquation(%q) = %v, want a SyntaxError", in, err)
			}
			if e.Column != want.column || !strings.Contains(e.Error(), want.says) {
				t.Errorf("ParseEquation(%q): character %d, %q; want %d, saying %q", in, e.Column, e, want.column, want.says)
			}
		})
	}
	many := strings.Repeat("H + ", mostTerms) + "H -> H"
	if _, err := ParseEquation(many); err == nil {
		t.Error("a side without bounds is read")
	}
}

func TestCheck(t *testing.T) {
	eq, err := ParseEquation("Cu + Ag^+ -> Cu^2+ + Ag")
	if err != nil {
		t.Fatal(err)
	}
	err = eq.Check()
	if !errors.Is(err, ErrUnbalanced) || !strings.Contains(err.Error(), "charge 1 on the left, 2 on the right") {
		t.Errorf("Check = %v, want the charge named", err)
	}
	eq, _ = ParseEquation("AgCl -> Ag + Cl2")
	if err := eq.Check(); err == nil || !strings.Contains(err.Error(), "Cl 1 on the left, 2 on the right") {
		t.Errorf("Check = %v, want chlorine named", err)
	}
	eq, _ = ParseEquation("CaSO4·2H2O -> CaSO4·1/2H2O + 1.5 H2O")
	if err := eq.Check(); err != nil {
		t.Errorf("a balanced equation with fractions: %v", err)
	}
}

func TestEquationRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := func(name string) string {
			var words []string
			for range rapid.IntRange(1, 4).Draw(t, name) {
				n := rapid.SampledFrom([]string{"", "2 ", "0.5 ", "1/3 "}).Draw(t, "coefficient")
				words = append(words, n+drawFormula(t))
			}
			return strings.Join(words, " + ")
		}
		text := side("left") + " -> " + side("right")
		eq, err := ParseEquation(text)
		if err != nil {
			t.Fatalf("ParseEquation(%q): %v", text, err)
		}
		if eq.String() != text {
			t.Fatalf("ParseEquation(%q).String() = %q", text, eq)
		}
	})
}

func FuzzParseReaction(f *testing.F) {
	for _, seed := range []string{
		"Cu(s) + 2 Ag^+ -> Cu^2+ + 2 Ag(s)", "Ag^+ + Cl^- -> AgCl(s)", "2 H2O(l) = 2 H2(g) + O2(g)", "Cu2+ -> Cu", "-> ", "e- -> e-",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		r, err := ParseReaction(text)
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error without words")
			}
			return
		}
		again, err := ParseReaction(r.Text)
		if err != nil || again.Text != r.Text {
			t.Fatalf("%q reads as %q, which reads as %q: %v", text, r.Text, again.Text, err)
		}
	})
}
