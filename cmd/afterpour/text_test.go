package main

import (
	"strings"
	"testing"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/route"
	"afterpour/chem/units"
	"afterpour/econ"

	"github.com/charmbracelet/x/exp/golden"
)

// inventedAppraisal is an appraisal of no real lot: every printer's fields
// filled with figures that are easy to recognise.
func inventedAppraisal() *econ.Appraisal {
	spot, perHour := econ.Money(41.5), econ.Money(37.54)
	figures := &input.Figures{}
	assumed := figures.Add(input.Figure{
		ID: "lot/vessel.liquid", Kind: units.VolumeKind, Dist: units.NormalDist(3.2, 0.16), Text: "3.2 L",
		Origin: input.Assumed, Source: "a volume read off a vessel: 5 %, common practice",
	})
	return &econ.Appraisal{
		Lot: "Contact strip, jars 3 and 4", Currency: "USD", Seed: 1,
		PricesAsOf: time.Date(2026, 11, 20, 0, 0, 0, 0, time.UTC),
		Metals: []econ.MetalWorth{
			{Metal: "Ag", Contained: 0.0328, SD: 0.0041, Dissolved: 0.0157, Solid: 0.0171, SpotValue: &spot},
			{Metal: "Zn", Contained: 0.114, SD: 0.006, Dissolved: 0.114},
		},
		Report: lot.Report{
			Title: "Contact strip, jars 3 and 4", Date: time.Date(2026, 11, 2, 0, 0, 0, 0, time.UTC), Volume: 3.2,
			Metals: []lot.MetalReport{{Metal: "Ag", Disagree: true, Estimates: []lot.Estimate{
				{Label: "sources", Of: "total", Mass: 0.0328, SD: 0.0041},
				{Label: "liquid: AAS", Of: "dissolved", Mass: 0.0157, SD: 0.0006},
			}}},
			Acid:    lot.AcidReport{FreeMol: 6.1, SD: 2.9},
			Notes:   []lot.Note{{Kind: lot.Caution, Text: "metal still stands in the vessel: test a drop with salt"}},
			Assumed: []input.Ref{assumed},
		},
		Verdict:  econ.Verdict{Action: econ.WorkUp, Plan: "chloride-oxide-sugar+dispose", Gain: 121.4, Why: "It pays for its hours even at the low end of the silver."},
		Baseline: "dispose", BaselineNet: -60, Figures: figures,
		Notes: []string{"no buyer takes the liquor as it stands"}, Stale: []string{"spot.Ag"},
		Plans: []econ.PricedPlan{
			inventedPlan(&perHour),
			{ID: "dispose", Ending: "dispose", Net: -60, NetWithoutLabour: -60, DisposalCost: 60},
			{ID: "copper-cementation+dispose", Routes: []string{"copper-cementation"}, Ending: "dispose", Blocked: &route.Block{
				Route: "copper-cementation", Step: "cement", Reason: "the chloride has locked the silver",
				Unreachable: map[string]float64{"Ag": 0.996},
			}},
			{ID: "copper-cementation+hold", Routes: []string{"copper-cementation"}, Ending: "hold", Blocked: &route.Block{
				Route: "copper-cementation", Step: "cement", Reason: "the chloride has locked the silver",
				Unreachable: map[string]float64{"Ag": 0.996},
			}},
		},
	}
}

