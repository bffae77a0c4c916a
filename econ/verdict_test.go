package econ

import (
	"strings"
	"testing"

	"afterpour/chem/route"
)

// judged prices outcomes with a book and judges them.
func judged(t *testing.T, book string, lotsPerYear float64, outcomes ...route.Outcome) *Appraisal {
	t.Helper()
	b, v := decoded(t, book)
	a := &Appraisal{Currency: b.Currency}
	a.Report.LotsPerYear = lotsPerYear
	for i := range outcomes {
		a.Plans = append(a.Plans, b.PricePlan(&outcomes[i], v))
	}
	a.standings(b, v, nil)
	return a
}

func TestVerdict(t *testing.T) {
	richer := swapped(t, smallBook, "30.00 / ozt", "300.00 / ozt")
	cheaper := swapped(t, smallBook, `rate = "20.00 / h"`, `rate = "10.00 / h"`)
	for name, c := range map[string]struct {
		book   string
		perYr  float64
		plans  []route.Outcome
		action string
		plan   string
		gain   float64
		lots   int
		why    string
	}{
		// net −126.01 − 56.40 + 564.00 = 381.59, and 60 for the disposal that it takes along
		"work up": {richer, 0, []route.Outcome{silverWork(), untouchedLot("dispose"), untouchedLot("hold")}, WorkUp, "chloride-oxide-sugar+dispose", 441.59, 0, "381.59 USD"},
		// net −126.01 against −60
		"dispose": {smallBook, 0, []route.Outcome{silverWork(), untouchedLot("dispose"), untouchedLot("hold")}, Dispose, "dispose", 0, 0, "66.01 USD less"},
		"no work": {smallBook, 0, []route.Outcome{untouchedLot("dispose")}, Dispose, "dispose", 0, 0, "no route"},
		"sell":    {smallBook + liquorSale, 0, []route.Outcome{silverWork(), untouchedLot("dispose"), untouchedLot("sell-as-is")}, SellAsIs, "sell-as-is", 0, 0, "less than sell-as-is"},
		// At 10.00 an hour the net is −86.01; four lots together carry the charges, see TestPoolByHand,
		// and with a year on the shelf −13.5975 − 12.00 leaves more than −60.00.
		"pool": {cheaper, 6, []route.Outcome{silverWork(), untouchedLot("dispose")}, HoldAndPool, "chloride-oxide-sugar+dispose", -26.01, 4, "lots"},
		// Only two lots a year: that does not carry the charges.
		"too few to pool": {cheaper, 2, []route.Outcome{silverWork(), untouchedLot("dispose")}, Dispose, "dispose", 0, 0, "26.01 USD less"},
	} {
		t.Run(name, func(t *testing.T) {
			a := judged(t, c.book, c.perYr, c.plans...)
			v := a.Verdict
			t.Log(v.Why)
			if v.Action != c.action || v.Plan != c.plan || v.PoolLots != c.lots {
				t.Errorf("verdict %+v, want %q of %q with %d lots", v, c.action, c.plan, c.lots)
			}
			near(t, "gain", v.Gain.Float(), c.gain, 1e-9)
			if !strings.Contains(v.Why, c.why) || strings.Contains(v.Why, ". ") {
				t.Errorf("why %q: want one sentence with %q", v.Why, c.why)
			}
		})
	}
}

func TestVerdictWithoutAnyPrice(t *testing.T) {
	a := judged(t, `currency = "USD"`, 0, silverWork(), untouchedLot("dispose"))
	if v := a.Verdict; v.Action != HoldAndPool || v.Plan != "" || !strings.Contains(v.Why, "disposal.acid-metal-liquor") {
		t.Errorf("verdict %+v", v)
	}
}

// Without an ending to set it against, a plan that pays for itself is still
// better than any cost, but one that does not is not advised.
func TestVerdictWithoutABaseline(t *testing.T) {
	o := silverWork()
	o.Waste = nil
	untouched := untouchedLot("dispose")
	rich := without(t, swapped(t, smallBook, "30.00 / ozt", "300.00 / ozt"), "[disposal.acid-metal-liquor]")
	if a := judged(t, rich, 0, o, untouched); a.Verdict.Action != WorkUp || a.Baseline != "" {
		t.Errorf("verdict %+v", a.Verdict)
	}
	poor := without(t, smallBook, "[disposal.acid-metal-liquor]")
	if a := judged(t, poor, 0, o, untouched); a.Verdict.Action != HoldAndPool || !strings.Contains(a.Verdict.Why, "no ending") {
		t.Errorf("verdict %+v", a.Verdict)
	}
}
