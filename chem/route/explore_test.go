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
		lib, job, _ := sampleJob(t, name, roomy)
		e, err := lib.Explore(context.Background(), job)
		if err != nil {
			t.Fatal(err)
		}
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