func inventedPlan(perHour *econ.Money) econ.PricedPlan {
	return econ.PricedPlan{
		ID: "chloride-oxide-sugar+dispose", Routes: []string{"chloride-oxide-sugar"}, Ending: "dispose",
		Net: 61.4, Gain: 121.4, NetWithoutLabour: 131.4, PerHour: perHour,
		Revenue: 225, Fees: 37, ReagentCost: 14, EnergyCost: 1.6, LabourCost: 70, DisposalCost: 41,
		HandsOnH: 3.5, ElapsedH: 41, EnergyKWh: 8, FreshAirM3: 12, LargestVolume: 4.1,
		Metals:   []econ.PlanMetal{{Metal: "Ag", Contained: 0.0328, Recovered: 0.0281, Payable: 0.0264}},
		Products: []econ.PlanProduct{{Form: "bar", Metal: "Ag", Sale: "silver-bar", Mass: 0.0284, MetalMass: 0.0281, PayableMass: 0.0264, Fineness: 990, Receipts: 225}},
		Reagents: []econ.PlanReagent{{Reagent: "hydrochloric-acid", Name: "hydrochloric acid", Mass: 0.142, Volume: 0.12, Cost: 14}},
		Gases:    []econ.PlanGas{{Gas: "NO2", Mass: 0.0015}},
		Waste:    []econ.PlanWaste{{Class: "acid-metal-liquor", Volume: 4, Mass: 4.4, Cost: 41}},
		Cautions: []string{"Caustic spatters: add it slowly, in the cold."},
		Lines: []econ.Line{
			{Category: econ.Revenue, Item: "silver bar", Quantity: 0.85, Unit: "ozt", Price: 30, PriceUnit: "USD / ozt", Amount: 225},
			{Category: econ.Labour, Item: "hands-on hours", Quantity: 3.5, Unit: "h", Price: 20, PriceUnit: "USD / h", Amount: 70},
		},
	}
}

func TestStandingsText(t *testing.T) {
	got, err := standingsText("strip.toml", "prices.toml", view{}, inventedAppraisal())
	if err != nil {
		t.Fatal(err)
	}
	golden.RequireEqual(t, []byte(got))
}

func TestStandingsTextOfAnotherPlan(t *testing.T) {
	got, err := standingsText("strip.toml", "prices.toml", view{plan: "copper-cementation+hold"}, inventedAppraisal())
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(got, "In detail: copper-cementation+hold") {
		t.Errorf("the plan asked for is not shown:\n%s", got)
	}
	if _, err := standingsText("strip.toml", "prices.toml", view{plan: "no-such-plan"}, inventedAppraisal()); exitCode(err) != exitUsage {
		t.Errorf("an unknown plan: %v, want a usage error", err)
	}
}

// A lot of which nothing is known must still be told, not fail.
func TestStandingsTextOfNothing(t *testing.T) {
	got, err := standingsText("empty.toml", "prices.toml", view{}, &econ.Appraisal{
		Lot: "Empty", Currency: "USD", Figures: &input.Figures{}, Verdict: econ.Verdict{Action: econ.Dispose, Why: "Nothing is known of it."},
	})
	if err != nil {
		t.Fatal(err)
	}
	golden.RequireEqual(t, []byte(got))
}

// Titles and names come from files: none of them may steer the terminal.
func TestStandingsTextIsClean(t *testing.T) {
	const payload = "\x1b[31mred\x07\r\u009b2J\u202e\x00"
	a := inventedAppraisal()
	a.Lot, a.Verdict.Why, a.Notes = payload, payload, []string{payload}
	a.Plans[0].Cautions = []string{payload}
	a.Plans[0].Lines[0].Item = payload
	a.Plans[2].Blocked.Reason = payload
	got, err := standingsText(payload, payload, view{}, a)
	if err != nil {
		t.Fatal(err)
	}
	if strings.ContainsAny(got, "\x1b\x07\r\u009b\u202e\x00") {
		t.Errorf("a payload came through: %q", got)
	}
}

// Once odds are known they stand beside each plan and in its detail.
func TestStandingsTextWithOdds(t *testing.T) {
	a := inventedAppraisal()
	odds := 0.72
	a.Draws, a.Verdict.PPositive = 10000, &odds
	a.Plans[0].Odds = &econ.Odds{P10: 12, P50: 60, P90: 110, PPositive: 0.72, PBest: 0.4}
	got, err := standingsText("strip.toml", "prices.toml", view{}, a)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"odds of gain", "72 %", "12.00, 60.00, 110.00", "best plan 40 %"} {
		if !strings.Contains(strings.Join(strings.Fields(got), " "), want) {
			t.Errorf("the text does not show %q:\n%s", want, got)
		}
	}
}

func TestSentence(t *testing.T) {
	for text, want := range map[string]string{
		"the best way":            "The best way.",
		"neutralise+dispose pays": "neutralise+dispose pays.",
		" Done. ":                 "Done.",
		"":                        "",
	} {
		if got := sentence(text); got != want {
			t.Errorf("sentence(%q) = %q, want %q", text, got, want)
		}
	}
}
