package econ

import (
	"strings"
	"testing"
)

func TestWholePacks(t *testing.T) {
	b, v := decoded(t, swapped(t, smallBook, `packs       = "pro rata"`, `packs       = "whole"`))
	o := silverWork()
	p := b.PricePlan(&o, v)
	// 0.250 kg of lye and 0.1 L of acid begin a pack each: 9.00 + 20.00; filter papers: 15.00.
	near(t, "reagents", p.ReagentCost.Float(), 29, 1e-9)
	near(t, "consumables", p.ConsumableCost.Float(), 15, 1e-9)
	o.Steps[0].Entries[0].Amount = 950 // 0.95 + 0.10 − 0.05 kg is one pack exactly
	p = b.PricePlan(&o, v)
	near(t, "reagents, a full pack", p.ReagentCost.Float(), 29, 1e-9)
	o.Steps[0].Entries[0].Amount = 951
	p = b.PricePlan(&o, v)
	near(t, "reagents, a pack and a gram", p.ReagentCost.Float(), 38, 1e-9)
}

func TestStockOnHandCostsNothing(t *testing.T) {
	b, v := decoded(t, swapped(t, smallBook, `on_hand  = "50 g"`, `on_hand  = "2 kg"`))
	o := silverWork()
	p := b.PricePlan(&o, v)
	near(t, "reagents", p.ReagentCost.Float(), 2, 1e-9) // the acid alone
	near(t, "share on hand", p.Reagents[0].OnHand, 1, 1e-12)
}

func TestReagentSoldByVolumeButWeighed(t *testing.T) {
	b, v := decoded(t, smallBook)
	o := silverWork()
	o.Steps[1].Entries[1].Volume = 0
	p := b.PricePlan(&o, v)
	if p.Priced() || !strings.Contains(p.Blocked.Reason, "by volume") {
		t.Errorf("blocked = %+v, want a reason about the volume", p.Blocked)
	}
}

func TestFreeLabour(t *testing.T) {
	b, v := decoded(t, swapped(t, smallBook, `rate = "20.00 / h"`, `rate = "0 / h"`))
	o := silverWork()
	p := b.PricePlan(&o, v)
	near(t, "net", p.Net.Float(), -46.01, 1e-9)
	near(t, "net without labour", p.NetWithoutLabour.Float(), -46.01, 1e-9)
}
