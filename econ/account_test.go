package econ

import (
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/route"
)

// The row of an outcome read a second time, over another one, is the row read
// fresh.
func TestEnterStartsAfresh(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		first, second := drawOutcome(r), drawOutcome(r)
		once := accountOf(&first)
		twice := account{layout: once.layout}
		twice.enter(&second, nil)
		twice.enter(&first, nil)
		for i, want := range once.row {
			if i < len(twice.row) && twice.row[i] != want {
				r.Fatalf("place %d holds %v, want %v", i, twice.row[i], want)
			}
		}
	})
}

// Two lots of waste of one class are one: volumes and masses add up, shares are
// those of the whole.
func TestWasteOfOneClass(t *testing.T) {
	o := route.Outcome{Waste: []route.Waste{
		{Class: "slag", Mass: 1, Metals: []route.Share{{Element: "Ag", Share: 0.1}, {Element: "Cu", Share: 0.5}}},
		{Class: "slag", Mass: 3, Volume: 2, Metals: []route.Share{{Element: "Ag", Share: 0.3}}},
	}}
	a := accountOf(&o)
	p := a.layout.waste[0]
	near(t, "mass", a.row[p.kilogram], 4, 1e-12)
	near(t, "volume", a.row[p.litres], 2, 1e-12)
	near(t, "silver", a.row[placeOf(p.shares, "Ag")], 0.25, 1e-12)  // (0.1 + 3 × 0.3)/4
	near(t, "copper", a.row[placeOf(p.shares, "Cu")], 0.125, 1e-12) // 0.5/4
	if placeOf(p.shares, "Pb") >= 0 {
		t.Error("lead has a place and there is none")
	}
}

// Products alike in all that sells them keep places of their own.
func TestProductsAlike(t *testing.T) {
	o := route.Outcome{Products: []route.Product{bar(1, 950), bar(2, 900), {Form: "salt", Metal: "Cu", Mass: 1}, bar(3, 990)}}
	a := accountOf(&o)
	for i, want := range []float64{1, 2, 1, 3} {
		near(t, "mass", a.row[a.layout.products[i].mass], want, 1e-12)
	}
}

// Elements that nobody asks for take no place.
func TestWatchedShares(t *testing.T) {
	o := silverWork()
	a := account{layout: newLayout()}
	a.enter(&o, []string{"Cu"})
	if p := a.layout.products[0]; placeOf(p.shares, "Ag") >= 0 || placeOf(p.shares, "Cu") < 0 {
		t.Errorf("shares of the product: %v, want copper alone", p.shares)
	}
}
