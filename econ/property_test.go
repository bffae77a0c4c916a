package econ

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// drawOutcome makes a ledger of any size that the default book can price, with
// one to three products and any amounts of what a plan may take.
func drawOutcome(t *rapid.T) route.Outcome {
	amount := func(name string) float64 { return rapid.Float64Range(0, 5000).Draw(t, name) }
	o := route.Outcome{Plan: route.NewPlan([]string{"x"}, rapid.SampledFrom([]string{"dispose", "hold"}).Draw(t, "ending"))}
	step := route.StepRecord{Entries: []route.Entry{
		{Kind: route.HandsOn, Amount: amount("hours") / 100},
		{Kind: route.Electricity, Amount: amount("kWh") / 10},
		{Kind: route.Fuel, Amount: amount("gas") / 10},
		{Kind: route.Consumable, Item: "filter-paper", Amount: amount("papers") / 10},
		{Kind: route.Reagent, Item: "sodium-hydroxide", Amount: amount("lye")},
		{Kind: route.Reagent, Item: "glucose", Amount: amount("glucose")},
	}}
	litres := amount("acid") / 1000
	step.Entries = append(step.Entries, route.Entry{Kind: route.Reagent, Item: "sulfuric-acid", Amount: 1830 * litres, Volume: units.Volume(litres)})
	o.Steps = []route.StepRecord{step}
	for i := range rapid.IntRange(0, 3).Draw(t, "products") {
		o.Products = append(o.Products, drawProduct(t, i))
	}
	liquor := amount("liquor") / 100
	o.Waste = []route.Waste{
		{Class: "acid-metal-liquor", Volume: units.Volume(liquor), Mass: units.Mass(1.1 * liquor)},
		{Class: "slag", Mass: units.Mass(amount("slag") / 1000)},
	}
	return o
}

func drawProduct(t *rapid.T, i int) route.Product {
	metal := rapid.SampledFrom([]string{"Ag", "Cu"}).Draw(t, fmt.Sprint("metal", i))
	grams := rapid.Float64Range(0, 2000).Draw(t, fmt.Sprint("grams", i))
	fine := rapid.Float64Range(900, 1000).Draw(t, fmt.Sprint("fineness", i))
	p := route.Product{Form: "bar", Metal: metal, Mass: units.Mass(grams) * units.Gram, Fineness: fine}
	p.MetalMass = p.Mass * units.Mass(fine/1000)
	p.Composition = []route.Share{{Element: metal, Share: units.MassFraction(fine / 1000)}}
	return p
}

// atPrice returns the values with one figure times a factor.
func atPrice(v input.Values, ref input.Ref, factor float64) input.Values {
	changed := slices.Clone(v)
	changed[ref] *= factor
	return changed
}

func TestNetIsTheSumOfLines(t *testing.T) {
	b, v := decoded(t, string(DefaultBook()))
	whole, wv := decoded(t, strings.Replace(string(DefaultBook()), `"pro rata"`, `"whole"`, 1))
	rapid.Check(t, func(r *rapid.T) {
		o := drawOutcome(r)
		for _, p := range []PricedPlan{b.PricePlan(&o, v), whole.PricePlan(&o, wv)} {
			if !p.Priced() {
				r.Fatalf("blocked: %s", p.Blocked.Reason)
			}
			checkLines(t, &p)
			for name, m := range map[string]Money{"net": p.Net, "gain": p.Gain, "revenue": p.Revenue, "fees": p.Fees, "disposal": p.DisposalCost} {
				if !m.IsFinite() {
					r.Fatalf("%s = %v", name, m)
				}
			}
		}
	})
}

// A metal that is no one's reagent can become dearer without any plan taking
// less for its products.
func TestDearerMetalNeverLowersRevenue(t *testing.T) {
	b, v := decoded(t, string(DefaultBook()))
	rapid.Check(t, func(r *rapid.T) {
		o := drawOutcome(r)
		metal := rapid.SampledFrom([]string{"Ag", "Cu"}).Draw(r, "dearer")
		factor := rapid.Float64Range(1, 50).Draw(r, "factor")
		before := b.PricePlan(&o, v)
		after := b.PricePlan(&o, atPrice(v, b.spots[metal].Ref, factor))
		if after.Revenue < before.Revenue-moneyTolerance*(1+before.Revenue) || after.Net < before.Net-moneyTolerance*(1+before.Revenue) {
			r.Fatalf("%s × %g: revenue %v → %v, net %v → %v", metal, factor, before.Revenue, after.Revenue, before.Net, after.Net)
		}
	})
}

