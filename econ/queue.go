package econ

import (
	"cmp"
	"math"
	"slices"
)

// Turn is one lot among several, with what to do with it and when.
type Turn struct {
	Lot     string
	Plan    string  // to carry out; "" where nothing can be priced
	Gain    Money   // of it over the lot's baseline
	Hours   float64 // hands-on
	PerHour *Money  // gain without own labour for each hands-on hour; nil without hours
	Fits    bool    // within the hours available, taken in this order
	By      float64 // hands-on hours used up to and with it, of those that fit
	Index   int     // of the lot in the list given
}

// Queue says which of several lots to work up first, and how, with so many
// hands-on hours available: no limit where hours is infinite.
//
// Each lot offers the plans that gain something, and the one that is best without
// regard to hours. Those are chosen that gain most together within the hours
// (steps of a tenth of an hour, each lot once); they come in order of gain for
// an hour. Lots that nothing is chosen for come after, by gain, with their best
// plan. The order does not depend on that of the lots given.
func Queue(lots []*Appraisal, hours float64) []Turn {
	chosen := chooseTurns(lots, hours)
	list := make([]Turn, 0, len(lots))
	for i, a := range lots {
		p := chosen[i]
		fits := p != nil
		if p == nil {
			p = bestGain(a)
		}
		list = append(list, turnOf(a, p, i, fits))
	}
	slices.SortStableFunc(list, compareTurns)
	used := 0.0
	for i := range list {
		if list[i].Fits {
			used += list[i].Hours
			list[i].By = used
		}
	}
	return list
}

func turnOf(a *Appraisal, p *PricedPlan, i int, fits bool) Turn {
	t := Turn{Lot: a.Lot, Index: i, Fits: fits}
	if p != nil {
		t.Plan, t.Gain, t.Hours, t.PerHour = p.ID, p.Gain, p.HandsOnH, p.GainPerHour
	}
	return t
}

// compareTurns puts what fits first, by gain for an hour, and what takes no
// hours before that.
func compareTurns(a, b Turn) int {
	rate := func(t Turn) float64 {
		switch {
		case !t.Fits:
			return t.Gain.Float()
		case t.PerHour == nil:
			return math.Inf(1)
		}
		return t.PerHour.Float()
	}
	if a.Fits != b.Fits {
		if a.Fits {
			return -1
		}
		return 1
	}
	return cmp.Or(cmp.Compare(rate(b), rate(a)), cmp.Compare(b.Gain, a.Gain), cmp.Compare(a.Lot, b.Lot), cmp.Compare(a.Plan, b.Plan))
}

// bestGain is the best priced plan of a lot; nil without one.
func bestGain(a *Appraisal) *PricedPlan {
	if len(a.Plans) == 0 || !a.Plans[0].Priced() {
		return nil
	}
	return &a.Plans[0]
}

// hourSteps is how many steps an hour is divided into for choosing.
const hourSteps = 10

// chooseTurns picks at most one plan for each lot so that the gains add up to
// the most within the hours: the multiple-choice knapsack, by dynamic
// programming over steps of an hour.
func chooseTurns(lots []*Appraisal, hours float64) []*PricedPlan {
	picks := make([]*PricedPlan, len(lots))
	room := roomFor(lots, hours)
	if room < 0 {
		for i, a := range lots {
			if p := bestGain(a); p != nil && p.Gain > moneyTolerance {
				picks[i] = p
			}
		}
		return picks
	}
	best := make([]Money, room+1)
	choice := make([][]*PricedPlan, len(lots))
	for i, a := range lots {
		choice[i] = make([]*PricedPlan, room+1)
		offers := worthwhile(a)
		for left := room; left >= 0; left-- {
			most := best[left]
			for _, p := range offers {
				if need := stepsOf(p); need <= left && best[left-need]+p.Gain > most+moneyTolerance {
					most, choice[i][left] = best[left-need]+p.Gain, p
				}
			}
			best[left] = most
		}
	}
	for i, left := len(lots)-1, room; i >= 0; i-- {
		if p := choice[i][left]; p != nil {
			picks[i] = p
			left -= stepsOf(p)
		}
	}
	return picks
}

// mostSteps bounds the table of the choice; more hours are no limit.
const mostSteps = 100_000

// roomFor is the hours in steps; −1 where they are no limit.
func roomFor(lots []*Appraisal, hours float64) int {
	needed := 0
	for _, a := range lots {
		if p := bestGain(a); p != nil {
			needed += stepsOf(p)
		}
	}
	steps := math.Floor(hours*hourSteps + 1e-9)
	if !(steps < float64(needed)) || needed > mostSteps && steps > mostSteps {
		return -1
	}
	return int(math.Max(0, steps))
}

func stepsOf(p *PricedPlan) int { return int(math.Ceil(p.HandsOnH*hourSteps - 1e-9)) }

// worthwhile lists the plans of a lot that gain something and of which no other
// gains as much in fewer hours.
func worthwhile(a *Appraisal) []*PricedPlan {
	var list []*PricedPlan
	for i := range a.Plans { // by net, so by gain: the best first
		p := &a.Plans[i]
		if !p.Priced() || !(p.Gain > moneyTolerance) {
			continue
		}
		if len(list) == 0 || p.HandsOnH < list[len(list)-1].HandsOnH {
			list = append(list, p)
		}
	}
	return list
}
