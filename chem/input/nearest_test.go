package input

import (
	"strings"
	"testing"
)

func TestNearest(t *testing.T) {
	known := []string{"liquid", "temperature", "mass", "share", "lots_per_year", "by"}
	for word, want := range map[string]string{
		"liqiud": "liquid", "Liquid": "liquid", "temprature": "temperature", "mas": "mass", "maas": "mass",
		"shares": "share", "lots-per-year": "lots_per_year", "colour": "", "xyz": "", "": "", strings.Repeat("m", 1000): "",
	} {
		if got := Nearest(word, known); got != want {
			t.Errorf("Nearest(%q) = %q, want %q", word, got, want)
		}
	}
	if got := Nearest("anything", nil); got != "" {
		t.Errorf("Nearest among none = %q", got)
	}
}
