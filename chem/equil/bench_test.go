package equil

import (
	"testing"

	"afterpour/chem/substance"
)

// TestBenchTable: every row finds its species, every solid and component that
// it names is in some set, and the dissolving reaction of a solid agrees with
// the one that the sets hold, component by component.
func TestBenchTable(t *testing.T) {
	b, err := loadBench()
	if err != nil {
		t.Fatal(err)
	}
	set := mustSet(t, DefaultSet)
	for _, solid := range b.Solids {
		k := set.solidIndex(solid.Name)
		if k < 0 {
			t.Errorf("%s is not in the reviewed set", solid.Name)
			continue
		}
		for _, part := range set.solids[k].parts {
			component := set.components[part.component]
			if component.name == hydrogen {
				continue
			}
			nu := 0.0
			for _, term := range solid.reaction.Terms {
				if i := b.ionRow[term.Species]; i >= 0 && b.Ions[i].Component == component.name {
					nu = term.Nu
				}
			}
			if !near(nu, part.count, 1e-12) {
				t.Errorf("%s dissolves to %g %s here, %g in the set", solid.Name, nu, component.name, part.count)
			}
		}
	}
	for _, ion := range b.Ions {
		i := set.componentIndex(ion.Component)
		if i < 0 {
			t.Errorf("%s is not in the reviewed set", ion.Component)
			continue
		}
		if got := float64(ion.id.Species().Charge); !near(got, set.components[i].charge, 0) {
			t.Errorf("%s has charge %g, its species %s %g", ion.Component, set.components[i].charge, ion.Species, got)
		}
	}
	if len(substance.AllSpecies()) != len(b.ionRow) {
		t.Errorf("%d species indexed of %d", len(b.ionRow), len(substance.AllSpecies()))
	}
}

// TestWarmAllocatesNothing pins that the kernel makes no garbage, cold or warm.
func TestWarmAllocatesNothing(t *testing.T) {
	solver, q, err := mustSet(t, DefaultSet).prepare(Problem{
		TemperatureC: 25, Allowed: []string{"AgCl"},
		Total: map[string]float64{"Cu": 0.3, "Ag": 0.01, "NO3": 2.61, "Na": 1, "Cl": 1},
	})
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	if got := testing.AllocsPerRun(50, func() {
		n++
		if n%2 == 0 {
			solver.Reset()
		}
		if st, err := solver.Solve(q); err != nil || !st.Converged {
			t.Fatal(st, err)
		}
	}); got > 0 {
		t.Errorf("%g allocations a solve, want none", got)
	}
}
