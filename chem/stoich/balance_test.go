package stoich

import (
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strings"
	"testing"

	"afterpour/chem/substance"

	"pgregory.net/rapid"
)

func TestBalance(t *testing.T) {
	cases := map[string]struct {
		coefficients []int64
		text         string
	}{
		"Cu + Ag^+ -> Cu^2+ + Ag":                            {[]int64{1, 2, 1, 2}, "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag"},
		"Cu + Ag⁺ → Cu²⁺ + Ag":                               {[]int64{1, 2, 1, 2}, "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag"},
		"2 Cu + 7 Ag^+ = Cu^2+ + 3 Ag":                       {[]int64{1, 2, 1, 2}, "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag"},
		"Ag + NO3^- + H^+ -> Ag^+ + NO(g) + H2O(l)":          {[]int64{3, 1, 4, 3, 1, 2}, "3 Ag + NO3^- + 4 H^+ -> 3 Ag^+ + NO(g) + 2 H2O(l)"},
		"Cu + HNO3 -> Cu(NO3)2 + NO2 + H2O":                  {[]int64{1, 4, 1, 2, 2}, "Cu + 4 HNO3 -> Cu(NO3)2 + 2 NO2 + 2 H2O"},
		"MnO4^- + H^+ + e^- -> Mn^2+ + H2O":                  {[]int64{1, 8, 5, 1, 4}, "MnO4^- + 8 H^+ + 5 e^- -> Mn^2+ + 4 H2O"},
		"AgCl + NaOH + C6H12O6 -> Ag + NaCl + C6H12O7 + H2O": {[]int64{2, 2, 1, 2, 2, 1, 1}, "2 AgCl + 2 NaOH + C6H12O6 -> 2 Ag + 2 NaCl + C6H12O7 + H2O"},
		"CuSO4*5H2O -> CuSO4 + H2O":                          {[]int64{1, 1, 5}, "CuSO4·5H2O -> CuSO4 + 5 H2O"},
		"CaSO4·0.5H2O + H2O -> CaSO4·2H2O":                   {[]int64{2, 3, 2}, "2 CaSO4·0.5H2O + 3 H2O -> 2 CaSO4·2H2O"},
		"AgCl(s) -> Ag^+ + Cl^-":                             {[]int64{1, 1, 1}, "AgCl(s) -> Ag^+ + Cl^-"},
		"K4[Fe(CN)6] + H2SO4 + H2O -> K2SO4 + FeSO4 + (NH4)2SO4 + CO": {
			[]int64{1, 6, 6, 2, 1, 3, 6},
			"K4[Fe(CN)6] + 6 H2SO4 + 6 H2O -> 2 K2SO4 + FeSO4 + 3 (NH4)2SO4 + 6 CO",
		},
	}
	for in, want := range cases {
		t.Run(in, func(t *testing.T) {
			got, err := Balance(in)
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(got.Coefficients, want.coefficients) || got.Text != want.text {
				t.Errorf("Balance(%q) = %v, %q; want %v, %q", in, got.Coefficients, got.Text, want.coefficients, want.text)
			}
		})
	}
}

func TestBalanceErrors(t *testing.T) {
	cases := map[string]struct {
		want error
		says string
	}{
		"Cu + Ag^+ -> Cu^2+":                  {ErrNoSolution, "Ag stands on the left only"},
		"Cu -> Ag":                            {ErrNoSolution, "stands on the"},
		"Ag^+ -> Ag":                          {ErrNoSolution, "cannot all be conserved"},
		"Cu^2+ + Ag + Ag^+ -> Cu":             {ErrNoSolution, "Ag^+ stands on the wrong side"},
		"Cu + H2O -> Cu":                      {ErrNoSolution, "H2O in it: it takes no part"},
		"H2O2 -> H2O + O2 + H2":               {ErrManySolutions, "2 independent reactions"},
		"Ag + HNO3 -> AgNO3 + NO + NO2 + H2O": {ErrManySolutions, "2 independent reactions"},
		"H2 + O2 + H2O -> H2O":                {ErrManySolutions, "2 independent reactions"},
	}
	for in, c := range cases {
		t.Run(in, func(t *testing.T) {
			_, err := Balance(in)
			if !errors.Is(err, c.want) || !strings.Contains(err.Error(), c.says) {
				t.Errorf("Balance(%q) = %v, want %v saying %q", in, err, c.want, c.says)
			}
		})
	}
	var syntax *substance.SyntaxError
	if _, err := Balance("Cu + -> Ag"); !errors.As(err, &syntax) {
		t.Errorf("a text that does not parse: %v", err)
	}
	huge := "H999983 + O999979C999961 + N999959Na999953 + Cl999931Ag -> H999917O999907N999883Cl999863 + C + Na + Ag"
	if _, err := Balance(huge); !errors.Is(err, ErrTooLarge) {
		t.Errorf("a coefficient beyond int64: %v, want %v", err, ErrTooLarge)
	}
}

