package tui

import (
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestSetOut(t *testing.T) {
	tests := map[string]struct {
		in, want []string
		where    side
	}{
		"points":       {[]string{"1.5", "22", "n/a", "-3.25"}, []string{" 1.5 ", "22   ", "  n/a", "-3.25"}, decimal},
		"doubts":       {[]string{"32.8 ± 4.1", "262 ± 15", "0"}, []string{" 32.8 ±  4.1", "262   ± 15  ", "  0         "}, decimal},
		"left as is":   {[]string{"a", "bcd"}, []string{"a", "bcd"}, left},
		"nothing":      {[]string{"", ""}, []string{"", ""}, decimal},
		"signed money": {[]string{"+74.30", "0.00", "-36.40"}, []string{"+74.30", "  0.00", "-36.40"}, decimal},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			if got := setOut(tt.in, tt.where); !slices.Equal(got, tt.want) {
				t.Errorf("setOut(%q) = %q, want %q", tt.in, got, tt.want)
			}
		})
	}
}

// TestPointsAlign: in every decimal column all points stand in one place.
func TestPointsAlign(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SliceOfN(rapid.Float64Range(-1e6, 1e6), 1, 12).Draw(t, "list")
		texts := make([]string, len(list))
		for i, v := range list {
			texts[i] = significant(v, rapid.IntRange(1, 6).Draw(t, "digits"))
			if !isNumber(texts[i]) {
				texts[i] = "0"
			}
		}
		place := -1
		for _, s := range setOut(texts, decimal) {
			if i := strings.IndexByte(s, '.'); i >= 0 {
				if place >= 0 && i != place {
					t.Fatalf("the points of %q stand at %d and %d", texts, place, i)
				}
				place = i
			}
		}
	})
}
