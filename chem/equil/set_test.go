package equil

import (
	"strings"
	"testing"
)

func TestDefinitionFaults(t *testing.T) {
	hydrogen := ComponentRow{Name: "H", Ion: "H+", Size: 9}
	silver := ComponentRow{Name: "Ag", Ion: "Ag+", Size: 2.5}
	chloride := ComponentRow{Name: "Cl", Ion: "Cl-", Size: 3}
	debye := DebyeTable{TemperatureC: []float64{0, 100}, A: []float64{0.5, 0.6}, B: []float64{0.3, 0.3}, Bdot: []float64{0, 0}}
	nan := 0.0
	nan /= nan
	tests := map[string]struct {
		d    Definition
		want string
	}{
		"no model":        {Definition{Activity: "guesswork"}, "activity model"},
		"no hydrogen":     {Definition{Activity: "ideal", Components: []ComponentRow{silver}}, "first component"},
		"no table":        {Definition{Activity: "davies", Components: []ComponentRow{hydrogen}}, "incomplete"},
		"table unordered": {Definition{Activity: "davies", Components: []ComponentRow{hydrogen}, Debye: DebyeTable{TemperatureC: []float64{9, 1}, A: []float64{1, 1}}}, "order"},
		"no ion size":     {Definition{Activity: "b-dot", Debye: debye, Components: []ComponentRow{hydrogen, {Name: "Ag", Ion: "Ag+"}}}, "ion size"},
		"twice":           {Definition{Activity: "ideal", Components: []ComponentRow{hydrogen, silver, silver}}, "twice"},
		"charge off":      {Definition{Activity: "ideal", Components: []ComponentRow{hydrogen, silver, chloride}, Species: []ConstantRow{{Name: "AgCl+", Reaction: "Ag+ + Cl- = AgCl+"}}}, "charge"},
		"stranger":        {Definition{Activity: "ideal", Components: []ComponentRow{hydrogen, silver}, Species: []ConstantRow{{Name: "AgBr", Reaction: "Ag+ + Br- = AgBr"}}}, "Br-"},
		"wrong side":      {Definition{Activity: "ideal", Components: []ComponentRow{hydrogen, silver, chloride}, Solids: []ConstantRow{{Name: "AgCl", Reaction: "Ag+ + Cl- = AgCl"}}}, "left"},
		"not finite":      {Definition{Activity: "ideal", Components: []ComponentRow{hydrogen, silver, chloride}, Species: []ConstantRow{{Name: "AgCl", Reaction: "Ag+ + Cl- = AgCl", LogK: nan}}}, "finite"},
		"short law":       {Definition{Activity: "ideal", Components: []ComponentRow{hydrogen, silver, chloride}, Species: []ConstantRow{{Name: "AgCl", Reaction: "Ag+ + Cl- = AgCl", Polynomial: []float64{1, 2}}}}, "five terms"},
	}
	for name, tc := range tests {
		if _, err := tc.d.Set(); err == nil || !strings.Contains(err.Error(), tc.want) {
			t.Errorf("%s: error %v, want one about %q", name, err, tc.want)
		}
	}
}

// TestBorrowedSpecies: a row may be written with a species of an earlier row;
// the constants add up.
func TestBorrowedSpecies(t *testing.T) {
	set := idealSet(t, []ComponentRow{{Name: "Ag", Ion: "Ag+"}, {Name: "NH3", Ion: "NH3"}},
		[]ConstantRow{
			{Name: "NH4+", Reaction: "NH3 + H+ = NH4+", LogK: 9.244},
			{Name: "Ag(NH3)2+", Reaction: "Ag+ + 2 NH4+ = Ag(NH3)2+ + 2 H+", LogK: -11.268},
		},
		[]ConstantRow{{Name: "Ag2O", Reaction: "Ag2O + 2 NH4+ = 2 Ag+ + H2O + 2 NH3", LogK: 1}})
	complex := set.species[len(set.species)-1]
	if got := complex.logK(298.15); !near(got, -11.268+2*9.244, 1e-12) {
		t.Errorf("log K of the complex from silver and ammonia %g, want 7.22", got)
	}
	if len(complex.parts) != 2 {
		t.Errorf("the complex has parts %v, want silver and ammonia", complex.parts)
	}
	// Ag2O + 2 NH4+ = ... with K = 10 is Ag2O + 2 H+ = ... with K = 10 x 10^(2 x 9.244).
	if got := set.solids[0].logK(298.15); !near(got, 1+2*9.244, 1e-12) {
		t.Errorf("log K of the oxide in hydrogen ion %g, want %g", got, 1+2*9.244)
	}
}
