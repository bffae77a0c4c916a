package route

import (
	"context"
	"testing"

	"afterpour/chem/lot"
)

// chainsOf lists the chains of the tree of a job, each once.
func chainsOf(t testing.TB, lib *Library, job Job) [][]string {
	t.Helper()
	e, err := lib.Explore(context.Background(), job)
	if err != nil {
		t.Fatal(err)
	}
	var chains [][]string
	seen := map[string]bool{}
	for i := range e.Outcomes {
		if o := &e.Outcomes[i]; o.Blocked == nil && !seen[chainKey(o.Plan.Routes)] {
			seen[chainKey(o.Plan.Routes)] = true
			chains = append(chains, o.Plan.Routes)
		}
	}
	return chains
}

// TestForestAgreesWithSimulateAll: in a forest, every chain gives what it gives
// alone, at the values that the forest was learnt from and at others.
func TestForestAgreesWithSimulateAll(t *testing.T) {
	for _, name := range lot.SampleNames() {
		lib, job, _ := sampleJob(t, name, roomy)
		job.Trace = false
		chains := chainsOf(t, lib, job)
		forest, err := lib.Forest(context.Background(), job, chains)
		if err != nil {
			t.Fatal(err)
		}
		job.Inventory.Vessel = job.Inventory.Vessel.Clone()
		for _, factor := range []float64{1, 0.8} {
			job.Inventory.Vessel.Scale(factor)
			compareForest(t, name, lib, job, forest, chains)
		}
	}
}

func compareForest(t *testing.T, name string, lib *Library, job Job, forest *Forest, chains [][]string) {
	t.Helper()
	plans := make([]Plan, len(chains))
	for n, routes := range chains {
		plans[n] = NewPlan(routes, "")
	}
	want, err := lib.SimulateAll(context.Background(), job, plans)
	if err != nil {
		t.Fatal(err)
	}
	shown := 0
	err = forest.Simulate(context.Background(), job, func(n int, o *Outcome) {
		shown++
		w, what := &want[n], name+": "+plans[n].ID
		if o.Blocked != nil || w.Blocked != nil {
			if (o.Blocked == nil) != (w.Blocked == nil) && (w.Blocked == nil || w.Blocked.Severity != SeverityStop) {
				t.Errorf("%s: blocked %v, alone %v", what, o.Blocked, w.Blocked)
			}
			return
		}
		for kind := Reagent; kind <= Charge; kind++ {
			if paid[kind] {
				near(t, what+", "+kind.String(), o.Sum(kind), w.Sum(kind), 1e-5)
			}
		}
		if len(o.Products) != len(w.Products) || len(o.Waste) != len(w.Waste) {
			t.Fatalf("%s: %d products, %d classes of waste; alone %d and %d", what, len(o.Products), len(o.Waste), len(w.Products), len(w.Waste))
		}
		for i := range o.Products {
			near(t, what+", product", float64(o.Products[i].MetalMass), float64(w.Products[i].MetalMass), 1e-6)
			near(t, what+", fineness", o.Products[i].Fineness, w.Products[i].Fineness, 1e-4)
		}
		for i := range o.Waste {
			near(t, what+", waste", float64(o.Waste[i].Volume), float64(w.Waste[i].Volume), 1e-6)
		}
	})
	if err != nil || shown != len(chains) {
		t.Fatalf("%s: %d of %d chains shown, %v", name, shown, len(chains), err)
	}
}

func TestForestUnknownRoute(t *testing.T) {
	lib, job, _ := sampleJob(t, "nitrate-liquor", roomy)
	if _, err := lib.Forest(context.Background(), job, [][]string{{"no such route"}}); err == nil {
		t.Error("an unknown route was planted")
	}
}

func BenchmarkForest(b *testing.B) {
	lib, job, _ := sampleJob(b, "chloride-settled", roomy)
	job.Trace = false
	chains := chainsOf(b, lib, job)
	forest, err := lib.Forest(context.Background(), job, chains)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if err := forest.Simulate(context.Background(), job, func(int, *Outcome) {}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(chains)), "chains")
}
