package main

import "afterpour/econ"

// This file is the result contract that --json prints. Keys may be added, never
// renamed or removed, under the same schema version.

// schemaVersion is the version of the result contract that --json prints.
const schemaVersion = 1

// errorsJSON is what --json prints for a call that failed.
type errorsJSON struct {
	SchemaVersion int         `json:"schema_version"`
	Lot           string      `json:"lot,omitempty"`
	Errors        []errorJSON `json:"errors"`
}

// errorJSON is one problem; line and column are 0 where they are unknown.
type errorJSON struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Key     string `json:"key"`
	Message string `json:"message"`
	Hint    string `json:"hint"`
}

// standingsJSON is the result of `rank --json` for one lot.
type standingsJSON struct {
	SchemaVersion int         `json:"schema_version"`
	Lot           string      `json:"lot"`
	File          string      `json:"file"`
	Currency      string      `json:"currency"`
	PricesFile    string      `json:"prices_file"`
	PricesAsOf    *string     `json:"prices_as_of"` // null when no price is dated
	Seed          uint64      `json:"seed"`
	Draws         int         `json:"draws"`
	Metals        []metalJSON `json:"metals"`
	Verdict       verdictJSON `json:"verdict"`
	Baseline      string      `json:"baseline"`
	BaselineNet   *econ.Money `json:"baseline_net"` // null when no ending can be priced
	Plans         []planJSON  `json:"plans"`
	Notes         []string    `json:"notes"`
	StalePrices   []string    `json:"stale_prices"`
}

type metalJSON struct {
	Metal      string      `json:"metal"`
	ContainedG float64     `json:"contained_g"`
	SDG        float64     `json:"sd_g"`
	DissolvedG float64     `json:"dissolved_g"`
	SolidG     float64     `json:"solid_g"`
	SpotValue  *econ.Money `json:"spot_value"` // null without a spot price
}

type verdictJSON struct {
	Action    string      `json:"action"`
	Plan      string      `json:"plan"`
	Gain      *econ.Money `json:"gain"`
	PPositive *float64    `json:"p_positive"`
	Why       string      `json:"why"`
}

type planJSON struct {
	ID               string        `json:"id"`
	Routes           []string      `json:"routes"`
	Ending           string        `json:"ending"`
	FoldedInto       string        `json:"folded_into,omitempty"` // the same routes with a better way with the rest
	UserRoutes       []string      `json:"user_routes,omitempty"` // routes of the plan that are the user's own
	Blocked          *blockedJSON  `json:"blocked"`
	Net              *econ.Money   `json:"net"`
	Gain             *econ.Money   `json:"gain"`
	NetWithoutLabour *econ.Money   `json:"net_without_labour"`
	PerHour          *econ.Money   `json:"per_hour"`
	P10              *econ.Money   `json:"p10"`
	P50              *econ.Money   `json:"p50"`
	P90              *econ.Money   `json:"p90"`
	PPositive        *float64      `json:"p_positive"`
	PBest            *float64      `json:"p_best"`
	Revenue          *econ.Money   `json:"revenue"`
	Fees             *econ.Money   `json:"fees"`
	ReagentCost      *econ.Money   `json:"reagent_cost"`
	EnergyCost       *econ.Money   `json:"energy_cost"`
	LabourCost       *econ.Money   `json:"labour_cost"`
	ConsumableCost   *econ.Money   `json:"consumable_cost"`
	DisposalCost     *econ.Money   `json:"disposal_cost"`
	StorageCost      *econ.Money   `json:"storage_cost"`
	HandsOnH         *float64      `json:"hands_on_h"`
	ElapsedH         *float64      `json:"elapsed_h"`
	EnergyKWh        *float64      `json:"energy_kwh"`
	FreshAirM3       *float64      `json:"fresh_air_m3"`
	Products         []productJSON `json:"products"`
	Reagents         []reagentJSON `json:"reagents"`
	Gases            []gasJSON     `json:"gases"`
	Waste            []wasteJSON   `json:"waste"`
	Cautions         []string      `json:"cautions"`
	Lines            []lineJSON    `json:"lines"`
}

type blockedJSON struct {
	Route       string             `json:"route"`
	Step        string             `json:"step"`
	Rule        string             `json:"rule,omitempty"`     // of the hazard table, where one blocks
	Severity    string             `json:"severity,omitempty"` // "stop" can be acknowledged in the lot, "refuse" cannot
	Reason      string             `json:"reason"`
	Unreachable map[string]float64 `json:"unreachable"`
}

type productJSON struct {
	Form     string      `json:"form"`
	Metal    string      `json:"metal"`
	Compound string      `json:"compound,omitempty"`
	MassG    float64     `json:"mass_g"`
	Fineness float64     `json:"fineness"`
	MetalG   float64     `json:"metal_g"`
	PayableG float64     `json:"payable_g"`
	Sale     string      `json:"sale"`
	Receipts *econ.Money `json:"receipts"`
}

type reagentJSON struct {
	Reagent  string     `json:"reagent"`
	MassG    float64    `json:"mass_g"`
	VolumeML float64    `json:"volume_mL"`
	Cost     econ.Money `json:"cost"`
}

type gasJSON struct {
	Gas   string  `json:"gas"`
	MassG float64 `json:"mass_g"`
}

type wasteJSON struct {
	Class   string     `json:"class"`
	VolumeL float64    `json:"volume_L"`
	MassKg  float64    `json:"mass_kg"`
	Cost    econ.Money `json:"cost"`
}

type lineJSON struct {
	Category  string     `json:"category"`
	Item      string     `json:"item"`
	Quantity  float64    `json:"quantity"`
	Unit      string     `json:"unit"`
	Price     float64    `json:"price"`
	PriceUnit string     `json:"price_unit"`
	Amount    econ.Money `json:"amount"`
	PriceID   string     `json:"price_id"`
}
