package econ

import "fmt"

// Headline is the verdict in one short sentence, with the plan and what it
// brings. Verdict.Why has the reason.
func (a *Appraisal) Headline() string {
	v := a.Verdict
	p := a.Plan(v.Plan)
	switch {
	case p == nil || !p.Priced():
		return a.withoutPlan()
	case p.untouched():
		return a.ofEnding(p)
	case v.Action == HoldAndPool && v.PoolLots < 2:
		return fmt.Sprintf("Keep it for now: %s would net %s, and no ending of the lot as it stands has a price to set that against", p.ID, a.money(p.Net))
	case v.Action == HoldAndPool:
		return fmt.Sprintf("Hold it and pool %d like lots, then work them up by %s", v.PoolLots, p.ID)
	case p.winsNothing():
		return fmt.Sprintf("%s by %s: %s", endings[p.Ending].prepared, p.ID, a.gainOver(v.Gain))
	}
	return fmt.Sprintf("Work it up by %s: %s", p.ID, a.gainOver(v.Gain))
}

// Plan finds a plan by its id; nil if the appraisal has none such.
func (a *Appraisal) Plan(id string) *PricedPlan {
	for i := range a.Plans {
		if a.Plans[i].ID == id {
			return &a.Plans[i]
		}
	}
	return nil
}

// endings say in words what becomes of a lot that is not worked up.
var endings = map[string]struct{ whole, prepared, over string }{
	endDispose: {"Send it for disposal as it stands", "Make it ready for the carrier", "disposal as it stands"},
	endSell:    {"Sell it as it stands", "Make it ready for sale", "selling it as it stands"},
	endHold:    {"Keep it on the shelf", "Make it ready to keep", "keeping it"},
}

// withoutPlan is the headline where nothing can be priced.
func (a *Appraisal) withoutPlan() string {
	return "Keep it for now: nothing that could be done with it can be priced yet"
}

// ofEnding is the headline where the lot goes as it stands.
func (a *Appraisal) ofEnding(p *PricedPlan) string {
	if p.Net < 0 {
		return fmt.Sprintf("%s: a cost of %s", endings[p.Ending].whole, a.money(-p.Net))
	}
	return fmt.Sprintf("%s: a net of %s", endings[p.Ending].whole, a.money(p.Net))
}

// gainOver says what a gain is counted against.
func (a *Appraisal) gainOver(gain Money) string {
	if a.Baseline == "" {
		return fmt.Sprintf("a gain of %s over doing nothing", a.money(gain))
	}
	return fmt.Sprintf("a gain of %s over %s", a.money(gain), endings[a.Baseline].over)
}