// A dearer reagent, hour or carrier never raises the net.
func TestDearerCostNeverRaisesNet(t *testing.T) {
	b, v := decoded(t, string(DefaultBook()))
	rapid.Check(t, func(r *rapid.T) {
		o := drawOutcome(r)
		ref := rapid.SampledFrom([]input.Ref{
			b.reagents["sodium-hydroxide"].Price.Ref, b.labour.Ref, b.electricity.Ref, b.storage.Price.Ref,
			b.disposals["acid-metal-liquor"].Price.Ref, b.disposals["acid-metal-liquor"].Minimum.Ref, b.sales["silver-bar"].Fee.Ref,
		}).Draw(r, "dearer")
		before, after := b.PricePlan(&o, v), b.PricePlan(&o, atPrice(v, ref, 3))
		if after.Net > before.Net+moneyTolerance*(1+before.Revenue) {
			r.Fatalf("net %v → %v", before.Net, after.Net)
		}
	})
}

// Where no fee, minimum, freight or stock bites, k times the ledger is k times
// the money.
func TestScale(t *testing.T) {
	text := string(DefaultBook())
	var kept []string
	for line := range strings.Lines(text) {
		if !strings.HasPrefix(line, "fee ") && !strings.HasPrefix(line, "minimum ") && !strings.HasPrefix(line, "freight ") && !strings.HasPrefix(line, "on_hand ") {
			kept = append(kept, line)
		}
	}
	b, v := decoded(t, strings.Join(kept, ""))
	rapid.Check(t, func(r *rapid.T) {
		o := drawOutcome(r)
		o.Plan.Ending = "dispose" // a jar on the shelf costs the same whatever is in it
		k := rapid.Float64Range(0.01, 100).Draw(r, "k")
		larger := scaled(&o, k)
		once, times := b.PricePlan(&o, v), b.PricePlan(&larger, v)
		for name, c := range map[string][2]Money{
			"net": {once.Net, times.Net}, "revenue": {once.Revenue, times.Revenue}, "labour": {once.LabourCost, times.LabourCost},
			"reagents": {once.ReagentCost, times.ReagentCost}, "disposal": {once.DisposalCost, times.DisposalCost},
		} {
			sum := once.Revenue + once.ReagentCost + once.LabourCost + once.DisposalCost + once.EnergyCost + once.ConsumableCost
			if diff := (c[1] - c[0]*Money(k)).Float(); math.Abs(diff) > 1e-9*k*(1+sum.Float()) {
				r.Fatalf("%s × %g: %v, want %v", name, k, c[1], c[0]*Money(k))
			}
		}
		if len(once.Products) > 0 {
			near(t, "payable", times.Products[0].PayableMass.Grams(), k*once.Products[0].PayableMass.Grams(), 1e-9)
		}
	})
}

func TestStandingsIgnoreInputOrder(t *testing.T) {
	b, v := decoded(t, string(DefaultBook()))
	rapid.Check(t, func(r *rapid.T) {
		var plans []PricedPlan
		for i := range rapid.IntRange(1, 8).Draw(r, "plans") {
			o := drawOutcome(r)
			o.Plan.ID = fmt.Sprint("plan", i)
			if rapid.Bool().Draw(r, "blocked") {
				o.Blocked = &route.Block{Reason: "no way"}
			}
			plans = append(plans, b.PricePlan(&o, v))
		}
		shuffled := rapid.Permutation(plans).Draw(r, "order")
		a, c := Appraisal{Plans: slices.Clone(plans)}, Appraisal{Plans: shuffled}
		a.standings(b, v, nil)
		c.standings(b, v, nil)
		if !slices.Equal(ids(a.Plans), ids(c.Plans)) || a.Verdict != c.Verdict {
			r.Fatalf("%v and %v", ids(a.Plans), ids(c.Plans))
		}
	})
}

// The same ledger priced twice gives the same lines, whatever the maps inside
// the book do.
func TestPricingIsRepeatable(t *testing.T) {
	b, v := decoded(t, string(DefaultBook()))
	rapid.Check(t, func(r *rapid.T) {
		o := drawOutcome(r)
		first, second := b.PricePlan(&o, v), b.PricePlan(&o, v)
		if first.Net != second.Net || len(first.Lines) != len(second.Lines) {
			r.Fatalf("net %v and %v", first.Net, second.Net)
		}
		for i := range first.Lines {
			if first.Lines[i].Item != second.Lines[i].Item {
				r.Fatalf("line %d is %q and %q", i, first.Lines[i].Item, second.Lines[i].Item)
			}
		}
	})
}
