package route

import (
	"context"
	"testing"

	"afterpour/chem/units"
)

// recorded simulates a plan with its record.
func recorded(t *testing.T, sample string, routes []string, ending string) Outcome {
	t.Helper()
	lib, job, _ := sampleJob(t, sample, modest)
	job.Record = true
	o, err := lib.Simulate(context.Background(), job, NewPlan(routes, ending))
	if err != nil {
		t.Fatal(err)
	}
	if o.Blocked != nil {
		t.Fatalf("%s is blocked: %s", o.Plan.ID, o.Blocked.Reason)
	}
	return o
}

// TestRecordIsOnlyKeptWhenAsked compares a plan with and without its record: the
// ledger is the same, and without nothing is kept.
func TestRecordIsOnlyKeptWhenAsked(t *testing.T) {
	lib, job, _ := sampleJob(t, "nitrate-liquor", modest)
	plan := NewPlan([]string{"copper-cementation", "neutralise"}, "dispose")
	plain, err := lib.Simulate(context.Background(), job, plan)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range plain.Steps {
		if len(s.Settings)+len(s.After) > 0 || s.In != "" {
			t.Errorf("%s/%s keeps a record that nobody asked for", s.Route, s.Step)
		}
	}
	full := recorded(t, "nitrate-liquor", plan.Routes, plan.Ending)
	for _, kind := range []EntryKind{Reagent, HandsOn, Elapsed, Loss, Electricity} {
		near(t, kind.String(), full.Sum(kind), plain.Sum(kind), 1e-12)
	}
}

// TestRecordOfSettling weighs a settling on both sides: what stood in the vessel
// stands in the two streams, and the metal of the solid is in it.
func TestRecordOfSettling(t *testing.T) {
	o := recorded(t, "nitrate-liquor", []string{"copper-cementation"}, "dispose")
	s := step(t, o, "copper-cementation", "settle")
	solid, liquor := s.AfterOf("cement"), s.AfterOf("spent liquor")
	near(t, "mass after settling", float64(solid.Wet+liquor.Wet), float64(s.Before.Wet), 1e-9)
	if !(solid.Dry > 0 && solid.Wet > solid.Dry && liquor.Liquid > 10*solid.Liquid) {
		t.Errorf("settled %v dry, %v wet under %v of liquor; %v poured off", solid.Dry, solid.Wet, solid.Liquid, liquor.Liquid)
	}
	silver := MassOf(solid.Metals, "Ag")
	if lost := units.Mass(amount(s, Loss, "Ag")) * units.Gram; silver > 0 {
		near(t, "silver in solid and fines", float64(silver+lost), float64(MassOf(s.Before.Metals, "Ag")), 1e-9)
	} else {
		t.Error("no silver in the cement")
	}
	if _, ok := s.Setting("heel"); !ok {
		t.Errorf("the heel is not among the settings %v", s.Settings)
	}
}

// TestRecordOfLeavings adds up what the routes hand on and keep: it is the waste
// of the plan.
func TestRecordOfLeavings(t *testing.T) {
	o := recorded(t, "nitrate-liquor", []string{"copper-cementation"}, "dispose")
	var kept, waste units.Mass
	for _, p := range append(append([]Portion{}, o.HandedOn...), o.KeptBeside...) {
		kept += p.Wet
	}
	for _, w := range o.Waste {
		waste += w.Mass
	}
	near(t, "what is left", float64(kept), float64(waste), 1e-9)
	pooled := recorded(t, "nitrate-liquor", []string{"copper-cementation", "neutralise"}, "dispose")
	if len(pooled.Pooled) == 0 {
		t.Fatal("the treatment pools nothing")
	}
	for _, p := range pooled.Pooled {
		if p.Route != "copper-cementation" || p.Stream == "" {
			t.Errorf("pooled %q of route %q", p.Stream, p.Route)
		}
	}
}

// TestRecordOfProducts finds for each product the step that makes it.
func TestRecordOfProducts(t *testing.T) {
	o := recorded(t, "nitrate-liquor", []string{"copper-cementation"}, "dispose")
	if s := step(t, o, "copper-cementation", "melt"); s.Sells != 0 || o.Products[s.Sells].Form != "bar" {
		t.Errorf("the melt makes product %d of %v", s.Sells, o.Products)
	}
	if s := step(t, o, "copper-cementation", "dry"); s.Sells != -1 {
		t.Errorf("the drying makes product %d", s.Sells)
	}
}
