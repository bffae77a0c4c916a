package substance

import (
	"testing"

	"afterpour/chem/data"
)

func TestNewSpeciesRefuses(t *testing.T) {
	density, volume := 5.0, 10.0
	cases := map[string]data.Species{
		"no formula":               {Name: "agCl(s)", Density: &density},
		"a metal it does not hold": {Name: "AgCl(s)", Metal: "Cu", Density: &density},
		"a solid without density":  {Name: "AgCl(s)"},
		"an ion without volume":    {Name: "Ag^+"},
	}
	for name, row := range cases {
		if _, err := newSpecies(0, row); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
	sp, err := newSpecies(7, data.Species{Name: "Ag⁺", Metal: "Ag", Volume: &volume})
	if err != nil || sp.Name != "Ag^+" || sp.Phase != Aqueous || sp.ID != 7 || !near(sp.MolarVolume, 0.01, 1e-15) {
		t.Errorf("newSpecies = %+v, %v", sp, err)
	}
}

func TestIsElement(t *testing.T) {
	for text, want := range map[string]bool{"Ag": true, "O2(g)": true, "Ag^+": false, "AgCl": false, "e^-": false} {
		f, err := ParseFormula(text)
		if err != nil {
			t.Fatal(err)
		}
		if f.IsElement() != want {
			t.Errorf("IsElement(%s) = %v", text, !want)
		}
	}
}
