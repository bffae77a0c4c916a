package econ

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"afterpour/chem/route"
	"afterpour/chem/units"
)

// row finds a row by its group and label.
func row(t testing.TB, groups []AbreastGroup, title, label string) AbreastRow {
	t.Helper()
	for _, g := range groups {
		for _, r := range g.Rows {
			if g.Title == title && r.Label == label {
				return r
			}
		}
	}
	t.Fatalf("no row %q in a group %q", label, title)
	return AbreastRow{}
}

// besideOther prices the ledger made by hand and one with less silver, no acid
// and more of everything else.
func besideOther(t testing.TB) []*PricedPlan {
	t.Helper()
	b, v := decoded(t, smallBook)
	first := silverWork()
	second := silverWork()
	second.Plan = route.NewPlan([]string{"chloride-oxide-sugar"}, "hold")
	second.Steps[1].Entries = slices.DeleteFunc(slices.Clone(second.Steps[1].Entries), func(e route.Entry) bool { return e.Item == "sulfuric-acid" || e.Kind == route.Gas })
	second.Steps[1].Entries = append(second.Steps[1].Entries, route.Entry{Kind: route.HandsOn, Amount: 1})
	second.Products[0].Mass /= 2
	second.Products[0].MetalMass /= 2
	p, q := b.PricePlan(&first, v), b.PricePlan(&second, v)
	plans := []*PricedPlan{&p, &q}
	for _, plan := range plans {
		if !plan.Priced() {
			t.Fatalf("%s: %s", plan.ID, plan.Blocked.Reason)
		}
		plan.Metals = []PlanMetal{{Metal: "Ag", Contained: 70 * units.Gram, Recovered: plan.Products[0].MetalMass, Payable: plan.Products[0].PayableMass}}
	}
	return plans
}

func TestAbreastByHand(t *testing.T) {
	groups := Abreast("USD", besideOther(t))
	var titles []string
	for _, g := range groups {
		titles = append(titles, g.Title)
	}
	want := []string{"Metal", "Products", "Reagents", "Energy", "Time", "Air", "Waste", "Vessel and cautions", "Money"}
	if !slices.Equal(titles, want) {
		t.Errorf("groups %q, want %q", titles, want)
	}
	ozt := units.TroyOunce.Grams()
	for name, c := range map[string]struct {
		group, label, unit string
		values             []float64
		best               []bool
	}{
		"recovered":   {"Metal", "Ag recovered", "g", []float64{2 * ozt, ozt}, []bool{true, false}},
		"contained":   {"Metal", "Ag contained", "g", []float64{70, 70}, []bool{false, false}},
		"bar":         {"Products", "Ag bar", "g", []float64{2 * ozt / 0.95, ozt / 0.95}, []bool{false, false}},
		"same":        {"Products", "Ag bar, fineness", "‰", []float64{950, 950}, []bool{false, false}},
		"lye":         {"Reagents", "sodium hydroxide", "g", []float64{300, 300}, []bool{false, false}},
		"acid":        {"Reagents", "sulfuric acid", "g", []float64{183, 0}, []bool{false, true}},
		"hours":       {"Time", "hands-on", "h", []float64{4, 5}, []bool{true, false}},
		"energy":      {"Energy", "energy", "kWh", []float64{2, 2}, []bool{false, false}},
		"gas burnt":   {"Energy", "gas burnt", "kWh", []float64{0.5, 0.5}, []bool{false, false}},
		"gas":         {"Air", "NO2", "g", []float64{4, 0}, []bool{false, true}},
		"liquor":      {"Waste", "acid metal liquor", "L", []float64{3, 3}, []bool{false, false}},
		"slag":        {"Waste", "slag", "kg", []float64{0.1, 0.1}, []bool{false, false}},
		"vessel":      {"Vessel and cautions", "vessel at the fullest", "L", []float64{1.8, 1.8}, []bool{false, false}},
		"labour":      {"Money", "labour", "USD", []float64{80, 100}, []bool{true, false}},
		"shelf":       {"Money", "storage", "USD", []float64{0, 24}, []bool{true, false}},
		"all reagent": {"Reagents", "cost of all reagents", "USD", []float64{4.25, 2.25}, []bool{false, true}},
	} {
		r := row(t, groups, c.group, c.label)
		if r.Unit != c.unit || !slices.Equal(r.Best, c.best) {
			t.Errorf("%s: unit %q, best %v; want %q, %v", name, r.Unit, r.Best, c.unit, c.best)
		}
		for i := range c.values {
			near(t, name, r.Values[i], c.values[i], 1e-9)
			near(t, name+", difference", r.Differences[i], c.values[i]-c.values[0], 1e-9)
		}
		if got, want := r.Differs(), c.values[0] != c.values[1]; got != want {
			t.Errorf("%s differs: %v, want %v", name, got, want)
		}
	}
	if r := row(t, groups, "Reagents", "sulfuric acid"); r.Present[1] || !r.Compared[1] {
		t.Errorf("acid that a plan does not take: present %v, compared %v", r.Present, r.Compared)
	}
}

