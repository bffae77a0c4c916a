package data

import (
	"math"
	"testing"
)

// TestConstants holds the derived constants against the figures printed in CODATA 2018.
func TestConstants(t *testing.T) {
	cases := map[string]struct{ got, want float64 }{
		"Faraday, C/mol":       {Faraday, 96485.33212},
		"gas constant, J/molK": {GasConstant, 8.314462618},
	}
	for name, c := range cases {
		if math.Abs(c.got/c.want-1) > 1e-10 {
			t.Errorf("%s = %.12g, CODATA prints %.12g", name, c.got, c.want)
		}
	}
}
