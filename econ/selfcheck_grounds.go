package econ

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"time"

	"afterpour/chem/data"
	"afterpour/chem/electro"
	"afterpour/chem/equil"
	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/thermal"
)

// Finite proves that no figure of the appraisal is infinite or no number, by
// walking all of it.
func Finite(a *Appraisal) Proof {
	p := proofOf("finite", "every figure is a number")
	n := p.walk(reflect.ValueOf(*a), func() string { return "" })
	return p.done("%s looked at", plural(n, "figure", "figures"))
}

// bounded are the types whose infinities are bounds, not figures.
var bounded = map[reflect.Type]bool{reflect.TypeFor[input.Figures](): true}

// walk looks at every exported float under v and returns how many there are.
// The path is only spelt out where something is wrong.
func (p *Proof) walk(v reflect.Value, path func() string) (n int) {
	switch v.Kind() {
	case reflect.Float64, reflect.Float32:
		if f := v.Float(); math.IsNaN(f) || math.IsInf(f, 0) {
			p.wrong("%s is %g", strings.TrimPrefix(path(), "."), f)
		}
		return 1
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			return p.walk(v.Elem(), path)
		}
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			n += p.walk(v.Index(i), func() string { return fmt.Sprintf("%s[%d]", path(), i) })
		}
	case reflect.Map:
		for _, key := range v.MapKeys() {
			n += p.walk(v.MapIndex(key), func() string { return fmt.Sprintf("%s[%v]", path(), key) })
		}
	case reflect.Struct:
		return p.walkFields(v, path)
	}
	return n
}

func (p *Proof) walkFields(v reflect.Value, path func() string) (n int) {
	if bounded[v.Type()] {
		return 0
	}
	for i := range v.NumField() {
		if f := v.Type().Field(i); f.IsExported() {
			n += p.walk(v.Field(i), func() string { return path() + "." + f.Name })
		}
	}
	return n
}

// FigureSources proves that every named input says where it comes from, and
// every figure of the ledger and every line by which relation it came about and
// on what it rests.
func FigureSources(a *Appraisal) Proof {
	p := proofOf("sources", "every figure says where it comes from")
	for r := range a.Figures.Len() {
		p.figure(a.Figures.Get(input.Ref(r)))
	}
	entries, lines := 0, 0
	seen := map[*route.StepRecord]bool{}
	for i := range a.Plans {
		plan := &a.Plans[i]
		if plan.Outcome == nil {
			continue
		}
		for j := range plan.Outcome.Steps {
			if step := &plan.Outcome.Steps[j]; !seen[step] {
				seen[step] = true
				entries += p.entries(plan.ID, step)
			}
		}
		for j := range plan.Lines {
			lines++
			p.grounded(plan.ID, plan.Lines[j].Item, plan.Lines[j].Why)
		}
	}
	return p.done("%s, %s of ledgers, %s of money looked up", plural(a.Figures.Len(), "named input", "named inputs"), plural(entries, "figure", "figures"), plural(lines, "line", "lines"))
}

func (p *Proof) figure(f input.Figure) {
	switch {
	case f.ID == "":
		p.wrong("an input has no name")
	case f.Origin == input.Typed && f.File == "" && f.Source == "":
		p.wrong("%s was typed, but in no file", f.ID)
	case f.Origin != input.Typed && f.Source == "":
		p.wrong("%s (%s) has no source", f.ID, f.Origin)
	}
}

func (p *Proof) entries(plan string, step *route.StepRecord) int {
	for k := range step.Entries {
		e := &step.Entries[k]
		p.grounded(plan, fmt.Sprintf("%s: %s %s", step.Step, e.Kind, e.Item), e.Why)
	}
	return len(step.Entries)
}

// grounded looks for the relation behind a figure and what it rests on.
func (p *Proof) grounded(plan, what string, why route.Why) {
	if why.Formula == "" || len(why.Inputs.Refs()) == 0 && len(why.Sources) == 0 {
		p.wrong("%s, %s: no relation, or nothing that it rests on", plan, what)
	}
}

// TableSources proves that the built-in tables load, which they do only if each
// of their rows names a source that is in the list of sources.
func TableSources() Proof {
	p := proofOf("tables", "every constant of the built-in tables names its source")
	rows := 0
	for name, load := range builtInTables {
		n, err := load()
		if err == nil && n == 0 {
			err = errors.New("no rows")
		}
		if err != nil {
			p.wrong("%s: %v", name, err)
		}
		rows += n
	}
	works, err := data.Sources()
	if err != nil {
		p.wrong("the list of sources: %v", err)
	}
	cited := len(works) + len(electro.Sources()) + len(thermal.Sources())
	return p.done("%s in %s loaded, from %s", plural(rows, "row", "rows"), plural(len(builtInTables), "table", "tables"), plural(cited, "cited work", "cited works"))
}

