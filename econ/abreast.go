package econ

import "math"

// AbreastGroup is the lines about one matter when plans are set side by side.
// Its first row speaks for the group where the others are folded away.
type AbreastGroup struct {
	Title string       `json:"title"`
	Rows  []AbreastRow `json:"rows"`
}

// AbreastRow is one figure of several plans, in the order of the plans.
//
// A blocked plan has no figures. A plan that lacks a thing that others have (a
// reagent, a gas) is not present in its row and counts as none of it; of a
// figure that is no amount (fineness, money an hour) there is then no
// difference either.
type AbreastRow struct {
	Label       string    `json:"label"`
	Unit        string    `json:"unit"`  // "g", "h", "%", the currency; "" for a count
	Money       bool      `json:"money"` // Unit is the currency
	Values      []float64 `json:"values"`
	Differences []float64 `json:"differences"` // to the first plan; 0 where Compared is false
	Present     []bool    `json:"present"`     // the plan has such a thing
	Compared    []bool    `json:"compared"`    // Differences means something
	Best        []bool    `json:"best"`        // better than another plan and beaten by none
	Better      int8      `json:"better"`      // +1 more is better, -1 less is better, 0 neither
}

// Differs reports that the plans are not all the same in this row.
func (r *AbreastRow) Differs() bool {
	for i := range r.Values {
		if r.Present[i] != r.Present[0] || !same(r.Values[i], r.Values[0]) {
			return true
		}
	}
	return false
}

// Abreast sets plans side by side, line by line: metal, products, reagents,
// energy, time, air, waste, vessel and money, and the odds once there are any.
// Differences are to the first plan. A row that no plan has is left out, and so
// is a group without rows.
func Abreast(currency string, plans []*PricedPlan) []AbreastGroup {
	b := &abreast{currency: currency, plans: plans}
	b.metal()
	b.products()
	b.reagents()
	b.effort()
	b.air()
	b.waste()
	b.bench()
	b.money()
	b.odds()
	return b.groups
}

// abreast collects the groups of some plans.
type abreast struct {
	currency string
	plans    []*PricedPlan
	rows     []AbreastRow
	groups   []AbreastGroup
}

// figure is one plan's value in a row; absent for none.
type figure struct {
	value float64
	there bool
}

func amount(v float64) figure { return figure{v, true} }

// sort of row: of an amount, lacking it is having none of it.
const (
	isAmount = true
	isRatio  = false
)

// add makes a row of what value says of every plan that can be priced.
func (b *abreast) add(label, unit string, better int8, ofAmount bool, value func(*PricedPlan) figure) *AbreastRow {
	n := len(b.plans)
	r := AbreastRow{
		Label: label, Unit: unit, Better: better, Values: make([]float64, n), Differences: make([]float64, n),
		Present: make([]bool, n), Compared: make([]bool, n), Best: make([]bool, n),
	}
	counts := make([]bool, n)
	any := false
	for i, p := range b.plans {
		if !p.Priced() {
			continue
		}
		f := value(p)
		f.there = f.there && !math.IsNaN(f.value) && !math.IsInf(f.value, 0)
		if f.there {
			r.Values[i], r.Present[i] = f.value, true
		}
		counts[i] = f.there || ofAmount
		any = any || f.there
	}
	if !any {
		return &AbreastRow{}
	}
	r.compare(counts)
	b.rows = append(b.rows, r)
	return &b.rows[len(b.rows)-1]
}

// compare fills in the differences and the winners among the plans that count.
func (r *AbreastRow) compare(counts []bool) {
	for i := range r.Values {
		if r.Compared[i] = counts[i] && counts[0]; r.Compared[i] {
			r.Differences[i] = r.Values[i] - r.Values[0]
		}
		r.Best[i] = counts[i] && r.wins(i, counts)
	}
}

func (r *AbreastRow) wins(i int, counts []bool) bool {
	beats := false
	for j := range r.Values {
		if j == i || !counts[j] || same(r.Values[i], r.Values[j]) {
			continue
		}
		if float64(r.Better)*(r.Values[i]-r.Values[j]) <= 0 {
			return false
		}
		beats = true
	}
	return beats
}

// same compares two figures of a row: what differs by rounding is the same.
func same(a, b float64) bool {
	return math.Abs(a-b) <= 1e-9*math.Max(1e-3, math.Max(math.Abs(a), math.Abs(b)))
}

// coins makes a row of money.
func (b *abreast) coins(label string, better int8, value func(*PricedPlan) Money) {
	b.add(label, b.currency, better, isAmount, func(p *PricedPlan) figure { return amount(value(p).Float()) }).Money = true
}

// take ends a group.
func (b *abreast) take(title string) {
	if len(b.rows) > 0 {
		b.groups = append(b.groups, AbreastGroup{Title: title, Rows: b.rows})
	}
	b.rows = nil
}
