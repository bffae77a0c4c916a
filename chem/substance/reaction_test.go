package substance

import (
	"errors"
	"testing"
)

func TestParseReaction(t *testing.T) {
	r, err := ParseReaction("Cu + 2 Ag⁺ -> Cu²⁺ + 2 Ag")
	if err != nil {
		t.Fatal(err)
	}
	if want := "Cu(s) + 2 Ag^+ -> Cu^2+ + 2 Ag(s)"; r.Text != want {
		t.Errorf("Text = %q, want %q", r.Text, want)
	}
	for name, want := range map[string]float64{"Cu(s)": -1, "Ag^+": -2, "Cu^2+": 1, "Ag(s)": 2, "Cl^-": 0} {
		if got := r.Nu(MustFind(name)); !near(got, want, 1e-15) {
			t.Errorf("Nu(%s) = %g, want %g", name, got, want)
		}
	}
}

// TestParseReactionBothSides: what stands on both sides counts by the difference.
func TestParseReactionBothSides(t *testing.T) {
	r, err := ParseReaction("3 H2O(l) + Ag^+ + Cl^- -> AgCl(s) + 3 H2O(l)")
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Terms) != 3 {
		t.Errorf("%d terms, want 3: %v", len(r.Terms), r.Terms)
	}
}

func TestParseReactionErrors(t *testing.T) {
	cases := map[string]error{
		"Cu(s) + Ag^+ -> Cu^2+ + Ag(s)": ErrUnbalanced,
		"Ag^+ + Br^- -> AgBr(s)":        ErrUnknownSpecies,
		"UO2(s) -> U(s) + O2(g)":        ErrUnknownSpecies,
	}
	for text, want := range cases {
		if _, err := ParseReaction(text); !errors.Is(err, want) {
			t.Errorf("ParseReaction(%q) = %v, want %v", text, err, want)
		}
	}
	var e *SyntaxError
	if _, err := ParseReaction("Cu -> "); !errors.As(err, &e) {
		t.Errorf("a text that does not parse: %v", err)
	}
}

func TestMustReactionPanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("MustReaction took an unbalanced reaction")
		}
	}()
	MustReaction("Cu(s) -> Cu^2+")
}
