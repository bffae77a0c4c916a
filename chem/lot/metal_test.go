package lot

import (
	"slices"
	"testing"
)

func TestSortMetals(t *testing.T) {
	got := []string{"Zn", "P", "Ag", "Cu", "Au", "In"}
	sortMetals(got)
	if want := []string{"Au", "Ag", "Cu", "Zn", "In", "P"}; !slices.Equal(got, want) {
		t.Errorf("sortMetals = %v, want %v", got, want)
	}
}

// Every usual form is in the registry and holds its metal.
func TestUsualForms(t *testing.T) {
	for symbol := range usualForms {
		m := newMetal(symbol)
		if !m.soluble {
			t.Errorf("%s: its ion is not in the registry", symbol)
		}
		if m.ion.Species().Formula.Atoms(symbol) == 0 || m.hydroxide.Species().Formula.Atoms(symbol) == 0 {
			t.Errorf("%s: %s and %s do not both hold it", symbol, m.ion.Species().Name, m.hydroxide.Species().Name)
		}
		if !(m.molar > 0) || len(m.forms) < 2 {
			t.Errorf("%s: %+v", symbol, m)
		}
	}
	for _, symbol := range lessNobleThanSilver {
		if _, known := usualForms[symbol]; !known {
			t.Errorf("%s has no usual form", symbol)
		}
	}
}
