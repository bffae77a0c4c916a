package econ

import (
	"math"
	"strings"
	"testing"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// smallBook is a complete book with easy figures, for hand calculations. All
// figures are invented.
const smallBook = `currency    = "USD"
stale_after = "30 days"
packs       = "pro rata"

[spot.Ag]
price = "30.00 / ozt"   # keep this comment
date  = 2026-11-20

[spot.Cu]
price = "10.00 / kg"
date  = 2026-10-01

[sale.silver-bar]
metal    = "Ag"
form     = "bar"
payable  = "94 %"
fineness = "900..1000"
fee      = "25.00"
minimum  = "0.00"
freight  = "12.00"
date     = 2026-11-20

[sale.silver-scrap]
metal    = "Ag"
form     = "bar"
payable  = "80 %"
fineness = "500..1000"
fee      = "40.00"
freight  = "12.00"
date     = 2026-11-20

[sale.copper-cement]
metal     = "Cu"
form      = "cement"
payable   = "60 %"
fineness  = "600..1000"
penalties = { Pb = "5.00 / kg" }
allowed   = { Pb = "1 %" }
limits    = { Hg = "0.1 %" }
minimum   = "8.00"
date      = 2026-11-20

[sale.copper-sulfate]
metal    = "Cu"
form     = "salt"
compound = "CuSO4·5H2O"
price    = "6.00 / kg"
fineness = "980..1000"
freight  = "10.00"
date     = 2026-11-20

[reagent.sodium-hydroxide]
formula  = "NaOH"
strength = "98 %"
pack     = "1 kg"
price    = "9.00"
on_hand  = "50 g"
date     = 2026-11-20

[reagent.sulfuric-acid]
formula  = "H2SO4"
strength = "93 %"
pack     = "1 L"
price    = "20.00"
on_hand  = "0 mL"
date     = 2026-11-20

[consumable.filter-paper]
pack  = "100"
price = "15.00"

[energy]
electricity = "0.20 / kWh"
gas         = "0.12 / kWh"

[labour]
rate = "20.00 / h"

[disposal.acid-metal-liquor]
price   = "4.00 / L"
minimum = "60.00"

[disposal.slag]
price = "2.00 / kg"

[storage]
price = "1.00 / month"
keep  = "12 months"

[bench]
largest_vessel = "2 L"
heater         = "800 W"
supply         = "12 V, 5 A"
cathode_area   = "100 cm2"
extraction     = "0 m3/h"
room           = "30 m3"
air_changes    = "2 / h"
melting        = "torch"
balance        = "0.01 g"
separation     = "decant"
`

// parse parses a book that must be well-formed TOML.
func parse(t testing.TB, text string) *input.Document {
	t.Helper()
	doc, err := input.Parse("prices.toml", []byte(text))
	if err != nil {
		t.Fatalf("Parse: %v", err)
	}
	return doc
}

// decoded decodes a book that must be right, with its central values.
func decoded(t testing.TB, text string) (*Book, input.Values) {
	t.Helper()
	figs := &input.Figures{}
	b, err := DecodeBook(parse(t, text), figs)
	if err != nil {
		t.Fatalf("DecodeBook:\n%v", err)
	}
	return b, figs.Central()
}

// without returns the book's text without the table of that header.
func without(t testing.TB, text, header string) string {
	t.Helper()
	start := strings.Index(text, header+"\n")
	if start < 0 {
		t.Fatalf("no table %s", header)
	}
	end := strings.Index(text[start+1:], "\n[")
	if end < 0 {
		return text[:start]
	}
	return text[:start] + text[start+1+end+1:]
}

// swapped returns the text with one old line part replaced by a new one.
func swapped(t testing.TB, text, old, changed string) string {
	t.Helper()
	if strings.Count(text, old) < 1 {
		t.Fatalf("the book does not hold %q", old)
	}
	return strings.Replace(text, old, changed, 1)
}

// near compares with a tolerance, absolute or relative.
func near(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if diff := math.Abs(got - want); !(diff <= tolerance || diff <= tolerance*math.Abs(want)) {
		t.Errorf("%s = %.12g, want %.12g", what, got, want)
	}
}

// day is midnight UTC of a date.
func day(y int, m time.Month, d int) time.Time { return time.Date(y, m, d, 0, 0, 0, 0, time.UTC) }

// silverWork is a ledger made by hand: two steps that take lye, acid, power,
// gas, hours and filter papers, and give a bar with two troy ounces of silver,
// three litres of acid liquor and 100 g of slag.
func silverWork() route.Outcome {
	return route.Outcome{
		Plan: route.NewPlan([]string{"chloride-oxide-sugar"}, "dispose"),
		Steps: []route.StepRecord{
			{Step: "caustic", Entries: []route.Entry{
				{Kind: route.Reagent, Item: "sodium-hydroxide", Amount: 200},
				{Kind: route.HandsOn, Amount: 1.5},
				{Kind: route.Elapsed, Amount: 5},
				{Kind: route.Consumable, Item: "filter-paper", Amount: 3},
				{Kind: route.Vessel, Amount: 1.8},
			}},
			{Step: "melt", Entries: []route.Entry{
				{Kind: route.Reagent, Item: "sodium-hydroxide", Amount: 100},
				{Kind: route.Reagent, Item: "sulfuric-acid", Amount: 183, Volume: 0.1},
				{Kind: route.Electricity, Item: "heater", Amount: 1.5},
				{Kind: route.Fuel, Amount: 0.5},
				{Kind: route.HandsOn, Amount: 2.5},
				{Kind: route.Elapsed, Amount: 3},
				{Kind: route.Gas, Item: "NO2", Amount: 4},
				{Kind: route.FreshAir, Amount: 2000},
				{Kind: route.Consumable, Item: "filter-paper", Amount: 1},
			}},
		},
		Products: []route.Product{{
			Form: "bar", Sale: "silver-bar", Route: "chloride-oxide-sugar", Metal: "Ag",
			Mass: 2 * units.TroyOunce / 0.95, MetalMass: 2 * units.TroyOunce, Fineness: 950,
			Composition: []route.Share{{Element: "Ag", Share: 0.95}, {Element: "Cu", Share: 0.05}},
		}},
		Waste: []route.Waste{
			{Class: "acid-metal-liquor", Volume: 3, Mass: 3.3, PH: 1, Metals: []route.Share{{Element: "Cu", Share: 0.02}, {Element: "Ag", Share: 0.001}}},
			{Class: "slag", Mass: 0.1},
		},
	}
}
