package route

import (
	"context"
	"strings"
	"testing"

	"afterpour/chem/lot"
)

// TestExplore balances every sequence that the tree of each sample lot finds,
// and prints how many there were.
func TestExplore(t *testing.T) {
	for _, name := range lot.SampleNames() {
		e, _ := explored(t, name, roomy)
		seen := map[string]bool{}
		open := 0
		for i := range e.Outcomes {
			o := &e.Outcomes[i]
			if seen[o.Plan.ID] {
				t.Errorf("%s: %s is listed twice", name, o.Plan.ID)
			}
			seen[o.Plan.ID] = true
			checkBalance(t, name, o)
			if o.Blocked == nil {
				open++
			}
			if testing.Verbose() && o.Plan.Ending == "dispose" && (len(o.Plan.Routes) == 1 || strings.Contains(o.Plan.ID, "neutralise")) {
				t.Log(name, describe(o))
			}
		}
		t.Logf("%s: %d sequences, %d plans, %d open", name, e.Chains, len(e.Outcomes), open)
	}
}

func BenchmarkExplore(b *testing.B) {
	lib, job, _ := sampleJob(b, "nitrate-liquor", roomy)
	job.Trace = false
	b.ReportAllocs()
	for b.Loop() {
		if _, err := lib.Explore(context.Background(), job); err != nil {
			b.Fatal(err)
		}
	}
}

// TestExploreAgreesWithSimulate: a plan of the tree, simulated alone, gives the
// same ledger.
func TestExploreAgreesWithSimulate(t *testing.T) {
	lib, job, _ := sampleJob(t, "chloride-settled", roomy)
	e, err := lib.Explore(context.Background(), job)
	if err != nil {
		t.Fatal(err)
	}
	for i := 0; i < len(e.Outcomes); i += 17 {
		tree := &e.Outcomes[i]
		alone, err := lib.Simulate(context.Background(), job, tree.Plan)
		if err != nil {
			t.Fatal(err)
		}
		if (alone.Blocked == nil) != (tree.Blocked == nil) {
			t.Fatalf("%s: blocked in one of the two only", tree.Plan.ID)
		}
		for kind := Reagent; kind <= Charge; kind++ {
			near(t, tree.Plan.ID+" "+kind.String(), alone.Sum(kind), tree.Sum(kind), 1e-12)
		}
		if len(alone.Waste) != len(tree.Waste) {
			t.Errorf("%s: waste of %d classes alone, %d in the tree", tree.Plan.ID, len(alone.Waste), len(tree.Waste))
		}
	}
}
