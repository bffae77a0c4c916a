package tui

import (
	"math"

	"afterpour/econ"
)

// builder collects comparisons of the same plans.
type builder struct {
	plans []*econ.PricedPlan
	rows  []comparison
}

// add makes a line of one figure of every plan; present says whether a plan has
// such a thing.
func (b *builder) add(label, unit string, better int8, format func(float64) string, value func(*econ.PricedPlan) (float64, bool)) {
	c := comparison{label: label, unit: unit, better: better}
	for _, p := range b.plans {
		v, present := value(p)
		text := ""
		if present && !math.IsNaN(v) {
			text = format(v)
		}
		c.values, c.texts = append(c.values, v), append(c.texts, text)
	}
	b.rows = append(b.rows, c)
}

// money adds an amount of money.
func (b *builder) money(label, unit string, better int8, value func(*econ.PricedPlan) econ.Money) {
	b.add(label, unit, better, func(v float64) string { return money(econ.Money(v)) },
		func(p *econ.PricedPlan) (float64, bool) { return float64(value(p)), true })
}

// figure adds a figure that every plan has.
func (b *builder) figure(label, unit string, better int8, value func(*econ.PricedPlan) float64) {
	b.add(label, unit, better, func(v float64) string { return significant(v, 3) },
		func(p *econ.PricedPlan) (float64, bool) { return value(p), true })
}

// take ends a section and begins the next.
func (b *builder) take(title string) section {
	s := section{title, b.rows}
	b.rows = nil
	return s
}

// sections are all comparisons of some plans.
func sections(a *econ.Appraisal, plans []*econ.PricedPlan) []section {
	b := &builder{plans: plans}
	return []section{moneySection(b, a.Currency), metalSection(b), reagentSection(b), effortSection(b), airSection(b), wasteSection(b)}
}

func moneySection(b *builder, unit string) section {
	b.money("net", unit, 1, func(p *econ.PricedPlan) econ.Money { return p.Net })
	b.money("gain", unit, 1, func(p *econ.PricedPlan) econ.Money { return p.Gain })
	b.money("net without own labour", unit, 1, func(p *econ.PricedPlan) econ.Money { return p.NetWithoutLabour })
	b.add("per hands-on hour", unit, 1, func(v float64) string { return money(econ.Money(v)) }, func(p *econ.PricedPlan) (float64, bool) {
		if p.PerHour == nil {
			return 0, false
		}
		return float64(*p.PerHour), true
	})
	for _, category := range econ.Categories {
		better := int8(-1)
		if category == econ.Revenue {
			better = 1
		}
		b.money(string(category), unit, better, func(p *econ.PricedPlan) econ.Money { return byCategory(p, category) })
	}
	return b.take("Money")
}

// byCategory is a plan's receipts or costs under one heading.
func byCategory(p *econ.PricedPlan, c econ.Category) econ.Money {
	switch c {
	case econ.Revenue:
		return p.Revenue
	case econ.Fees:
		return p.Fees
	case econ.Reagents:
		return p.ReagentCost
	case econ.Energy:
		return p.EnergyCost
	case econ.Labour:
		return p.LabourCost
	case econ.Consumables:
		return p.ConsumableCost
	case econ.Disposal:
		return p.DisposalCost
	}
	return p.StorageCost
}

func metalSection(b *builder) section {
	metals := union(b.plans, func(p *econ.PricedPlan) []string {
		return names(p.Metals, func(m econ.PlanMetal) string { return m.Metal })
	})
	for _, metal := range metals {
		of := func(p *econ.PricedPlan) (econ.PlanMetal, bool) {
			return find(p.Metals, func(m econ.PlanMetal) bool { return m.Metal == metal })
		}
		format := func(v float64) string { return significant(v, 3) }
		b.add(metal+" recovered", "g", 1, format, func(p *econ.PricedPlan) (float64, bool) { m, ok := of(p); return m.Recovered.Grams(), ok })
		b.add(metal+" payable", "g", 1, format, func(p *econ.PricedPlan) (float64, bool) { m, ok := of(p); return m.Payable.Grams(), ok })
	}
	return b.take("Metal")
}

func reagentSection(b *builder) section {
	for _, name := range union(b.plans, func(p *econ.PricedPlan) []string {
		return names(p.Reagents, func(r econ.PlanReagent) string { return r.Name })
	}) {
		b.add(name, "g", -1, func(v float64) string { return significant(v, 3) }, func(p *econ.PricedPlan) (float64, bool) {
			r, ok := find(p.Reagents, func(r econ.PlanReagent) bool { return r.Name == name })
			return r.Mass.Grams(), ok
		})
	}
	return b.take("Reagents")
}

func effortSection(b *builder) section {
	b.figure("energy", "kWh", -1, func(p *econ.PricedPlan) float64 { return p.EnergyKWh })
	b.figure("hands-on time", "h", -1, func(p *econ.PricedPlan) float64 { return p.HandsOnH })
	b.figure("from start to end", "h", -1, func(p *econ.PricedPlan) float64 { return p.ElapsedH })
	b.figure("vessel at the fullest", "L", -1, func(p *econ.PricedPlan) float64 { return p.LargestVolume.Litres() })
	return b.take("Energy, time, vessel")
}

func airSection(b *builder) section {
	for _, gas := range union(b.plans, func(p *econ.PricedPlan) []string {
		return names(p.Gases, func(g econ.PlanGas) string { return g.Gas })
	}) {
		b.add(gas, "g", -1, func(v float64) string { return significant(v, 3) }, func(p *econ.PricedPlan) (float64, bool) {
			g, ok := find(p.Gases, func(g econ.PlanGas) bool { return g.Gas == gas })
			return g.Mass.Grams(), ok
		})
	}
	b.figure("fresh air", "m3", -1, func(p *econ.PricedPlan) float64 { return p.FreshAirM3 })
	return b.take("Air")
}

func wasteSection(b *builder) section {
	for _, class := range union(b.plans, func(p *econ.PricedPlan) []string {
		return names(p.Waste, func(w econ.PlanWaste) string { return w.Class })
	}) {
		of := func(p *econ.PricedPlan) (econ.PlanWaste, bool) {
			return find(p.Waste, func(w econ.PlanWaste) bool { return w.Class == class })
		}
		b.add(class, "kg", -1, func(v float64) string { return significant(v, 3) }, func(p *econ.PricedPlan) (float64, bool) {
			w, ok := of(p)
			return w.Mass.Kilograms(), ok
		})
	}
	b.add("cautions", "", -1, counted, func(p *econ.PricedPlan) (float64, bool) { return float64(len(p.Cautions)), true })
	return b.take("Waste and cautions")
}

// union lists what any of the plans names, in the order it is first named.
func union(plans []*econ.PricedPlan, of func(*econ.PricedPlan) []string) []string {
	var list []string
	seen := map[string]bool{}
	for _, p := range plans {
		for _, name := range of(p) {
			if !seen[name] {
				seen[name] = true
				list = append(list, name)
			}
		}
	}
	return list
}

func names[T any](list []T, name func(T) string) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = name(v)
	}
	return out
}

func find[T any](list []T, match func(T) bool) (T, bool) {
	for _, v := range list {
		if match(v) {
			return v, true
		}
	}
	var nothing T
	return nothing, false
}
