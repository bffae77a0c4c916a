package lot

import (
	"fmt"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/substance"
)

func TestDump(t *testing.T) {
	for _, name := range SampleNames() {
		text, _ := Sample(name)
		doc, err := input.Parse(name, text)
		if err != nil {
			t.Fatal(err)
		}
		figs := &input.Figures{}
		l, err := Decode(doc, figs)
		if err != nil {
			t.Fatal(err)
		}
		m, err := l.Model(figs)
		if err != nil {
			t.Fatal(err)
		}
		v := figs.Central()
		r := m.Report(v)
		fmt.Println("==", name, r.Volume, r.VolumeSD, r.PH)
		for _, x := range r.Metals {
			fmt.Printf("%s %.3f±%.3f dis %.3f±%.3f sol %.3f±%.3f p=%.3g %s\n", x.Metal, x.Contained*1000, x.SD*1000, x.Dissolved*1000, x.DissolvedSD*1000, x.Solid*1000, x.SolidSD*1000, x.P, x.Formula)
			for _, e := range x.Estimates {
				fmt.Printf("   %-30s %s %.3f±%.3f w=%.3f\n", e.Label, e.Of, e.Mass*1000, e.SD*1000, e.Weight)
			}
			fmt.Println("  ", x.SolidForms)
		}
		fmt.Printf("acid %+v\n", r.Acid)
		for _, n := range r.Notes {
			fmt.Println("  *", n.Kind, n.Text)
		}
		inv := m.Inventory(v)
		for i, n := range inv.Vessel.Mol {
			if n != 0 {
				fmt.Printf("  %s %.5f", substance.SpeciesID(i).Species().Name, n)
			}
		}
		fmt.Println("\n charge", inv.Vessel.Charge(), inv.Vessel.LiquidVolume())
	}
}

func BenchmarkInventory(b *testing.B) {
	for _, name := range SampleNames() {
		text, _ := Sample(name)
		doc, _ := input.Parse(name, text)
		figs := &input.Figures{}
		l, _ := Decode(doc, figs)
		m, _ := l.Model(figs)
		v := figs.Central()
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for range b.N {
				m.Inventory(v)
			}
		})
	}
}
