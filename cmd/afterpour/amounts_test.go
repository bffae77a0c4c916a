package main

import (
	"testing"

	"afterpour/chem/units"
	"afterpour/econ"
)

func TestAmounts(t *testing.T) {
	for name, tc := range map[string]struct{ got, want string }{
		"money":             {money(12.345), "12.35"},
		"money, minus zero": {money(-0.001), "0.00"},
		"gain":              {signed(5), "+5.00"},
		"loss":              {signed(-5), "-5.00"},
		"no gain":           {signed(0.001), "0.00"},
		"missing":           {moneyOrDash(nil), "-"},
		"grams":             {grams(0.0328), "32.8"},
		"milligrams":        {grams(1.2e-6), "0.001"},
		"kilograms":         {grams(1.5), "1500"},
		"doubt":             {gramsWithDoubt(0.0328, 0.0041), "32.8 ± 4.1 g"},
		"large doubt":       {gramsWithDoubt(0.0328, 0.041), "33 ± 41 g"},
		"no doubt":          {gramsWithDoubt(0.0328, 0), "32.8 g"},
		"share":             {percent(0.996), "99.6 %"},
		"small share":       {percent(0.0123), "1.2 %"},
		"whole":             {percent(1), "100 %"},
		"hours":             {hours(3.24), "3.2 h"},
		"many hours":        {hours(123.4), "123 h"},
		"significant":       {significant(0.012345, 3), "0.0123"},
		"tiny":              {significant(1.5e-7, 2), "1.5e-07"},
		"nothing":           {significant(0, 3), "0"},
		"price":             {unitPrice(30), "30.00"},
		"small price":       {unitPrice(0.125), "0.125"},
		"odd price":         {unitPrice(41.105263), "41.11"},
		"pieces":            {howMuch(2), "2"},
		"part of a piece":   {howMuch(0.2), "0.200"},
	} {
		t.Run(name, func(t *testing.T) {
			if tc.got != tc.want {
				t.Errorf("got %q, want %q", tc.got, tc.want)
			}
		})
	}
}

func TestPlanTitle(t *testing.T) {
	for want, plan := range map[string]econ.PricedPlan{
		"copper-cementation; dispose of the rest":                        {Routes: []string{"copper-cementation"}, Ending: "dispose"},
		"chloride-soda-melt, then hydroxide; sell the rest as it stands": {Routes: []string{"chloride-soda-melt", "hydroxide"}, Ending: "sell-as-is"},
		"dispose of all of it":                                           {Ending: "dispose"},
		"hold it on the shelf":                                           {Ending: "hold"},
	} {
		if got := planTitle(&plan); got != want {
			t.Errorf("planTitle(%v) = %q, want %q", plan, got, want)
		}
	}
}

func TestMassText(t *testing.T) {
	if got, want := massText(units.Mass(1.23456)), "1.23 kg"; got != want {
		t.Errorf("massText = %q, want %q", got, want)
	}
}
