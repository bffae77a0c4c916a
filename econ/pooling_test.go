package econ

import (
	"context"
	"math"
	"strings"
	"testing"
)

// pooledSample pools a sample lot that comes so many times a year.
func pooledSample(t *testing.T, name, perYear string) (*Appraisal, *Pool) {
	t.Helper()
	text := string(sampleLots(t)[name])
	var kept []string
	for line := range strings.Lines(text) {
		if !strings.HasPrefix(line, "lots_per_year") {
			kept = append(kept, line)
		}
	}
	text = strings.Replace(strings.Join(kept, ""), "title", perYear+"\ntitle", 1)
	a := appraised(t, request(t, name, []byte(text), DefaultBook()))
	p, err := Pooling(context.Background(), a)
	if err != nil {
		t.Fatal(err)
	}
	return a, p
}

// One lot alone is the appraisal; more of them share what is fixed, until no
// vessel holds them in four batches.
func TestPooling(t *testing.T) {
	for _, name := range []string{"chloride-sludge.toml", "nitrate-liquor.toml"} {
		a, p := pooledSample(t, name, "lots_per_year = 6")
		for _, l := range p.Lots {
			t.Logf("%s: %d: %s net %.2f shelf %.2f gain %.2f in %.3g months", name, l.N, l.Plan, l.Net, l.Shelf, l.Gain, l.Months)
		}
		t.Logf("best %d, pays from %d, kept %t, ended %.2f", p.Best, p.Pays, p.Kept, p.Ended)
		if first := p.Lots[0]; math.Abs((first.Net-a.plan(first.Plan).Net).Float()) > 1e-6 || first.Shelf != 0 || first.Months != 0 {
			t.Errorf("%s: one lot: %+v; the appraisal nets %v", name, first, a.plan(first.Plan).Net)
		}
		if len(p.Lots) < 2 || !(p.Lots[1].Net > p.Lots[0].Net) {
			t.Errorf("%s: two lots together share nothing: %+v", name, p.Lots)
		}
		checkPool(t, name, p)
	}
}

func checkPool(t *testing.T, name string, p *Pool) {
	t.Helper()
	for i, l := range p.Lots {
		if l.N != i+1 || l.Plan == "" && i > 0 {
			t.Errorf("%s: %d lots at place %d: %+v", name, l.N, i, l)
		}
		if l.Plan != "" && math.Abs((l.Gain-(l.Net-l.Shelf-p.Ended)).Float()) > 1e-9 {
			t.Errorf("%s: %d lots: gain %v", name, l.N, l.Gain)
		}
		if l.Gain > p.Lots[p.Best-1].Gain+moneyTolerance {
			t.Errorf("%s: %d lots gain %v, more than the best, %d", name, l.N, l.Gain, p.Best)
		}
		if l.Gain > moneyTolerance && (p.Pays == 0 || p.Pays > l.N) {
			t.Errorf("%s: %d lots gain %v and it pays from %d", name, l.N, l.Gain, p.Pays)
		}
	}
}

// Without a rate there is no time and no shelf; with a slow one the wait is long
// and costs more.
func TestPoolingByRate(t *testing.T) {
	const name = "chloride-sludge.toml"
	_, unknown := pooledSample(t, name, "")
	_, slow := pooledSample(t, name, "lots_per_year = 1")
	if l := unknown.Lots[1]; l.Months != 0 || l.Shelf != 0 || unknown.Kept {
		t.Errorf("without a rate: %+v, kept %t", l, unknown.Kept)
	}
	// The second lot comes after 12 months; a jar waits 6 on average, at 1.00 a month.
	if l := slow.Lots[1]; math.Abs(l.Months-12) > 1e-9 || math.Abs(l.Shelf.Float()-6) > 1e-9 {
		t.Errorf("one a year: %+v, want 12 months and 6.00", l)
	}
	if slow.Best > unknown.Best {
		t.Errorf("the best number is %d at one a year and %d without a shelf", slow.Best, unknown.Best)
	}
}
