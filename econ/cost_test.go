package econ

import (
	"math"
	"strings"
	"testing"

	"afterpour/chem/route"
	"afterpour/chem/units"
)

// The hand calculation of silverWork with smallBook.
//
//	revenue      0.94 × 2 ozt × 30.00                        =  56.40
//	fees         25.00 + 12.00                               =  37.00
//	reagents     lye  (0.200 + 0.100 − 0.050) kg × 9.00      =   2.25
//	             acid 0.1 L × 20.00                          =   2.00
//	energy       1.5 kWh × 0.20 + 0.5 kWh × 0.12             =   0.36
//	labour       4 h × 20.00                                 =  80.00
//	consumables  4 × 15.00 / 100                             =   0.60
//	disposal     3 L × 4.00 = 12.00, at least 60.00          =  60.00
//	             0.1 kg × 2.00                               =   0.20
//	net          56.40 − 37 − 4.25 − 0.36 − 80 − 0.60 − 60.20 = −126.01
//	without own labour                                       =  −46.01
//	per hands-on hour           −46.01 / 4                   =  −11.5025
func TestPricePlanByHand(t *testing.T) {
	b, v := decoded(t, smallBook)
	o := silverWork()
	p := b.PricePlan(&o, v)
	if !p.Priced() {
		t.Fatalf("blocked: %s", p.Blocked.Reason)
	}
	for what, c := range map[string]struct{ got, want float64 }{
		"revenue":            {p.Revenue.Float(), 56.40},
		"fees":               {p.Fees.Float(), 37.00},
		"reagents":           {p.ReagentCost.Float(), 4.25},
		"energy":             {p.EnergyCost.Float(), 0.36},
		"labour":             {p.LabourCost.Float(), 80},
		"consumables":        {p.ConsumableCost.Float(), 0.60},
		"disposal":           {p.DisposalCost.Float(), 60.20},
		"storage":            {p.StorageCost.Float(), 0},
		"net":                {p.Net.Float(), -126.01},
		"net without labour": {p.NetWithoutLabour.Float(), -46.01},
		"per hour":           {p.PerHour.Float(), -11.5025},
		"hands-on hours":     {p.HandsOnH, 4},
		"elapsed hours":      {p.ElapsedH, 8},
		"energy in kWh":      {p.EnergyKWh, 2},
		"fresh air":          {p.FreshAirM3, 2000},
		"largest volume":     {p.LargestVolume.Litres(), 1.8},
		"gas":                {p.Gases[0].Mass.Grams(), 4},
		"payable":            {p.Products[0].PayableMass.TroyOunces(), 1.88},
		"recovered":          {p.Products[0].MetalMass.TroyOunces(), 2},
		"share on hand":      {p.Reagents[0].OnHand, 1.0 / 6},
		"liquor cost":        {p.Waste[0].Cost.Float(), 60},
	} {
		near(t, what, c.got, c.want, 1e-9)
	}
	checkLines(t, &p)
}

// checkLines asserts what every priced plan must keep to: each line is quantity
// × price and names a price, and the lines add up to the net.
func checkLines(t testing.TB, p *PricedPlan) {
	t.Helper()
	var revenue, costs, labour Money
	for _, l := range p.Lines {
		near(t, p.ID+" "+l.Item+": quantity × price", l.Quantity*l.Price, l.Amount.Float(), 1e-9)
		if !(l.Amount >= 0) || math.IsInf(l.Amount.Float(), 0) {
			t.Errorf("%s: line %q has amount %v", p.ID, l.Item, l.Amount)
		}
		if !strings.HasPrefix(l.PriceID, "price/") || l.Item == "" || l.Why.Formula == "" {
			t.Errorf("%s: line %q cannot be traced: price %q, formula %q", p.ID, l.Item, l.PriceID, l.Why.Formula)
		}
		if l.Category == Revenue {
			revenue += l.Amount
			continue
		}
		costs += l.Amount
		if l.Category == Labour {
			labour += l.Amount
		}
	}
	near(t, p.ID+": net", p.Net.Float(), (revenue - costs).Float(), 1e-9)
	near(t, p.ID+": net without labour", p.NetWithoutLabour.Float(), (p.Net + labour).Float(), 1e-9)
}

func TestMissingPricesBlock(t *testing.T) {
	for name, c := range map[string]struct{ header, want string }{
		"spot":       {"[spot.Ag]", "spot price of Ag"},
		"reagent":    {"[reagent.sulfuric-acid]", "reagent.sulfuric-acid"},
		"consumable": {"[consumable.filter-paper]", "consumable.filter-paper"},
		"energy":     {"[energy]", "electricity"},
		"labour":     {"[labour]", "[labour]"},
		"carrier":    {"[disposal.acid-metal-liquor]", "disposal.acid-metal-liquor"},
	} {
		t.Run(name, func(t *testing.T) {
			b, v := decoded(t, without(t, smallBook, c.header))
			o := silverWork()
			p := b.PricePlan(&o, v)
			if p.Priced() {
				t.Fatalf("priced at %v without %s", p.Net, c.header)
			}
			if !strings.Contains(p.Blocked.Reason, c.want) {
				t.Errorf("reason %q does not name %q", p.Blocked.Reason, c.want)
			}
			if p.Net != 0 || p.Lines != nil {
				t.Errorf("a blocked plan has money: net %v, %d lines", p.Net, len(p.Lines))
			}
			if o.Blocked != nil {
				t.Error("pricing changed the ledger")
			}
		})
	}
}

func TestMissingPricesAreAllNamed(t *testing.T) {
	b, v := decoded(t, without(t, without(t, smallBook, "[labour]"), "[reagent.sulfuric-acid]"))
	o := silverWork()
	p := b.PricePlan(&o, v)
	for _, want := range []string{"[labour]", "reagent.sulfuric-acid"} {
		if !strings.Contains(p.Blocked.Reason, want) {
			t.Errorf("reason %q does not name %q", p.Blocked.Reason, want)
		}
	}
}

func TestChemicalBlockStays(t *testing.T) {
	b, v := decoded(t, smallBook)
	o := silverWork()
	o.Blocked = &route.Block{Step: "cement", Reason: "the chloride has locked the silver", Unreachable: map[string]float64{"Ag": 0.99}}
	p := b.PricePlan(&o, v)
	if p.Priced() || p.Blocked.Step != "cement" || p.Net != 0 || p.Lines != nil {
		t.Errorf("got %+v", p)
	}
}

func TestTooLargeIsBlockedNotInfinite(t *testing.T) {
	b, v := decoded(t, smallBook)
	o := silverWork()
	o.Products[0].MetalMass = units.Mass(math.MaxFloat64)
	p := b.PricePlan(&o, v)
	if p.Priced() || p.Net != 0 {
		t.Errorf("net = %v, want a blocked plan", p.Net)
	}
}
