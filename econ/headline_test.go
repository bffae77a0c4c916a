package econ

import (
	"strings"
	"testing"

	"afterpour/chem/route"
)

func TestHeadline(t *testing.T) {
	worked := &route.Outcome{Products: []route.Product{{Metal: "Ag"}}}
	plans := []PricedPlan{
		{ID: "chloride-oxide-sugar+dispose", Routes: []string{"chloride-oxide-sugar"}, Ending: endDispose, Net: 120, Outcome: worked},
		{ID: "neutralise+dispose", Routes: []string{"neutralise"}, Ending: endDispose, Net: -40, Outcome: &route.Outcome{}},
		{ID: endDispose, Ending: endDispose, Net: -60.004},
		{ID: endSell, Ending: endSell, Net: 12},
		{ID: endHold, Ending: endHold, Net: -72},
		{ID: "blocked", Routes: []string{"x"}, Ending: endDispose, Blocked: &route.Block{Reason: "no way"}},
	}
	for name, c := range map[string]struct {
		verdict  Verdict
		baseline string
		want     string
	}{
		"work up":     {Verdict{Action: WorkUp, Plan: plans[0].ID, Gain: 180}, endDispose, "Work it up by chloride-oxide-sugar+dispose: a gain of 180.00 USD over disposal as it stands"},
		"no baseline": {Verdict{Action: WorkUp, Plan: plans[0].ID, Gain: 120}, "", "Work it up by chloride-oxide-sugar+dispose: a gain of 120.00 USD over doing nothing"},
		"prepare":     {Verdict{Action: Dispose, Plan: plans[1].ID, Gain: 20}, endDispose, "Make it ready for the carrier by neutralise+dispose: a gain of 20.00 USD over disposal as it stands"},
		"dispose":     {Verdict{Action: Dispose, Plan: endDispose}, endDispose, "Send it for disposal as it stands: a cost of 60.00 USD"},
		"sell":        {Verdict{Action: SellAsIs, Plan: endSell}, endSell, "Sell it as it stands: a net of 12.00 USD"},
		"hold":        {Verdict{Action: HoldAndPool, Plan: endHold}, endHold, "Keep it on the shelf: a cost of 72.00 USD"},
		"pool":        {Verdict{Action: HoldAndPool, Plan: plans[0].ID, PoolLots: 3, Gain: -5}, endDispose, "Hold it and pool 3 like lots, then work them up by chloride-oxide-sugar+dispose"},
		"no ending":   {Verdict{Action: HoldAndPool, Plan: plans[0].ID}, "", "Keep it for now: chloride-oxide-sugar+dispose would net 120.00 USD, and no ending of the lot as it stands has a price to set that against"},
		"nothing":     {Verdict{Action: HoldAndPool}, "", "Keep it for now: nothing that could be done with it can be priced yet"},
		"unknown":     {Verdict{Action: WorkUp, Plan: "gone"}, "", "Keep it for now: nothing that could be done with it can be priced yet"},
	} {
		a := Appraisal{Currency: "USD", Plans: plans, Verdict: c.verdict, Baseline: c.baseline}
		if got := a.Headline(); got != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// Of every sample lot the headline is one sentence that names the verdict's plan
// or its ending, and no reader has to know a word of the program.
func TestHeadlineOfSampleLots(t *testing.T) {
	for name, w := range whatIfs(t) {
		a := w.Base()
		h := a.Headline()
		t.Log(h)
		p := a.Plan(a.Verdict.Plan)
		if h == "" || strings.ContainsAny(h, ".\n") && !strings.Contains(h, a.Currency) {
			t.Errorf("%s: headline %q", name, h)
		}
		if p != nil && len(p.Routes) > 0 && !strings.Contains(h, p.ID) {
			t.Errorf("%s: headline %q does not name %s", name, h, p.ID)
		}
		if a.Plan("no such plan") != nil {
			t.Errorf("%s: a plan that is not there", name)
		}
	}
}
