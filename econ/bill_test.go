package econ

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Pricing a row without lines gives the net that the lines add up to, whatever
// the ledger and the prices.
func TestSumsAgreeWithLines(t *testing.T) {
	b, v := decoded(t, string(DefaultBook())+liquorSale)
	rapid.Check(t, func(r *rapid.T) {
		o := drawOutcome(r)
		for range 3 {
			p := rapid.IntRange(0, len(b.prices)-1).Draw(r, "price")
			v = atPrice(v, b.prices[p].Ref, rapid.Float64Range(0.5, 2).Draw(r, "factor"))
		}
		full := b.PricePlan(&o, v)
		a := accountOf(&o)
		c := pricing{bill: b.bill(a.layout), v: v, row: a.row}
		c.chain()
		c.ending(o.Plan.Ending)
		net, without := c.sums.net()
		if c.short != !full.Priced() {
			r.Fatalf("short %t, blocked %v", c.short, full.Blocked)
		}
		if full.Priced() && (net != full.Net || without != full.NetWithoutLabour) {
			r.Fatalf("net %v and %v, want %v and %v", net, without, full.Net, full.NetWithoutLabour)
		}
	})
}

func TestWatched(t *testing.T) {
	b, _ := decoded(t, smallBook+liquorSale)
	if got, want := b.watched(), []string{"Ag", "Hg", "Pb"}; !slices.Equal(got, want) {
		t.Errorf("watched %v, want %v: the metal of the liquor, a limit and a penalty", got, want)
	}
}

// The chain is priced once for all endings.
func TestEndingsOnTopOfAChain(t *testing.T) {
	b, v := decoded(t, smallBook+liquorSale)
	o := silverWork()
	a := accountOf(&o)
	c := pricing{bill: b.bill(a.layout), v: v, row: a.row}
	c.chain()
	worked := c.sums
	for _, ending := range []string{endDispose, endSell, endHold} {
		c.sums, c.short = worked, false
		c.ending(ending)
		net, _ := c.sums.net()
		alone := silverWork()
		alone.Plan.Ending = ending
		if want := b.PricePlan(&alone, v).Net; math.Abs((net - want).Float()) > 1e-9 {
			t.Errorf("%s: net %v, want %v", ending, net, want)
		}
	}
}

func BenchmarkPriceRow(b *testing.B) {
	book, v := decoded(b, string(DefaultBook()))
	o := silverWork()
	a := accountOf(&o)
	c := pricing{bill: book.bill(a.layout), v: v, row: a.row}
	b.ReportAllocs()
	for b.Loop() {
		c.sums = sums{}
		c.chain()
		worked := c.sums
		for _, ending := range []string{endDispose, endHold} {
			c.sums = worked
			c.ending(ending)
		}
	}
}
