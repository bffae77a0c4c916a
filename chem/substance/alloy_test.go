package substance

import (
	"errors"
	"strings"
	"testing"
)

func TestFindAlloy(t *testing.T) {
	cases := map[string]string{
		"sterling 925": "sterling-925", "Sterling": "sterling-925", "925": "sterling-925", "silver 925": "sterling-925",
		"coin silver 900": "coin-silver-900", "900 silver": "coin-silver-900", "cartridge brass": "cartridge-brass",
		"C26000": "cartridge-brass", "SAC305": "solder-sac305", "brass": "yellow-brass",
	}
	for grade, want := range cases {
		a, err := FindAlloy(grade)
		if err != nil || a.ID != want {
			t.Errorf("FindAlloy(%q) = %q, %v; want %q", grade, a.ID, err, want)
		}
	}
	var unknown *UnknownNameError
	if _, err := FindAlloy("sterlin 925"); !errors.As(err, &unknown) || !strings.Contains(err.Error(), "sterling") {
		t.Errorf("a misspelt grade: %v", err)
	}
	if _, err := FindAlloy(strings.Repeat("x", 100000)); !errors.As(err, &unknown) || len(unknown.Near) != 0 {
		t.Errorf("a wild grade: %d near it", len(unknown.Near))
	}
}

func TestAlloyShares(t *testing.T) {
	a, err := FindAlloy("sterling 925")
	if err != nil {
		t.Fatal(err)
	}
	if got := float64(a.Fraction("Ag")); !near(got, 0.925, 1e-12) {
		t.Errorf("silver in sterling = %g", got)
	}
	if a.Shares[0].Symbol != "Ag" || a.Shares[0].Species != MustFind("Ag(s)") {
		t.Errorf("the largest share comes first: %v", a.Shares)
	}
	contact, err := FindAlloy("silver cadmium oxide")
	if err != nil {
		t.Fatal(err)
	}
	// 10 % CdO holds 10 · 112.41/(112.41 + 15.999) = 8.754 % cadmium.
	if got := float64(contact.Fraction("Cd")); !near(got, 0.1*112.41/(112.41+15.999), 1e-12) {
		t.Errorf("cadmium in Ag-CdO 90/10 = %g", got)
	}
	for _, a := range Alloys() {
		var sum float64
		for _, s := range a.Shares {
			sum += float64(s.Fraction)
		}
		if !(sum > 0 && sum < 1.0001) {
			t.Errorf("%s sums to %g", a.ID, sum)
		}
	}
}
