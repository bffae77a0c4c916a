package econ

import (
	"strings"
	"testing"

	"afterpour/chem/route"
	"afterpour/chem/units"
)

// untouchedLot is three litres of acid liquor with 0.1 % silver and 2 % copper,
// ended one way or another without being worked.
func untouchedLot(ending string) route.Outcome {
	return route.Outcome{
		Plan:  route.NewPlan(nil, ending),
		Waste: silverWork().Waste[:1],
	}
}

const liquorSale = `
[sale.silver-liquor]
metal   = "Ag"
form    = "liquor"
payable = "50 %"
fee     = "20.00"
freight = "5.00"
`

func TestEndingsOfTheUntouchedLot(t *testing.T) {
	for name, c := range map[string]struct {
		book, ending string
		net          float64
	}{
		"dispose":                              {smallBook, "dispose", -60}, // 3 L × 4.00 = 12.00, at least 60.00
		"dispose, larger lot than the minimum": {swapped(t, smallBook, `minimum = "60.00"`, `minimum = "10.00"`), "dispose", -12},
		// a year on the shelf at 1.00 a month, then the same disposal
		"hold": {smallBook, "hold", -72},
		// 0.5 × 0.1 % × 3.3 kg = 1.65 g = 0.0530487 ozt × 30.00 − 25.00
		"sell": {smallBook + liquorSale, "sell-as-is", 0.5*3.3e-3/units.TroyOunce.Kilograms()*30 - 25},
	} {
		t.Run(name, func(t *testing.T) {
			b, v := decoded(t, c.book)
			o := untouchedLot(c.ending)
			p := b.PricePlan(&o, v)
			if !p.Priced() {
				t.Fatalf("blocked: %s", p.Blocked.Reason)
			}
			near(t, "net", p.Net.Float(), c.net, 1e-9)
			checkLines(t, &p)
		})
	}
}

func TestSellAsIsNeedsABuyer(t *testing.T) {
	b, v := decoded(t, smallBook)
	o := untouchedLot("sell-as-is")
	p := b.PricePlan(&o, v)
	if p.Priced() || !strings.Contains(p.Blocked.Reason, `form = "liquor"`) {
		t.Errorf("blocked = %+v, want a reason that asks for a buyer's terms", p.Blocked)
	}
}

func TestSellAsIsDisposesOfTheRest(t *testing.T) {
	b, v := decoded(t, smallBook+liquorSale)
	o := silverWork()
	o.Plan = route.NewPlan(o.Plan.Routes, "sell-as-is")
	p := b.PricePlan(&o, v)
	if len(p.Waste) != 1 || p.Waste[0].Class != "slag" {
		t.Errorf("waste = %+v, want the slag alone", p.Waste)
	}
	near(t, "disposal", p.DisposalCost.Float(), 0.20, 1e-9)
}

func TestHoldIsNeverFree(t *testing.T) {
	b, v := decoded(t, without(t, smallBook, "[storage]"))
	o := untouchedLot("hold")
	if p := b.PricePlan(&o, v); p.Priced() || !strings.Contains(p.Blocked.Reason, "[storage]") {
		t.Errorf("got %+v, want a plan blocked for want of a storage price", p.Blocked)
	}
}

func TestUnknownClassGoesWithTheAcidLiquor(t *testing.T) {
	b, v := decoded(t, smallBook)
	o := untouchedLot("dispose")
	o.Waste = append([]route.Waste{{Class: "rinse-water", Volume: 10, Mass: 10}}, o.Waste...)
	p := b.PricePlan(&o, v)
	near(t, "disposal", p.DisposalCost.Float(), 60, 1e-9) // 13 L × 4.00 = 52.00: one minimum for both
	if len(p.Notes) != 1 || !strings.Contains(p.Notes[0], "rinse-water") {
		t.Errorf("notes = %q, want one that names the class", p.Notes)
	}
	sum := p.Waste[0].Cost + p.Waste[1].Cost
	near(t, "costs by class", sum.Float(), 60, 1e-9)
}

func TestNothingLeft(t *testing.T) {
	b, v := decoded(t, smallBook+liquorSale)
	for _, ending := range []string{"dispose", "hold"} {
		o := route.Outcome{Plan: route.NewPlan([]string{"x"}, ending)}
		if p := b.PricePlan(&o, v); !p.Priced() || p.Net != 0 {
			t.Errorf("%s of nothing: %+v", ending, p)
		}
	}
	o := route.Outcome{Plan: route.NewPlan([]string{"x"}, "sell-as-is")}
	if p := b.PricePlan(&o, v); p.Priced() {
		t.Error("nothing was sold as it stands")
	}
}
