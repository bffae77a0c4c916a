package econ

import (
	"testing"

	"afterpour/chem/units"
)

func TestPerUnit(t *testing.T) {
	for text, c := range map[string]struct {
		kind units.Kind
		per  string
		size float64
	}{
		"30.00 / ozt":           {units.PerMassKind, "ozt", 0.0311034768},
		"30 +/- 2 / ozt":        {units.PerMassKind, "ozt", 0.0311034768},
		"30.00 / ozt +/- 5 %":   {units.PerMassKind, "ozt", 0.0311034768},
		"9.00/kg":               {units.PerMassKind, "kg", 1},
		"9.00\u00a0/\u00a0g":    {units.PerMassKind, "g", 0.001},
		"0.20 / kWh":            {units.PerEnergyKind, "kWh", 1},
		"1.00 / month":          {units.PerHourKind, "month", 730.5},
		"4.00 / gal":            {units.PerVolumeKind, "gal", 3.785411784},
		"25.00":                 {units.Number, "", 1},
		"30.00 per troy ounce?": {units.PerMassKind, "kg", 1},
	} {
		per, size := perUnit(c.kind, text)
		if per != c.per {
			t.Errorf("perUnit(%q) = %q, want %q", text, per, c.per)
		}
		near(t, "size in "+text, size, c.size, 1e-9)
	}
}

func TestTypedDoubtIsKept(t *testing.T) {
	b, _ := decoded(t, swapped(t, smallBook, "30.00 / ozt", "30.00 ± 2.00 / ozt"))
	p := b.spots["Ag"]
	near(t, "doubt", b.figures.Get(p.Ref).Dist.SD*p.Size, 2, 1e-9)
	if p.Per != "ozt" {
		t.Errorf("unit %q", p.Per)
	}
}

// A price with no typed doubt gets the doubt of its kind: a share never leaves
// 0 to 1, a price never falls below zero, an own decision has none.
func TestAssumedDoubts(t *testing.T) {
	b, _ := decoded(t, smallBook)
	for path, want := range map[string]float64{
		"spot.Ag.price": 3, "sale.silver-bar.payable": 0.01, "sale.silver-bar.fee": 1.25, "labour.rate": 0,
		"reagent.sodium-hydroxide.price": 0.9, "disposal.acid-metal-liquor.price": 0.8, "storage.price": 0.1, "energy.electricity": 0.01,
	} {
		p, err := b.Find(path)
		if err != nil {
			t.Fatal(err)
		}
		fig := b.figures.Get(p.Ref)
		near(t, path+": doubt", fig.Dist.SD*p.Size, want, 1e-9)
		for _, q := range []float64{0.0001, 0.5, 0.9999} {
			x := fig.Dist.Quantile(q)
			if !(x >= 0) || fig.Kind == units.Fraction && x > 1 {
				t.Errorf("%s: quantile %g is %v", path, q, x)
			}
		}
		if fig.Source == "" {
			t.Errorf("%s does not say where its doubt comes from", path)
		}
	}
}

func TestCheckPrice(t *testing.T) {
	b, _ := decoded(t, smallBook)
	p, err := b.Find("silver")
	if err != nil {
		t.Fatal(err)
	}
	for text, right := range map[string]bool{
		"31 / ozt": true, "28..32 / ozt": true, "31 ± 5 % / ozt": true, "0 / kg": true,
		"": false, "31": false, "31 /": false, "31 / h": false, "-1 / ozt": false, "94 %": false, "1e13 / kg": false,
	} {
		if err := p.Check(text); (err == nil) != right {
			t.Errorf("Check(%q) = %v", text, err)
		}
	}
}
