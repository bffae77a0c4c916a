package stoich

import (
	"errors"
	"fmt"
	"math"
	"testing"
)

func TestAnalysisErrors(t *testing.T) {
	bad := []float64{0, -1, math.NaN(), math.Inf(1)}
	for _, v := range bad {
		if _, err := Dilution(1, 1, concentration(v)); !errors.Is(err, ErrQuantity) {
			t.Errorf("Dilution to %g: %v", v, err)
		}
		if _, err := Titration(1, 1, v, 1); !errors.Is(err, ErrQuantity) {
			t.Errorf("Titration with ratio %g: %v", v, err)
		}
	}
	if _, err := GravimetricFactor("Ag", "NaCl", "Ag"); !errors.Is(err, ErrQuantity) {
		t.Errorf("silver weighed as salt: %v", err)
	}
	for _, pair := range [][2]string{{"ag", "AgCl"}, {"Ag", "agCl"}} {
		if _, err := GravimetricFactor(pair[0], pair[1], "Ag"); err == nil {
			t.Errorf("GravimetricFactor(%v) took a formula that does not parse", pair)
		}
	}
}

// ExampleGravimetricFactor is the silver in dry silver chloride.
// Source: atomic weights, 107.87/(107.87 + 35.45).
func ExampleGravimetricFactor() {
	f, err := GravimetricFactor("Ag", "AgCl", "Ag")
	fmt.Printf("%.4f %v\n", f, err)
	// Output: 0.7527 <nil>
}

// ExampleDilution fills 11 mL of 0.45 mol/L up to 0.12 mol/L.
// Source: OpenStax Chemistry 2e, Example 3.20.
func ExampleDilution() {
	v, err := Dilution(0.45, 0.011, 0.12)
	fmt.Printf("%.3f L %v\n", v.Litres(), err)
	// Output: 0.041 L <nil>
}

// ExampleTitration is 50.00 mL of hydrochloric acid that takes 35.23 mL of 0.250 mol/L sodium hydroxide.
// Source: OpenStax Chemistry 2e, Example 4.14.
func ExampleTitration() {
	c, err := Titration(0.250, 0.03523, 1, 0.05000)
	fmt.Printf("%.3f mol/L %v\n", c.MolesPerLitre(), err)
	// Output: 0.176 mol/L <nil>
}
