package econ

import (
	"context"
	"errors"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sort"
	"strings"
	"sync"
	"sync/atomic"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// decisivePlans is how many of the best plans compete in the search for
// decisive inputs, besides the endings of the untouched lot.
const decisivePlans = 6

// The shares of probability between which an input is moved.
const (
	lowShare  = 0.1
	highShare = 0.9
)

// turning is an input that turns the verdict between its low and its high figure.
type turning struct {
	figure    input.Figure
	low, high float64 // its figures
	verdicts  [2]judgement
	swing     float64 // of the best gain by work, money
}

// judgement is the verdict on the contenders, with the best gain by work.
type judgement struct {
	Verdict
	work Money
}

// decisive notes every input whose doubt alone turns the verdict: one at a time
// is moved to the figure that it stays below with a probability of 10 %, and to
// that of 90 %, all others staying central. The best few plans compete.
func (s *subject) decisive(ctx context.Context) (Proof, error) {
	p := proofOf("decisive", "no input turns the verdict by its own doubt alone")
	plans := s.contenders()
	central, outcomes, err := s.verdictAt(ctx, plans, s.central, nil)
	if err != nil {
		return *p, err
	}
	refs := s.doubtful(plans)
	tried := make([]turning, len(refs))
	err = side(len(refs), func(i int) (err error) {
		tried[i], err = s.moved(ctx, plans, refs[i], outcomes)
		return err
	})
	if err != nil {
		return *p, err
	}
	turns := slices.DeleteFunc(tried, func(t turning) bool { return !t.turns(central) })
	sort.SliceStable(turns, func(i, j int) bool { return turns[i].swing > turns[j].swing })
	for i := range turns {
		p.note("%s", turns[i].text(s.a))
	}
	return p.done("%s moved to the %.0f %% and the %.0f %% figure, one at a time: %s the verdict (%s)",
		plural(len(refs), "doubtful input", "doubtful inputs"), 100*lowShare, 100*highShare, howManyTurn(len(turns)), central.Action), nil
}

// side does n things side by side, as many at a time as there are processors,
// and returns the first error by number.
func side(n int, do func(i int) error) error {
	errs := make([]error, n)
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				errs[i] = do(i)
			}
		})
	}
	group.Wait()
	return errors.Join(errs...)
}

func howManyTurn(n int) string {
	switch n {
	case 0:
		return "none turns"
	case 1:
		return "one turns"
	}
	return fmt.Sprintf("%d turn", n)
}

// contenders are the plans among which the verdict is sought again.
func (s *subject) contenders() []route.Plan {
	var list []route.Plan
	working := 0
	for i := range s.a.Plans {
		plan := &s.a.Plans[i]
		switch {
		case !plan.Priced():
			continue
		case plan.untouched():
		case working < decisivePlans && plan.FoldedInto == "":
			working++
		default:
			continue
		}
		list = append(list, route.Plan{ID: plan.ID, Routes: plan.Routes, Ending: plan.Ending})
	}
	return list
}

// doubtful lists the inputs with a doubt that the contenders rest on: those of
// the lot, of their routes, and the prices that they use.
func (s *subject) doubtful(plans []route.Plan) []input.Ref {
	used := map[string]bool{}
	for i := range s.a.Plans {
		plan := &s.a.Plans[i]
		if !slices.ContainsFunc(plans, func(c route.Plan) bool { return c.ID == plan.ID }) {
			continue
		}
		for _, price := range plan.used {
			used[price.ID] = true
		}
		for _, r := range plan.Routes {
			used["route/"+r+"/"] = true
		}
	}
	var refs []input.Ref
	for i := range s.figures.Len() {
		f := s.figures.Get(input.Ref(i))
		routePrefix, isRoute := routeOf(f.ID)
		if f.Dist.SD > 0 && (strings.HasPrefix(f.ID, "lot/") || used[f.ID] || isRoute && used[routePrefix]) {
			refs = append(refs, input.Ref(i))
		}
	}
	return refs
}

// routeOf returns the beginning of the id of a route's figure that names the route.
func routeOf(id string) (string, bool) {
	parts := strings.SplitN(id, "/", 3)
	if len(parts) < 3 || parts[0] != "route" {
		return "", false
	}
	return "route/" + parts[1] + "/", true
}

// moved finds the verdict with one input at its low and at its high figure.
func (s *subject) moved(ctx context.Context, plans []route.Plan, ref input.Ref, central []route.Outcome) (turning, error) {
	f := s.figures.Get(ref)
	t := turning{figure: f, low: f.Dist.Quantile(lowShare), high: f.Dist.Quantile(highShare)}
	for i, value := range []float64{t.low, t.high} {
		v := slices.Clone(s.central)
		v[ref] = value
		known := central
		if !strings.HasPrefix(f.ID, "price/") {
			known = nil // only a price leaves the simulated plans as they are
		}
		var err error
		if t.verdicts[i], _, err = s.verdictAt(ctx, plans, v, known); err != nil {
			return t, err
		}
	}
	t.swing = math.Abs((t.verdicts[1].work - t.verdicts[0].work).Float())
	return t, nil
}

// verdictAt judges the contenders at v. Outcomes that are known already are
// only priced anew.
func (s *subject) verdictAt(ctx context.Context, plans []route.Plan, v input.Values, known []route.Outcome) (judgement, []route.Outcome, error) {
	if known == nil {
		var err error
		job := s.job(v)
		job.Trace = false
		if known, err = s.req.Library.SimulateAll(ctx, job, plans); err != nil {
			return judgement{}, nil, fmt.Errorf("econ: %w", err)
		}
	}
	judged := Appraisal{Currency: s.a.Currency, Report: s.a.Report}
	for i := range known {
		judged.Plans = append(judged.Plans, s.req.Book.PricePlan(&known[i], v))
	}
	judged.standings(s.req.Book, v, s.req.Library.Treatments())
	j := judgement{Verdict: judged.Verdict, work: judged.BaselineNet}
	if best := judged.bestWork(); best != nil {
		j.work = best.Gain
	}
	return j, known, nil
}

// turns reports that the advice is another one at one of the two figures.
func (t *turning) turns(central judgement) bool {
	return t.verdicts[0].Action != central.Action || t.verdicts[1].Action != central.Action
}

// text says what turns the verdict, and what would settle it.
func (t *turning) text(a *Appraisal) string {
	f := &t.figure
	return fmt.Sprintf("%s: at %s the verdict is %s, at %s %s. %s", f.ID,
		units.Format(f.Kind, t.low), advice(&t.verdicts[0], a.Currency), units.Format(f.Kind, t.high), advice(&t.verdicts[1], a.Currency), remedy(f))
}

func advice(v *judgement, currency string) string {
	if v.Action == WorkUp {
		return fmt.Sprintf("work up (%s, %s %s)", v.Plan, signedText(v.Gain), currency)
	}
	return v.Action
}

// signedText writes an amount with its sign.
func signedText(m Money) string {
	if m > 0 {
		return "+" + m.Text()
	}
	return m.Text()
}

// remedy says what makes an input surer.
func remedy(f *input.Figure) string {
	switch f.Origin {
	case input.Assumed:
		return "Nobody measured it (" + f.Source + "): measure it before you begin"
	case input.Typed:
		return "It was measured, but not well enough to decide: measure it again"
	case input.PriceBook:
		return "Ask for a firm price before you begin"
	case input.RouteFile:
		return "It is how such work usually goes (" + f.Source + "): weigh what really comes out, and do the work carefully"
	}
	return "It is a table's figure"
}