// A plan that is blocked has no figure anywhere, and nothing is compared to it.
func TestAbreastBlocked(t *testing.T) {
	plans := besideOther(t)
	plans[0].Blocked = &route.Block{Reason: "no way"}
	for _, g := range Abreast("USD", plans) {
		for _, r := range g.Rows {
			if r.Present[0] || r.Compared[0] || r.Compared[1] || r.Best[0] || r.Best[1] {
				t.Errorf("%s, %s: %+v", g.Title, r.Label, r)
			}
		}
	}
	plans[1].Blocked = plans[0].Blocked
	if groups := Abreast("USD", plans); len(groups) != 0 {
		t.Errorf("blocked plans alone give %+v", groups)
	}
	if groups := Abreast("USD", nil); len(groups) != 0 {
		t.Errorf("no plans give %+v", groups)
	}
}

func TestAbreastOdds(t *testing.T) {
	plans := besideOther(t)
	plans[0].Odds = &Odds{P10: -5, P50: 10, P90: 30, PPositive: 0.7, PBest: 0.4}
	groups := Abreast("USD", plans)
	r := row(t, groups, "Odds", "odds of a gain")
	near(t, "odds", r.Values[0], 70, 1e-12)
	if r.Present[1] || r.Compared[1] {
		t.Errorf("odds that are not there are compared: %+v", r)
	}
}

// Of any plans: every row has a value for each, all finite; the first plan does
// not differ from itself; the costs of the money rows add up to the net; what is
// best is beaten by none.
func TestAbreastOfAnyPlans(t *testing.T) {
	b, v := decoded(t, string(DefaultBook()))
	rapid.Check(t, func(r *rapid.T) {
		var plans []*PricedPlan
		for range rapid.IntRange(1, 4).Draw(r, "plans") {
			o := drawOutcome(r)
			p := b.PricePlan(&o, v)
			plans = append(plans, &p)
		}
		groups := Abreast("USD", plans)
		for _, g := range groups {
			for _, row := range g.Rows {
				checkAbreastRow(r, &row, len(plans))
			}
		}
		for i := range plans {
			sum := row(t, groups, "Money", "revenue").Values[i]
			for _, c := range Categories[1:] {
				sum -= row(t, groups, "Money", string(c)).Values[i]
			}
			near(t, "net", row(t, groups, "Money", "net").Values[i], sum, 1e-6)
		}
	})
}

func checkAbreastRow(t *rapid.T, r *AbreastRow, n int) {
	if len(r.Values) != n || len(r.Differences) != n || len(r.Present) != n || len(r.Compared) != n || len(r.Best) != n {
		t.Fatalf("%s has not %d of each: %+v", r.Label, n, r)
	}
	if math.Abs(r.Differences[0]) > 0 {
		t.Fatalf("%s: the first plan differs from itself", r.Label)
	}
	for i := range r.Values {
		if x := r.Values[i] + r.Differences[i]; math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("%s: %v", r.Label, r.Values)
		}
		for j := range r.Values {
			if r.Best[i] && float64(r.Better)*(r.Values[j]-r.Values[i]) > 1e-6*(1+math.Abs(r.Values[i])) && r.Compared[j] {
				t.Fatalf("%s: plan %d is called best of %v", r.Label, i, r.Values)
			}
		}
	}
}
