package econ

import (
	"math/rand/v2"
	"slices"
	"testing"

	"afterpour/chem/route"
)

func plan(id string, net Money, routes ...string) PricedPlan {
	return PricedPlan{ID: id, Net: net, Routes: routes, Ending: "dispose"}
}

func blockedPlan(id string, routes ...string) PricedPlan {
	p := plan(id, 0, routes...)
	p.Blocked = &route.Block{Reason: "no way"}
	return p
}

func ids(plans []PricedPlan) []string {
	list := make([]string, 0, len(plans))
	for i := range plans {
		list = append(list, plans[i].ID)
	}
	return list
}

func TestRank(t *testing.T) {
	want := []string{"best", "equal-a", "equal-b", "nearly", "worst", "blocked-a", "blocked-b"}
	plans := []PricedPlan{
		blockedPlan("blocked-b", "x"), plan("worst", -90), plan("equal-b", -10, "x"), plan("nearly", -10.01),
		// The same amount but for rounding in the last place does not rank before the id.
		plan("equal-a", -10.000000000000002, "x"), blockedPlan("blocked-a", "x"), plan("best", 4),
	}
	for range 50 {
		rand.Shuffle(len(plans), func(i, j int) { plans[i], plans[j] = plans[j], plans[i] })
		Rank(plans)
		if got := ids(plans); !slices.Equal(got, want) {
			t.Fatalf("Rank = %v, want %v", got, want)
		}
	}
}

func TestBaselineAndGains(t *testing.T) {
	hold := plan("hold", -72)
	hold.Ending = "hold"
	sell := blockedPlan("sell-as-is")
	sell.Ending = "sell-as-is"
	work := plan("x+dispose", -20, "x")
	work.LabourCost, work.HandsOnH = 80, 4
	a := Appraisal{Currency: "USD", Plans: []PricedPlan{hold, sell, work, plan("dispose", -60)}}
	b, v := decoded(t, smallBook)
	a.standings(b, v, nil)
	if a.Baseline != "dispose" {
		t.Fatalf("baseline %q, want dispose", a.Baseline)
	}
	near(t, "baseline", a.BaselineNet.Float(), -60, 1e-12)
	near(t, "gain", a.Plans[0].Gain.Float(), 40, 1e-12)
	near(t, "gain an hour", a.Plans[0].GainPerHour.Float(), 30, 1e-12) // (40 + 80) / 4
	near(t, "gain of the baseline", a.Plans[1].Gain.Float(), 0, 1e-12)
	if last := a.Plans[3]; last.ID != "sell-as-is" || last.Gain != 0 {
		t.Errorf("last plan %+v", last)
	}
}

func TestNoBaseline(t *testing.T) {
	a := Appraisal{Currency: "USD", Plans: []PricedPlan{blockedPlan("dispose"), plan("x+dispose", 5, "x")}}
	b, v := decoded(t, smallBook)
	a.standings(b, v, nil)
	if a.Baseline != "" || a.BaselineNet != 0 || len(a.Notes) != 1 {
		t.Errorf("baseline %q of %v, notes %q", a.Baseline, a.BaselineNet, a.Notes)
	}
	near(t, "gain", a.Plans[0].Gain.Float(), 5, 1e-12)
}