// builtInTables load every table and count its rows.
var builtInTables = map[string]func() (int, error){
	"elements":             func() (int, error) { return counted2(data.Elements()) },
	"species":              func() (int, error) { return counted2(data.SpeciesRows()) },
	"alloys":               func() (int, error) { return counted2(data.Alloys()) },
	"agents":               func() (int, error) { return counted2(data.Agents()) },
	"dissolving reactions": func() (int, error) { return counted2(data.DissolvingRows()) },
	"reagents":             func() (int, error) { return counted2(data.Reagents()) },
	"densities":            func() (int, error) { return counted2(data.Densities()) },
	"solutes":              func() (int, error) { return counted2(data.Solutes()) },
	"solubilities":         func() (int, error) { return counted2(data.SolubilityCurves()) },
	"water":                func() (int, error) { return counted2(data.WaterRows()) },
	"air limits":           func() (int, error) { return counted2(data.AirLimits()) },
	"waste limits":         func() (int, error) { return counted2(data.WasteLimits()) },
	"hazards":              func() (int, error) { return counted2(data.Hazards()) },
	"electrode potentials": func() (int, error) { return len(electro.Couples()), nil },
	"cell practice":        func() (int, error) { return len(electro.Practices()), nil },
	"equilibrium sets":     equilibriumRows,
}

func counted2[T any](list []T, err error) (int, error) { return len(list), err }

// equilibriumRows counts the sets of equilibrium constants, each of which is
// refused on loading if a row lacks its source.
func equilibriumRows() (int, error) {
	for _, name := range equil.SetNames() {
		if _, err := equil.LoadSet(name); err != nil {
			return 0, err
		}
	}
	return len(equil.SetNames()), nil
}

// PriceDates notes the prices that the money rests on and that are stale,
// undated or of a day to come, and those that are still the invented ones of the
// shipped book.
func PriceDates(a *Appraisal, b *Book, today time.Time) Proof {
	p := proofOf("prices", "the prices in use are your own, dated and not stale")
	used := map[string]Price{}
	for i := range a.Plans {
		if a.Plans[i].Priced() {
			for _, price := range a.Plans[i].used {
				used[price.ID] = price
			}
		}
	}
	for _, m := range a.Metals {
		if spot, ok := b.spots[m.Metal]; ok {
			used[spot.ID] = spot
		}
	}
	for _, id := range sortedKeys(used) {
		p.date(b, used[id], today)
	}
	if n := invented(a, used); n > 0 {
		p.note("%d of the %d prices in use are the invented ones that come with the program: enter your own before you believe the verdict", n, len(used))
	}
	return p.done("%s in use; the oldest is of %s, and one counts as stale after %s", plural(len(used), "price", "prices"), dayText(a.PricesAsOf), plural(b.StaleAfter, "day", "days"))
}

func (p *Proof) date(b *Book, price Price, today time.Time) {
	days, stale := b.age(price.Date, today)
	switch {
	case price.Date.IsZero():
		p.note("%s has no date, so nobody can tell whether it still holds", price.Path)
	case stale:
		p.note("%s is of %s, %s ago", price.Path, dayText(price.Date), plural(days, "day", "days"))
	case days < -1:
		p.note("%s is of %s, a day that is still to come", price.Path, dayText(price.Date))
	}
}

// invented counts the prices that are as in the shipped book, date and all.
func invented(a *Appraisal, used map[string]Price) (n int) {
	figures, shipped := shippedPrices()
	for id, price := range used {
		was, known := shipped[id]
		if known && was.Date.Equal(price.Date) && figures.Get(was.Ref).Text == a.Figures.Get(price.Ref).Text {
			n++
		}
	}
	return n
}

// shippedPrices are the prices of the shipped book by id, with their figures.
func shippedPrices() (*input.Figures, map[string]Price) {
	figures, prices := &input.Figures{}, map[string]Price{}
	doc, err := input.Parse(BookName, DefaultBook())
	if err != nil {
		return figures, prices
	}
	book, err := DecodeBook(doc, figures)
	if err != nil {
		return figures, prices
	}
	for _, price := range book.prices {
		prices[price.ID] = price
	}
	return figures, prices
}

func dayText(day time.Time) string {
	if day.IsZero() {
		return "no day"
	}
	return day.Format(time.DateOnly)
}
