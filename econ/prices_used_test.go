package econ

import (
	"slices"
	"testing"
)

// The prices used are few of the book's, among them those of every line, and
// changing one of the others changes no plan.
func TestPricesUsed(t *testing.T) {
	for name, w := range whatIfs(t) {
		req, a := w.req, w.Base()
		used := a.PricesUsed()
		if len(used) < 3 || len(used) >= len(req.Book.prices) || !slices.IsSorted(used) {
			t.Errorf("%s: %d of %d prices are used", name, len(used), len(req.Book.prices))
		}
		for i := range a.Plans {
			for _, l := range a.Plans[i].Lines {
				if !slices.Contains(used, l.PriceID) {
					t.Errorf("%s: %s: %s is not among the prices used", name, a.Plans[i].ID, l.PriceID)
				}
			}
		}
		checkUnusedPricesDoNothing(t, name, req, a, used)
	}
}

// checkUnusedPricesDoNothing raises every price that is not used. A sale may be
// passed over for being the worse offer, so that only its becoming dearer can
// bring it in: its charges are raised too, but not what it pays.
func checkUnusedPricesDoNothing(t *testing.T, name string, req Request, a *Appraisal, used []string) {
	t.Helper()
	v := a.Figures.Central()
	for _, p := range req.Book.prices {
		if !slices.Contains(used, p.ID) && p.Group != "sale" {
			v[p.Ref] *= 7
		}
	}
	for i := range a.Plans {
		if p := &a.Plans[i]; p.Priced() {
			again := req.Book.PricePlan(p.Outcome, v)
			near(t, name+": "+p.ID, again.Net.Float(), p.Net.Float(), 1e-9)
		}
	}
}

// A plan that is blocked keeps the steps up to the block and what its routes
// could reach, so that a screen can say which metal is out of reach.
func TestBlockedPlansKeepTheirOutcome(t *testing.T) {
	blocked, reached := 0, 0
	for name, w := range whatIfs(t) {
		a := w.Base()
		for i := range a.Plans {
			p := &a.Plans[i]
			if p.Priced() {
				continue
			}
			blocked++
			if p.Outcome == nil {
				t.Fatalf("%s: %s is blocked and has no outcome", name, p.ID)
			}
			for _, r := range p.Outcome.Reach {
				if r.Share >= 0 && r.Share <= 1+1e-9 && r.Metal != "" && slices.Contains(p.Routes, r.Route) {
					reached++
				} else {
					t.Errorf("%s: %s: reach %+v", name, p.ID, r)
				}
			}
		}
	}
	if blocked == 0 || reached < blocked/2 {
		t.Errorf("%d blocked plans say %d times what is reached", blocked, reached)
	}
}
