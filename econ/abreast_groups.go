package econ

import "afterpour/chem/route"

// union lists what any of the plans names, in the order it is first named.
func (b *abreast) union(names func(*PricedPlan) []string) []string {
	var list []string
	for _, p := range b.plans {
		if !p.Priced() {
			continue
		}
		for _, name := range names(p) {
			if !contains(list, name) {
				list = append(list, name)
			}
		}
	}
	return list
}

// namesOf lists the name of every item.
func namesOf[T any](list []T, name func(*T) string) []string {
	names := make([]string, len(list))
	for i := range list {
		names[i] = name(&list[i])
	}
	return names
}

// sumOf adds up the items of that name; absent where there is none.
func sumOf[T any](list []T, name func(*T) string, wanted string, value func(*T) float64) figure {
	var f figure
	for i := range list {
		if name(&list[i]) == wanted {
			f.value, f.there = f.value+value(&list[i]), true
		}
	}
	return f
}

func (b *abreast) metal() {
	name := func(m *PlanMetal) string { return m.Metal }
	for _, metal := range b.union(func(p *PricedPlan) []string { return namesOf(p.Metals, name) }) {
		row := func(label string, better int8, value func(*PlanMetal) float64) {
			b.add(metal+" "+label, "g", better, isAmount, func(p *PricedPlan) figure { return sumOf(p.Metals, name, metal, value) })
		}
		row("recovered", 1, func(m *PlanMetal) float64 { return m.Recovered.Grams() })
		row("payable", 1, func(m *PlanMetal) float64 { return m.Payable.Grams() })
		row("contained", 0, func(m *PlanMetal) float64 { return m.Contained.Grams() })
	}
	b.take("Metal")
}

// productName tells products apart as a buyer does.
func productName(p *PlanProduct) string {
	if p.Compound != "" {
		return p.Compound
	}
	return p.Metal + " " + p.Form
}

func (b *abreast) products() {
	products := b.union(func(p *PricedPlan) []string { return namesOf(p.Products, productName) })
	if len(products) > 0 {
		b.coins("receipts", 1, func(p *PricedPlan) Money { return p.Revenue })
	}
	for _, name := range products {
		b.add(name, "g", 0, isAmount, func(p *PricedPlan) figure {
			return sumOf(p.Products, productName, name, func(x *PlanProduct) float64 { return x.Mass.Grams() })
		})
		b.add(name+", fineness", "‰", 1, isRatio, func(p *PricedPlan) figure { return fineness(p.Products, name) })
	}
	b.take("Products")
}

// fineness of all products of a name together, weighted by mass.
func fineness(products []PlanProduct, name string) figure {
	mass := sumOf(products, productName, name, func(x *PlanProduct) float64 { return x.Mass.Grams() })
	fine := sumOf(products, productName, name, func(x *PlanProduct) float64 { return x.Mass.Grams() * x.Fineness })
	if !(mass.value > 0) {
		return figure{}
	}
	return amount(fine.value / mass.value)
}

func (b *abreast) reagents() {
	name := func(r *PlanReagent) string { return r.Name }
	all := b.union(func(p *PricedPlan) []string { return namesOf(p.Reagents, name) })
	if len(all) > 0 {
		b.coins("cost of all reagents", -1, func(p *PricedPlan) Money { return p.ReagentCost })
	}
	for _, reagent := range all {
		b.add(reagent, "g", -1, isAmount, func(p *PricedPlan) figure {
			return sumOf(p.Reagents, name, reagent, func(r *PlanReagent) float64 { return r.Mass.Grams() })
		})
	}
	b.take("Reagents")
}

// effort makes the groups of energy and of time.
func (b *abreast) effort() {
	spent := func(kind route.EntryKind) func(*PricedPlan) figure {
		return func(p *PricedPlan) figure {
			if p.Outcome == nil {
				return figure{}
			}
			sum := p.Outcome.Sum(kind)
			return figure{sum, sum > 0}
		}
	}
	b.add("energy", "kWh", -1, isAmount, func(p *PricedPlan) figure { return amount(p.EnergyKWh) })
	b.add("electricity", "kWh", -1, isAmount, spent(route.Electricity))
	b.add("gas burnt", "kWh", -1, isAmount, spent(route.Fuel))
	b.take("Energy")
	b.add("hands-on", "h", -1, isAmount, func(p *PricedPlan) figure { return amount(p.HandsOnH) })
	b.add("from start to end", "h", -1, isAmount, func(p *PricedPlan) figure { return amount(p.ElapsedH) })
	b.take("Time")
}