// checkConserved counts both sides with the coefficients.
func checkConserved(b Balanced) error {
	eq := b.Equation
	if len(b.Coefficients) != len(eq.Left)+len(eq.Right) {
		return fmt.Errorf("%d coefficients", len(b.Coefficients))
	}
	divisor := new(big.Int)
	for i, n := range b.Coefficients {
		if n < 1 {
			return fmt.Errorf("coefficient %d", n)
		}
		term(eq, i).Coefficient = big.NewRat(n, 1)
		divisor.GCD(nil, nil, divisor, big.NewInt(n))
	}
	if divisor.Cmp(big.NewInt(1)) != 0 {
		return fmt.Errorf("%v have the common divisor %s", b.Coefficients, divisor)
	}
	return eq.Check()
}

// TestBalanceConserves takes a reaction that is known to balance, forgets its coefficients and shuffles its terms: it must
// balance, conserve everything, and balance to the same again.
func TestBalanceConserves(t *testing.T) {
	var known []substance.Reaction
	for _, d := range substance.DissolvingReactions() {
		if !d.Untouched {
			known = append(known, d.Reaction)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		reaction := rapid.SampledFrom(known).Draw(t, "reaction")
		text := shuffled(t, reaction, -1) + " -> " + shuffled(t, reaction, 1)
		b, err := Balance(text)
		if err != nil {
			t.Fatalf("Balance(%q): %v", text, err)
		}
		if err := checkConserved(b); err != nil {
			t.Fatalf("Balance(%q) = %q: %v", text, b.Text, err)
		}
		again, err := Balance(b.Text)
		if err != nil || !slices.Equal(again.Coefficients, b.Coefficients) {
			t.Fatalf("%q balances again to %v, %v", b.Text, again.Coefficients, err)
		}
	})
}

// shuffled writes one side of a reaction without coefficients, in any order.
func shuffled(t *rapid.T, r substance.Reaction, side float64) string {
	var names []string
	for _, term := range r.Terms {
		if term.Nu*side > 0 {
			names = append(names, term.Species.Species().Name)
		}
	}
	return strings.Join(rapid.Permutation(names).Draw(t, "side"), " + ")
}

// TestBalanceAnything draws sets of substances that rarely react: what comes back is balanced, or one of the two
// refusals.
func TestBalanceAnything(t *testing.T) {
	formulas := []string{
		"Ag", "Ag^+", "Cu", "Cu^2+", "Zn", "Zn^2+", "Fe^2+", "Fe^3+", "H^+", "H2", "OH^-", "H2O", "O2", "e^-", "CuSO4·5H2O", "SO4^2-",
	}
	rapid.Check(t, func(t *rapid.T) {
		pick := rapid.Permutation(formulas).Draw(t, "formulas")
		n := rapid.IntRange(2, 5).Draw(t, "substances")
		cut := rapid.IntRange(1, n-1).Draw(t, "left")
		text := strings.Join(pick[:cut], " + ") + " -> " + strings.Join(pick[cut:n], " + ")
		b, err := Balance(text)
		if err == nil {
			err = checkConserved(b)
		}
		if err != nil && !errors.Is(err, ErrNoSolution) && !errors.Is(err, ErrManySolutions) {
			t.Fatalf("Balance(%q): %v", text, err)
		}
	})
}

// TestBalanceTable: every dissolving reaction of the tables, stripped of its coefficients, balances back to itself.
func TestBalanceTable(t *testing.T) {
	for _, d := range substance.DissolvingReactions() {
		if d.Untouched {
			continue
		}
		bare, err := substance.ParseEquation(d.Reaction.Text)
		if err != nil {
			t.Fatal(err)
		}
		for _, side := range [][]substance.EquationTerm{bare.Left, bare.Right} {
			for i := range side {
				side[i].Coefficient = big.NewRat(1, 1)
			}
		}
		b, err := Balance(bare.String())
		if err != nil || b.Text != d.Reaction.Text {
			t.Errorf("%s: Balance gives %q, %v; the table has %q", d.ID, b.Text, err, d.Reaction.Text)
		}
	}
}

func FuzzBalance(f *testing.F) {
	for _, seed := range []string{
		"Cu + Ag^+ -> Cu^2+ + Ag", "MnO4^- + H^+ + e^- -> Mn^2+ + H2O", "H2O2 -> H2O + O2 + H2", "Cu -> Ag", "e^- -> e^-", "CaSO4·1/3H2O -> CaSO4 + H2O",
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		b, err := Balance(text)
		if err != nil {
			if err.Error() == "" {
				t.Fatal("an error without words")
			}
			return
		}
		if err := checkConserved(b); err != nil {
			t.Fatalf("Balance(%q) = %q: %v", text, b.Text, err)
		}
	})
}

// ExampleBalance is the iodometric copper reaction.
// Source: OpenStax Chemistry 2e, chapter 4 end-of-chapter exercise 57.
func ExampleBalance() {
	b, err := Balance("Cu(NO3)2 + KI -> CuI + I2 + KNO3")
	fmt.Println(b.Text, err)
	// Output: 2 Cu(NO3)2 + 4 KI -> 2 CuI + I2 + 4 KNO3 <nil>
}
