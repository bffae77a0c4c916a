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
	object.FoldedInto = plan.FoldedInto
	if plan.Outcome != nil {
		object.UserRoutes = plan.Outcome.UserRoutes
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
		Rule: plan.Blocked.Rule, Severity: plan.Blocked.Severity,
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
