package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"time"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"

	"afterpour/chem/input"
	"afterpour/econ"
)

// schemaVersion is the version of the result contract that --json prints.
const schemaVersion = 1

// printJSON writes one object on one line. The object is encoded whole before
// the first byte goes out, so a value that JSON cannot hold (NaN, infinite)
// fails without half an object on standard output.
func (p *program) printJSON(object any) error {
	var buffer bytes.Buffer
	encoder := json.NewEncoder(&buffer)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(object); err != nil {
		return fmt.Errorf("the result cannot be written as JSON: %w", err)
	}
	_, err := p.stdout.Write(escapeUnprintable(buffer.Bytes()))
	return err
}

// escapeUnprintable writes every rune that steers a terminal or hides in a
// text (C1 controls, bidirectional marks, zero-width characters) as a \u
// escape. Such runes stand inside JSON strings only, so the meaning of the
// JSON stays the same.
func escapeUnprintable(text []byte) []byte {
	out := make([]byte, 0, len(text))
	for len(text) > 0 {
		r, size := utf8.DecodeRune(text)
		switch {
		case r == '\n' || unicode.IsPrint(r):
			out = append(out, text[:size]...)
		case r > 0xFFFF:
			high, low := utf16.EncodeRune(r)
			out = fmt.Appendf(out, `\u%04x\u%04x`, high, low)
		default:
			out = fmt.Appendf(out, `\u%04x`, r)
		}
		text = text[size:]
	}
	return out
}

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

func newErrorsJSON(lot string, problems input.Problems) errorsJSON {
	object := errorsJSON{SchemaVersion: schemaVersion, Lot: lot, Errors: []errorJSON{}}
	for _, problem := range problems {
		object.Errors = append(object.Errors, errorJSON{
			File: problem.File, Line: problem.Position.Line, Column: problem.Position.Column,
			Key: problem.Key, Message: problem.Message, Hint: problem.Hint,
		})
	}
	return object
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

func newStandingsJSON(file, book string, a *econ.Appraisal) standingsJSON {
	object := standingsJSON{
		SchemaVersion: schemaVersion, Lot: a.Lot, File: file,
		Currency: a.Currency, PricesFile: book, PricesAsOf: dateOrNull(a.PricesAsOf),
		Seed: a.Seed, Draws: a.Draws,
		Metals: []metalJSON{}, Plans: []planJSON{},
		Notes: orEmpty(a.Notes), StalePrices: orEmpty(a.Stale),
		Baseline: a.Baseline,
		Verdict: verdictJSON{
			Action: a.Verdict.Action, Plan: a.Verdict.Plan,
			PPositive: a.Verdict.PPositive, Why: a.Verdict.Why,
		},
	}
	if a.Baseline != "" {
		object.BaselineNet = &a.BaselineNet
	}
	if a.Verdict.Plan != "" {
		object.Verdict.Gain = &a.Verdict.Gain
	}
	for _, m := range a.Metals {
		object.Metals = append(object.Metals, metalJSON{
			Metal: m.Metal, ContainedG: m.Contained.Grams(), SDG: m.SD.Grams(),
			DissolvedG: m.Dissolved.Grams(), SolidG: m.Solid.Grams(), SpotValue: m.SpotValue,
		})
	}
	for i := range a.Plans {
		object.Plans = append(object.Plans, newPlanJSON(&a.Plans[i]))
	}
	return object
}

func newPlanJSON(plan *econ.PricedPlan) planJSON {
	object := planJSON{
		ID: plan.ID, Routes: orEmpty(plan.Routes), Ending: plan.Ending, Blocked: newBlockedJSON(plan),
		Products: []productJSON{}, Reagents: []reagentJSON{}, Gases: []gasJSON{},
		Waste: []wasteJSON{}, Lines: []lineJSON{}, Cautions: orEmpty(plan.Cautions),
	}
	if !plan.Priced() {
		return object
	}
	object.money(plan)
	object.odds(plan.Odds)
	object.matter(plan)
	for _, l := range plan.Lines {
		object.Lines = append(object.Lines, lineJSON{
			Category: string(l.Category), Item: l.Item, Quantity: l.Quantity, Unit: l.Unit,
			Price: l.Price, PriceUnit: l.PriceUnit, Amount: l.Amount, PriceID: l.PriceID,
		})
	}
	return object
}

func newBlockedJSON(plan *econ.PricedPlan) *blockedJSON {
	if plan.Blocked == nil {
		return nil
	}
	b := &blockedJSON{
		Route: plan.Blocked.Route, Step: plan.Blocked.Step,
		Reason: plan.Blocked.Reason, Unreachable: plan.Blocked.Unreachable,
	}
	if b.Unreachable == nil {
		b.Unreachable = map[string]float64{}
	}
	return b
}

func (object *planJSON) money(plan *econ.PricedPlan) {
	object.Net, object.Gain, object.NetWithoutLabour = &plan.Net, &plan.Gain, &plan.NetWithoutLabour
	object.PerHour = plan.PerHour
	object.Revenue, object.Fees, object.ReagentCost = &plan.Revenue, &plan.Fees, &plan.ReagentCost
	object.EnergyCost, object.LabourCost, object.ConsumableCost = &plan.EnergyCost, &plan.LabourCost, &plan.ConsumableCost
	object.DisposalCost, object.StorageCost = &plan.DisposalCost, &plan.StorageCost
	object.HandsOnH, object.ElapsedH = &plan.HandsOnH, &plan.ElapsedH
	object.EnergyKWh, object.FreshAirM3 = &plan.EnergyKWh, &plan.FreshAirM3
}

func (object *planJSON) odds(o *econ.Odds) {
	if o == nil {
		return
	}
	object.P10, object.P50, object.P90 = &o.P10, &o.P50, &o.P90
	object.PPositive, object.PBest = &o.PPositive, &o.PBest
}

func (object *planJSON) matter(plan *econ.PricedPlan) {
	for i := range plan.Products {
		product := &plan.Products[i]
		object.Products = append(object.Products, productJSON{
			Form: product.Form, Metal: product.Metal, Compound: product.Compound,
			MassG: product.Mass.Grams(), Fineness: product.Fineness, MetalG: product.MetalMass.Grams(),
			PayableG: product.PayableMass.Grams(), Sale: product.Sale, Receipts: &product.Receipts,
		})
	}
	for _, r := range plan.Reagents {
		object.Reagents = append(object.Reagents, reagentJSON{
			Reagent: r.Name, MassG: r.Mass.Grams(), VolumeML: r.Volume.Millilitres(), Cost: r.Cost,
		})
	}
	for _, g := range plan.Gases {
		object.Gases = append(object.Gases, gasJSON{Gas: g.Gas, MassG: g.Mass.Grams()})
	}
	for _, w := range plan.Waste {
		object.Waste = append(object.Waste, wasteJSON{
			Class: w.Class, VolumeL: w.Volume.Litres(), MassKg: w.Mass.Kilograms(), Cost: w.Cost,
		})
	}
}

func dateOrNull(day time.Time) *string {
	if day.IsZero() {
		return nil
	}
	text := day.Format(time.DateOnly)
	return &text
}

func orEmpty(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}
