package econ

import (
	"context"
	"strings"
	"sync"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/route"
)

// roomy is the built-in book with a hood, a large vessel and fresh air, so that
// every route that chemistry allows has a sheet; more are further replacements.
func roomy(more ...string) string {
	return strings.NewReplacer(append([]string{
		`extraction     = "0 m3/h"`, `extraction     = "2000 m3/h"`,
		`largest_vessel = "5 L"`, `largest_vessel = "20 L"`,
		`air_changes    = "2 / h"`, `air_changes    = "12 / h"`,
	}, more...)...).Replace(string(DefaultBook()))
}

// readRequest is request without a test to fail.
func readRequest(name string, lotText, bookText []byte) (Request, error) {
	lib, err := route.Builtin()
	if err != nil {
		return Request{}, err
	}
	figs := lib.Figures().Clone()
	doc, err := input.Parse(name, lotText)
	if err != nil {
		return Request{}, err
	}
	l, err := lot.Decode(doc, figs)
	if err != nil {
		return Request{}, err
	}
	bookDoc, err := input.Parse(BookName, bookText)
	if err != nil {
		return Request{}, err
	}
	book, err := DecodeBook(bookDoc, figs)
	return Request{Lot: l, Figures: figs, Library: lib, Book: book, Today: day(2026, 11, 21), Seed: 1}, err
}

// sheet makes the sheet of one plan of a sample lot.
func sheet(t testing.TB, lotName string, book []byte, plan string) *Sheet {
	t.Helper()
	req := request(t, lotName, sampleLots(t)[lotName], book)
	s, err := BenchSheet(context.Background(), appraised(t, req), plan)
	if err != nil {
		t.Fatalf("%s, %s: %v", lotName, plan, err)
	}
	return s
}

// made is one sheet with what it was made from.
type made struct {
	name    string
	sheet   *Sheet
	outcome *route.Outcome
	routes  []string
}

// everySheet makes a sheet of every route that any sample lot can follow on a
// roomy bench, decanting and filtering, once for all tests.
var everySheet = sync.OnceValues(func() ([]made, error) {
	var list []made
	for _, name := range lot.SampleNames() {
		text, err := lot.Sample(name)
		if err != nil {
			return nil, err
		}
		for _, parting := range []string{"decant", "filter"} {
			more, err := sheetsOf(name+", "+parting, text, parting)
			if err != nil {
				return nil, err
			}
			list = append(list, more...)
		}
	}
	return list, nil
})

func sheetsOf(name string, text []byte, parting string) ([]made, error) {
	book := roomy(`separation     = "decant"`, `separation     = "`+parting+`"`)
	req, err := readRequest(name, text, []byte(book))
	if err != nil {
		return nil, err
	}
	a, err := Appraise(context.Background(), req)
	if err != nil {
		return nil, err
	}
	var list []made
	for _, p := range plansOfEachRoute(a) {
		m, err := newMade(a, p)
		if err != nil {
			return nil, err
		}
		m.name = name + ", " + p.ID
		list = append(list, m)
	}
	return list, nil
}

// newMade makes a sheet without ranges.
func newMade(a *Appraisal, p *PricedPlan) (made, error) {
	again := &replay{study: a.study, plan: route.NewPlan(p.Routes, p.Ending)}
	o, err := again.record(context.Background())
	if err != nil {
		return made{}, err
	}
	return made{sheet: newSheetMaker(a, p, &o, planRange{}).make(), outcome: &o, routes: p.Routes}, nil
}

// eachSheet runs check on every sheet and says which routes it has seen.
func eachSheet(t *testing.T, check func(t *testing.T, s *Sheet, o *route.Outcome)) map[string]bool {
	t.Helper()
	all, err := everySheet()
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, m := range all {
		for _, r := range m.routes {
			seen[r] = true
		}
		t.Run(m.name, func(t *testing.T) { check(t, m.sheet, m.outcome) })
	}
	return seen
}

// plansOfEachRoute returns for each route the best priced plan that holds it.
func plansOfEachRoute(a *Appraisal) []*PricedPlan {
	var list []*PricedPlan
	seen := map[string]bool{}
	for i := range a.Plans {
		p := &a.Plans[i]
		if !p.Priced() {
			continue
		}
		fresh := len(p.Routes) == 0
		for _, r := range p.Routes {
			fresh = fresh || !seen[r]
		}
		if fresh {
			list = append(list, p)
			for _, r := range p.Routes {
				seen[r] = true
			}
		}
	}
	return list
}
