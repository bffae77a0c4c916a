package lot

import (
	"sync"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/substance"
)

func BenchmarkInventory(b *testing.B) {
	for _, name := range SampleNames() {
		lot := sample(b, name)
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				lot.model.Inventory(lot.values)
			}
		})
	}
}

func BenchmarkReport(b *testing.B) {
	lot := sample(b, "chloride-settled")
	for range b.N {
		lot.model.Report(lot.values)
	}
}

// Any number of goroutines may ask for inventories; values are not changed.
func TestInventoryConcurrent(t *testing.T) {
	b := sample(t, "chloride-settled")
	before := append(input.Values(nil), b.values...)
	ions := substance.MustFind("Ag^+")
	want := b.inv.Vessel.Mol[ions]
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			for range 50 {
				if got := b.model.Inventory(b.values).Vessel.Mol[ions]; got != want {
					t.Errorf("silver %g mol, want %g", got, want)
				}
			}
		})
	}
	wait.Wait()
	for i := range before {
		if before[i] != b.values[i] {
			t.Errorf("value %d was changed", i)
		}
	}
}

// Every doubtful input of the lot is named, and the vessel carries them all.
func TestInventoryInputs(t *testing.T) {
	b := sample(t, "nitrate-liquor")
	for _, ref := range b.lot.Figures() {
		if !b.inv.Vessel.Inputs.Has(ref) {
			t.Errorf("the vessel does not carry %s", b.figs.Get(ref).ID)
		}
	}
	if len(b.report.Assumed) == 0 {
		t.Error("nothing is called assumed")
	}
	for _, ref := range b.report.Assumed {
		if fig := b.figs.Get(ref); fig.Origin != input.Assumed || fig.Source == "" {
			t.Errorf("%s: %+v", fig.ID, fig)
		}
	}
}

// A model made again from the same figures gives the same inventory.
func TestModelTwice(t *testing.T) {
	b := sample(t, "chloride-settled")
	n := b.figs.Len()
	again, err := b.lot.Model(b.figs)
	if err != nil {
		t.Fatal(err)
	}
	if b.figs.Len() != n {
		t.Errorf("%d figures became %d", n, b.figs.Len())
	}
	got := again.Inventory(b.figs.Central()).Vessel.Mol
	for i, want := range b.inv.Vessel.Mol {
		near(t, substance.SpeciesID(i).Species().Name, got[i], want, 1e-9)
	}
}
