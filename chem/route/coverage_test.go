package route

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"afterpour/chem/lot"
)

// TestEveryRouteIsOpen: on a bench on which nothing is short, each route is
// carried out to its end in some plan of some sample lot; where it opens a plan
// that is blocked, the reason is said. With -v it prints the table.
func TestEveryRouteIsOpen(t *testing.T) {
	lib, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	openOn := map[string][]string{}
	for _, name := range lot.SampleNames() {
		e, _ := explored(t, name, roomy)
		blocked := map[string]string{}
		for i := range e.Outcomes {
			o := &e.Outcomes[i]
			if o.Blocked == nil {
				for _, id := range o.Plan.Routes {
					if !slices.Contains(openOn[id], name) {
						openOn[id] = append(openOn[id], name)
					}
				}
				continue
			}
			if strings.TrimSpace(o.Blocked.Reason) == "" || o.Blocked.Step == "" && o.Blocked.Unreachable == nil {
				t.Errorf("%s %s is blocked without a word: %+v", name, o.Plan.ID, *o.Blocked)
			}
			if len(o.Plan.Routes) == 1 {
				blocked[o.Plan.Routes[0]] = o.Blocked.Reason
			}
		}
		for i := range lib.Routes() {
			id := lib.Routes()[i].ID
			switch {
			case slices.Contains(openOn[id], name):
				t.Logf("%-16s %-24s open", name, id)
			case blocked[id] != "":
				t.Logf("%-16s %-24s blocked: %s", name, id, blocked[id])
			}
		}
	}
	for i := range lib.Routes() {
		if id := lib.Routes()[i].ID; len(openOn[id]) == 0 {
			t.Errorf("%s is open on no sample lot", id)
		}
	}
}

// TestCautionsPerPlan counts the rules that speak up in each plan, prints the
// counts, and holds them to what somebody reads: if everything warns, nothing
// does.
func TestCautionsPerPlan(t *testing.T) {
	const most, usual = 10, 6
	all := map[string]int{}
	for _, name := range lot.SampleNames() {
		counts, sum := []int{}, 0
		for _, bench := range []Bench{roomy, modest} {
			e, _ := explored(t, name, bench)
			for i := range e.Outcomes {
				o := &e.Outcomes[i]
				list := o.Cautions()
				if len(list) > most {
					t.Errorf("%s %s: %d cautions: %s", name, o.Plan.ID, len(list), cautionIDs(list))
				}
				for _, c := range list {
					all[c.ID]++
				}
				counts = append(counts, len(list))
				sum += len(list)
			}
		}
		slices.Sort(counts)
		median := counts[len(counts)/2]
		t.Logf("%-16s %5d plans: cautions a plan %d to %d, median %d, mean %.1f", name, len(counts), counts[0], counts[len(counts)-1], median, float64(sum)/float64(len(counts)))
		if median > usual {
			t.Errorf("%s: half of the plans have more than %d cautions", name, usual)
		}
	}
	t.Log(fmt.Sprint(all))
}

func cautionIDs(list []Caution) string {
	ids := make([]string, len(list))
	for i, c := range list {
		ids[i] = c.Severity + " " + c.ID
	}
	return strings.Join(ids, ", ")
}
