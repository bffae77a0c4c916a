package econ

import (
	"fmt"
	"math"
	"strings"

	"afterpour/chem/units"
)

// testWorth works out what a test is worth; false where the lot has nothing for
// it to find.
func (s *study) testWorth(a *Appraisal, d *decision, t Test) (TestWorth, bool) {
	truth, ok := s.truth(a, d, t)
	if !ok {
		return TestWorth{}, false
	}
	w := TestWorth{Test: t, Cost: t.Price + s.ownTime(t.HandsOn)}
	exact, _, _ := d.knowing(truth)
	worth, _, changes := d.knowing(s.results(t, truth))
	w.Exact, w.Worth, w.Changes = Money(exact), Money(math.Min(worth, exact)), changes
	w.Pays = w.Worth > w.Cost
	return w, true
}

// ownTime is what hours of the practitioner's own cost.
func (s *study) ownTime(hours float64) Money {
	if s.req.Book.labour == nil {
		return 0
	}
	return Money(s.req.Book.labour.Quantity(hours) * s.req.Book.labour.At(s.central))
}

// truth lists what a test would find without error, draw by draw.
func (s *study) truth(a *Appraisal, d *decision, t Test) ([]float64, bool) {
	column := func(of func(f *facts) []float32) []float64 { return s.draws.fact(d.n, of) }
	var list []float64
	switch t.Of {
	case Content:
		k := s.draws.metal(t.Metal)
		if k < 0 {
			return nil, false
		}
		list = column(func(f *facts) []float32 { return f.contained[k] })
	case FreeAcid:
		list = column(func(f *facts) []float32 { return f.acid })
	case Solids:
		list = column(func(f *facts) []float32 { return f.solids })
	case Recovery:
		list = s.recovery(a, d)
	}
	m := momentsOf(list)
	return list, len(list) == d.n && m.sd() > 0
}

// results simulates what a test finds, each draw with an error of its own.
func (s *study) results(t Test, truth []float64) []float64 {
	key := streamOf(s.req.Seed, "test/"+t.ID)
	list := make([]float64, len(truth))
	for i, x := range truth {
		sd := math.Hypot(t.Relative*x, t.Absolute)
		list[i] = x + sd*normal.Quantile(uniform(key, i))
	}
	return list
}

// normal is the standard normal distribution.
var normal = units.NormalDist(0, 1)

// recovery lists the share of its metal that the best plan that works the lot up
// brings out, draw by draw.
func (s *study) recovery(a *Appraisal, d *decision) []float64 {
	best := a.bestWork()
	if best == nil || len(best.Products) == 0 {
		return nil
	}
	metal := s.draws.metal(best.Products[0].Metal)
	if metal < 0 {
		return nil
	}
	contained := s.draws.fact(d.n, func(f *facts) []float32 { return f.contained[metal] })
	out := s.draws.metalOut(best.chain, d.n, best.Products[0].Metal)
	if len(out) != d.n {
		return nil
	}
	for i := range out {
		if contained[i] > 0 {
			out[i] /= contained[i]
		}
	}
	return out
}

// UsualTests lists what could be done to know the lot better, at what it would
// cost: an assay of each metal that the price book has a spot price of, and what
// takes own time alone. Errors and times are assumptions that say so; the price
// of an assay is assayPrice.
func UsualTests(a *Appraisal) []Test {
	var tests []Test
	for _, m := range a.Metals {
		if m.SpotValue == nil || !(m.SD > 0) {
			continue
		}
		tests = append(tests, Test{
			ID: "assay/" + m.Metal, Name: "assay of " + elementName(m.Metal), Of: Content, Metal: m.Metal,
			Relative: 0.02, Price: assayPrice, HandsOn: 0.25,
			Basis: fmt.Sprintf("assumption: a laboratory asks about %s %s for one metal and is right within 2 %%; sampling and posting take a quarter of an hour", assayPrice.Text(), a.Currency),
		})
	}
	tests = append(tests,
		Test{
			ID: "acid", Name: "titration of the free acid", Of: FreeAcid, Relative: 0.05, Absolute: 0.005, HandsOn: 0.5,
			Basis: "assumption: a bench titration to pH 3.5 is right within 5 %, and takes half an hour",
		},
		Test{
			ID: "solids", Name: "drying and weighing the sludge", Of: Solids, Relative: 0.02, Absolute: 0.0005, HandsOn: 1,
			Basis: "assumption: half a gram of water and paper stays with it, and it takes an hour of hands",
		},
	)
	if best := a.bestWork(); best != nil && len(best.Products) > 0 {
		tests = append(tests, Test{
			ID: "trial", Name: "small trial batch of " + strings.Join(best.Routes, ", "), Of: Recovery, Relative: 0.05, HandsOn: math.Max(1, best.HandsOnH/2),
			Basis: "assumption: a tenth of the lot takes half the hours of all of it, and shows the recovery within 5 %",
		})
	}
	return tests
}

// assayPrice is what one metal of one sample is taken to cost where the user has
// not entered it: an invented round figure, in the book's currency.
const assayPrice Money = 30
