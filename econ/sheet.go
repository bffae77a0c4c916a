package econ

import (
	"context"
	"errors"
	"fmt"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// Sheet is a plan as somebody works it at the bench: what to buy, what to set
// out, numbered steps with amounts that can be measured, what to look for, when
// to stop, what to weigh, where everything left over goes, and blanks to note
// what came out. Its texts are finished sentences; whoever prints it only lays
// them out, and passes them through the cleaner.
type Sheet struct {
	Lot        string // title
	LotDate    time.Time
	Plan       string // id
	PlanWords  string // "copper-cementation, then neutralise; dispose of the rest"
	Ending     string
	Currency   string
	PricesAsOf time.Time

	Warnings []SheetCaution // about the whole lot, before anything else
	Standing []string       // how the plan stands: its net, and the verdict where that is another plan
	Own      []string       // which of its routes are the user's own
	Learned  []string       // what earlier outturns have changed
	Holds    []string       // what stands in the vessel before the first step
	Makes    []string       // what should come out
	First    []string       // before anything is begun: rules of the place and the person
	Wear     []string       // protection, and when
	Rounding []string       // how the amounts were rounded

	Shopping []SheetSupply
	Tools    []SheetTool
	Tests    []SheetTest
	Steps    []SheetStep
	Left     []SheetLeft
	Closing  []SheetCaution // about what is left
	Blanks   []SheetBlank   // of the whole plan
	Last     []string       // after the last step
}

// SheetSupply is one thing to have in the house before the work begins.
type SheetSupply struct {
	ID, Name string
	Strength string // "96 %"; "" where it is of no use
	Need     string // "66 g"
	Have     string // what stands on the shelf; "" if nothing
	Buy      string // "1 pack of 1 kg", or "nothing"
	Note     string
}

// SheetTool is a vessel or a tool.
type SheetTool struct {
	Name string
	For  string // what it is for, with the step or its filling
}

// SheetTest says how a test named in the steps is done.
type SheetTest struct {
	Name string
	Take string // what it takes
	How  string
}

// SheetStep is one numbered step. What warns comes before what is done.
type SheetStep struct {
	Number     int
	Route      string // id
	RouteTitle string
	Own        bool   // the route is the user's own
	Step, Kind string // of the route file; "" for a step of the sheet's own
	Title      string
	Cautions   []SheetCaution
	Notes      []string // to read before it is begun
	Do         []string
	Doses      []SheetDose
	Signs      []string
	Stop       string
	Checks     []SheetCheck
	Time       SheetTime
	Leaves     []string
	Blanks     []SheetBlank
}

// SheetCaution is a warning, before the danger.
type SheetCaution struct {
	Severity string
	Text     string
	Source   string
}

// SheetDose is an amount to weigh or pour, as the ledger has it and as it can be
// measured.
type SheetDose struct {
	Reagent string // id
	Name    string
	Mass    units.Mass   // exact
	Volume  units.Volume // exact; 0 for what is weighed
	Text    string       // rounded, "66 g"
	Off     float64      // rounded over exact, less one
}

// SheetCheck is a mass to expect at a point where somebody can weigh.
type SheetCheck struct {
	What      string
	Expect    units.Mass
	Low, High units.Mass // eight lots in ten lie between; both 0 without draws
	Text      string     // "about 43 g (41 to 44 g in eight lots of ten)"
}

// SheetTime is how long a step takes.
type SheetTime struct {
	HandsOnH, ElapsedH, HeatingH float64
	Text                         string
}

// SheetLeft is one stream that stays over.
type SheetLeft struct {
	Name   string // of the stream
	Route  string
	Class  string // waste class
	Volume units.Volume
	Mass   units.Mass
	PH     float64
	Metals []route.Amount // dissolved and settled together
	Text   string         // what to do with it
}

// SheetBlank is a line to write on.
type SheetBlank struct {
	What string
	Unit string
}

// Errors of BenchSheet.
var (
	ErrNoSuchPlan  = errors.New("econ: no such plan")
	ErrPlanBlocked = errors.New("econ: the plan cannot be carried out")
)

// sheetDraws is how often a plan is carried out for the ranges of its check
// points: enough for a tenth and a nine-tenths mark that hold to their last
// printed digit.
const sheetDraws = 200

// BenchSheet makes the sheet of one plan of an appraised lot. Without an id it
// is the plan of the verdict if that one works the lot up, else the best plan
// that does, else the best ending. The same appraisal gives the same sheet.
//
// Errors: ErrNoSuchPlan with the nearest id, ErrPlanBlocked with the reason, a
// cancelled context.
func BenchSheet(ctx context.Context, a *Appraisal, id string) (*Sheet, error) {
	plan, err := a.sheetPlan(id)
	if err != nil {
		return nil, err
	}
	if a.study == nil {
		return nil, fmt.Errorf("%w: the appraisal was not made by Appraise", ErrNoSuchPlan)
	}
	again := &replay{study: a.study, plan: route.NewPlan(plan.Routes, plan.Ending)}
	outcome, err := again.record(ctx)
	if err != nil {
		return nil, err
	}
	if outcome.Blocked != nil {
		return nil, fmt.Errorf("%w: %s", ErrPlanBlocked, outcome.Blocked.Reason)
	}
	ranges, err := again.ranges(ctx, sheetDraws, len(outcome.Steps), len(outcome.Products))
	if err != nil {
		return nil, err
	}
	return newSheetMaker(a, plan, &outcome, ranges).make(), nil
}

// sheetPlan finds the plan of a sheet.
func (a *Appraisal) sheetPlan(id string) (*PricedPlan, error) {
	if id == "" {
		id = a.Verdict.Plan
		if p := a.planByID(id); p == nil || p.untouched() || !p.Priced() {
			if best := a.bestToWork(); best != nil {
				return best, nil
			}
		}
	}
	p := a.planByID(id)
	switch {
	case p == nil && id == "":
		return nil, fmt.Errorf("%w: nothing can be done with this lot that has a price", ErrNoSuchPlan)
	case p == nil:
		return nil, fmt.Errorf("%w %q%s", ErrNoSuchPlan, input.Clean(id, 120), a.nearestPlan(id))
	case !p.Priced():
		return nil, fmt.Errorf("%w: %s: %s", ErrPlanBlocked, p.ID, p.Blocked.Reason)
	}
	return p, nil
}

// bestToWork is the best plan that wins something, else the best that readies the
// lot for the carrier; nil if there is neither.
func (a *Appraisal) bestToWork() *PricedPlan {
	for i := range a.Plans {
		if p := &a.Plans[i]; p.Priced() && !p.untouched() && !p.winsNothing() {
			return p
		}
	}
	return a.bestWork()
}

func (a *Appraisal) planByID(id string) *PricedPlan {
	for i := range a.Plans {
		if a.Plans[i].ID == id {
			return &a.Plans[i]
		}
	}
	return nil
}

func (a *Appraisal) nearestPlan(id string) string {
	ids := make([]string, len(a.Plans))
	for i := range a.Plans {
		ids[i] = a.Plans[i].ID
	}
	if near := input.Nearest(id, ids); near != "" {
		return fmt.Sprintf("; did you mean %q?", near)
	}
	return ""
}
