package econ

import (
	"strings"
	"testing"

	"afterpour/chem/route"
	"afterpour/chem/units"
)

// sold prices a plan that does nothing but sell one product.
func sold(t *testing.T, book string, p route.Product) PricedPlan {
	t.Helper()
	b, v := decoded(t, book)
	o := route.Outcome{Plan: route.NewPlan([]string{"x"}, "dispose"), Products: []route.Product{p}}
	return b.PricePlan(&o, v)
}

func bar(mass units.Mass, fineness float64) route.Product {
	return route.Product{Form: "bar", Sale: "silver-bar", Metal: "Ag", Mass: mass, MetalMass: mass * units.Mass(fineness/1000), Fineness: fineness}
}

func TestBuyerByFineness(t *testing.T) {
	for name, c := range map[string]struct {
		product route.Product
		sale    string
		net     float64 // by hand, see below
	}{
		// 10 ozt at 950: bar 0.94 × 9.5 × 30 − 37 = 230.90; scrap 0.80 × 9.5 × 30 − 52 = 176.00
		"fine":          {bar(10*units.TroyOunce, 950), "silver-bar", 230.90},
		"at the window": {bar(10*units.TroyOunce, 900), "silver-bar", 216.80}, // 0.94 × 9 × 30 − 37
		// 10 ozt at 800: only scrap takes it: 0.80 × 8 × 30 − 52 = 140.00
		"below": {bar(10*units.TroyOunce, 800), "silver-scrap", 140},
	} {
		t.Run(name, func(t *testing.T) {
			p := sold(t, smallBook, c.product)
			if !p.Priced() {
				t.Fatalf("blocked: %s", p.Blocked.Reason)
			}
			if got := p.Products[0].Sale; got != c.sale {
				t.Errorf("sold as %q, want %q", got, c.sale)
			}
			near(t, "net", p.Net.Float(), c.net, 1e-9)
			checkLines(t, &p)
		})
	}
}

func TestNoBuyerBlocksWithReason(t *testing.T) {
	p := sold(t, smallBook, bar(10*units.TroyOunce, 400))
	if p.Priced() {
		t.Fatalf("sold at %v", p.Net)
	}
	for _, want := range []string{"silver bar takes 900 to 1000 fine", "silver scrap takes 500 to 1000 fine", "400"} {
		if !strings.Contains(p.Blocked.Reason, want) {
			t.Errorf("reason %q lacks %q", p.Blocked.Reason, want)
		}
	}
	p = sold(t, smallBook, route.Product{Form: "cathode", Metal: "Cu", Mass: 1, MetalMass: 1, Fineness: 999})
	if p.Priced() || !strings.Contains(p.Blocked.Reason, `form = "cathode"`) {
		t.Errorf("blocked = %+v, want the sale that is missing", p.Blocked)
	}
}

func TestBestOfTwoBuyers(t *testing.T) {
	// The scrap buyer takes bars too. With a lower fee he leaves more of a small bar:
	// 0.1 ozt pure: bar 2.82 − 37 = −34.18, scrap 2.40 − 12 − 1 = −10.60.
	book := swapped(t, smallBook, `fee      = "40.00"`, `fee      = "1.00"`)
	p := sold(t, book, bar(0.1*units.TroyOunce, 1000))
	if p.Products[0].Sale != "silver-scrap" {
		t.Errorf("sold as %q, want silver-scrap", p.Products[0].Sale)
	}
	near(t, "net", p.Net.Float(), -10.60, 1e-9)
}

func TestPenaltyMinimumAndLimit(t *testing.T) {
	cement := func(pb, hg units.MassFraction) route.Product {
		return route.Product{
			Form: "cement", Sale: "copper-cement", Metal: "Cu", Mass: 2, MetalMass: 1.6, Fineness: 800,
			Composition: []route.Share{{Element: "Cu", Share: 0.8}, {Element: "Pb", Share: pb}, {Element: "Hg", Share: hg}},
		}
	}
	// revenue 0.6 × 1.6 kg × 10.00 = 9.60; penalty (3 % − 1 %) × 2 kg × 5.00 = 0.20; made up to the least charge of 8.00.
	p := sold(t, smallBook, cement(0.03, 0))
	near(t, "revenue", p.Revenue.Float(), 9.60, 1e-9)
	near(t, "fees", p.Fees.Float(), 8.00, 1e-9)
	checkLines(t, &p)
	// penalty (91 % − 1 %) × 2 kg × 5.00 = 9.00 is more than the least charge.
	p = sold(t, smallBook, cement(0.91, 0))
	near(t, "fees", p.Fees.Float(), 9.00, 1e-9)
	p = sold(t, smallBook, cement(0, 0.002))
	if p.Priced() || !strings.Contains(p.Blocked.Reason, "Hg") {
		t.Errorf("blocked = %+v, want the mercury limit", p.Blocked)
	}
}

func TestSaltByItsOwnMass(t *testing.T) {
	salt := route.Product{Form: "salt", Sale: "copper-sulfate", Metal: "Cu", Compound: "CuSO4*5H2O", Mass: 0.5, MetalMass: 0.127, Fineness: 990}
	p := sold(t, smallBook, salt)
	near(t, "revenue", p.Revenue.Float(), 3.00, 1e-9) // 0.5 kg × 6.00
	near(t, "fees", p.Fees.Float(), 10, 1e-9)
	if p.Products[0].ByMetal {
		t.Error("a salt paid by its own mass counts as paid by metal")
	}
	salt.Compound = "Cu(OH)2"
	if p = sold(t, smallBook, salt); p.Priced() {
		t.Error("another salt was sold as copper sulfate")
	}
}

func TestOneFeeForProductsOfOneSale(t *testing.T) {
	b, v := decoded(t, smallBook)
	o := route.Outcome{Plan: route.NewPlan([]string{"x", "y"}, "dispose"), Products: []route.Product{bar(units.TroyOunce, 950), bar(3*units.TroyOunce, 980)}}
	p := b.PricePlan(&o, v)
	near(t, "fees", p.Fees.Float(), 37, 1e-9)
	near(t, "revenue", p.Revenue.Float(), 0.94*30*(0.95+2.94), 1e-9)
	checkLines(t, &p)
}

func TestOwnUseIsASale(t *testing.T) {
	book := smallBook + `
[sale.silver-for-plating]
metal   = "Ag"
form    = "own use"
payable = "100 %"
`
	p := sold(t, book, bar(units.TroyOunce, 950))
	if p.Products[0].Sale != "silver-for-plating" {
		t.Errorf("sold as %q", p.Products[0].Sale)
	}
	near(t, "net", p.Net.Float(), 28.5, 1e-9) // 0.95 ozt × 30.00
}