func (b *abreast) air() {
	b.add("fresh air", "m3", -1, isAmount, func(p *PricedPlan) figure { return amount(p.FreshAirM3) })
	name := func(g *PlanGas) string { return g.Gas }
	for _, gas := range b.union(func(p *PricedPlan) []string { return namesOf(p.Gases, name) }) {
		b.add(gas, "g", -1, isAmount, func(p *PricedPlan) figure {
			return sumOf(p.Gases, name, gas, func(g *PlanGas) float64 { return g.Mass.Grams() })
		})
	}
	b.take("Air")
}

// waste gives each class by volume where it has one in any plan, else by mass.
func (b *abreast) waste() {
	name := func(w *PlanWaste) string { return w.Class }
	kilograms := func(w *PlanWaste) float64 { return w.Mass.Kilograms() }
	all := b.union(func(p *PricedPlan) []string { return namesOf(p.Waste, name) })
	if len(all) > 0 {
		b.add("all waste", "kg", -1, isAmount, func(p *PricedPlan) figure {
			var f figure
			for i := range p.Waste {
				f.value, f.there = f.value+kilograms(&p.Waste[i]), true
			}
			return f
		})
	}
	for _, class := range all {
		unit, value := "kg", kilograms
		for _, p := range b.plans {
			if f := sumOf(p.Waste, name, class, func(w *PlanWaste) float64 { return w.Volume.Litres() }); f.value > 0 {
				unit, value = "L", func(w *PlanWaste) float64 { return w.Volume.Litres() }
			}
		}
		b.add(words(class), unit, -1, isAmount, func(p *PricedPlan) figure { return sumOf(p.Waste, name, class, value) })
	}
	b.take("Waste")
}

func (b *abreast) bench() {
	b.add("vessel at the fullest", "L", -1, isAmount, func(p *PricedPlan) figure { return amount(p.LargestVolume.Litres()) })
	b.add("cautions", "", -1, isAmount, func(p *PricedPlan) figure { return amount(float64(len(p.Cautions))) })
	b.take("Vessel and cautions")
}

func (b *abreast) money() {
	b.coins("net", 1, func(p *PricedPlan) Money { return p.Net })
	b.coins("gain", 1, func(p *PricedPlan) Money { return p.Gain })
	b.coins("net without own labour", 1, func(p *PricedPlan) Money { return p.NetWithoutLabour })
	b.add("net per hands-on hour", b.currency, 1, isRatio, func(p *PricedPlan) figure {
		if p.PerHour == nil {
			return figure{}
		}
		return amount(p.PerHour.Float())
	}).Money = true
	for _, category := range Categories {
		better := int8(-1)
		if category == Revenue {
			better = 1
		}
		b.coins(string(category), better, func(p *PricedPlan) Money { return p.Under(category) })
	}
	b.take("Money")
}

// Under is a plan's receipts or costs under one heading; never negative.
func (p *PricedPlan) Under(c Category) Money {
	switch c {
	case Revenue:
		return p.Revenue
	case Fees:
		return p.Fees
	case Reagents:
		return p.ReagentCost
	case Energy:
		return p.EnergyCost
	case Labour:
		return p.LabourCost
	case Consumables:
		return p.ConsumableCost
	case Disposal:
		return p.DisposalCost
	case Storage:
		return p.StorageCost
	}
	return 0
}

func (b *abreast) odds() {
	row := func(label, unit string, value func(*Odds) float64) *AbreastRow {
		return b.add(label, unit, 1, isRatio, func(p *PricedPlan) figure {
			if p.Odds == nil {
				return figure{}
			}
			return amount(value(p.Odds))
		})
	}
	const percent = 100
	row("odds of a gain", "%", func(o *Odds) float64 { return percent * o.PPositive })
	row("odds of being the best", "%", func(o *Odds) float64 { return percent * o.PBest })
	for _, p := range []struct {
		label string
		value func(*Odds) float64
	}{
		{"10 in 100 end below", func(o *Odds) float64 { return o.P10.Float() }},
		{"half end below", func(o *Odds) float64 { return o.P50.Float() }},
		{"90 in 100 end below", func(o *Odds) float64 { return o.P90.Float() }},
	} {
		row(p.label, b.currency, p.value).Money = true
	}
	b.take("Odds")
}
