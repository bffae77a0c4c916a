package econ

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"afterpour/chem/data"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// sheetMaker is a sheet being written.
type sheetMaker struct {
	req    Request
	a      *Appraisal
	plan   *PricedPlan
	out    *route.Outcome
	ranges planRange
	bench  route.Bench

	sheet  *Sheet
	m      *measurer
	order  []int             // places in out.Steps, in the order of the sheet
	number map[int]int       // place in out.Steps → number on the sheet
	pooled int               // number of the step that pools what is left; 0 if none
	plates []string          // streams that hang on a plate
	poured map[string]string // route and stream → the stream that a step without work has renamed
	parts  float64           // batches of the step being written
	needs  []supply
	space  []filling
	texts  []string // all that is said, to find the tests that it names
}

func newSheetMaker(a *Appraisal, plan *PricedPlan, o *route.Outcome, ranges planRange) *sheetMaker {
	req := a.study.req
	bench := req.Book.Bench()
	return &sheetMaker{
		req: req, a: a, plan: plan, out: o, ranges: ranges, bench: bench, sheet: &Sheet{},
		m: newMeasurer(bench.Balance), number: map[int]int{}, poured: map[string]string{},
	}
}

// make writes the sheet.
func (k *sheetMaker) make() *Sheet {
	k.head()
	k.arrange()
	for n, i := range k.order {
		if i == poolStep {
			k.add(k.pool(k.order[n+1]))
			continue
		}
		k.add(k.step(i))
	}
	k.leavings()
	k.supplies()
	k.tools()
	k.tests()
	k.protection()
	k.sheet.Rounding = k.m.rules()
	return k.sheet
}

// add puts a step on the sheet.
func (k *sheetMaker) add(s SheetStep) {
	s.Number = len(k.sheet.Steps) + 1
	k.sheet.Steps = append(k.sheet.Steps, s)
	k.texts = append(k.texts, s.Stop)
	k.texts = append(k.texts, s.Do...)
	k.texts = append(k.texts, s.Notes...)
	for _, c := range s.Cautions {
		k.texts = append(k.texts, c.Text)
	}
}

// head says what the sheet is of.
func (k *sheetMaker) head() {
	s, a, p := k.sheet, k.a, k.plan
	s.Lot, s.LotDate, s.Plan, s.Ending = a.Lot, a.Report.Date, p.ID, p.Ending
	s.PlanWords = k.planWords()
	s.Currency, s.PricesAsOf = a.Currency, a.PricesAsOf
	s.Standing = k.standing()
	s.Warnings = k.refusals()
	for _, id := range k.out.UserRoutes {
		f, err := k.req.Library.Route(id)
		if err == nil {
			s.Own = append(s.Own, fmt.Sprintf("The route %s is your own (%s). The program has checked that it balances, not that it is safe or works.", id, f.Path))
		}
	}
	if len(p.Routes) > 0 {
		s.Learned = k.req.Learning.Sentences(p.Routes...)
	}
	s.Holds = k.holds()
	s.Makes = k.makes()
	s.First = []string{
		"Read the whole sheet once before you begin, with its cautions.",
		"It is arithmetic from what was written down of this lot. It is no permission and no training: where the law, a safety data sheet or somebody licensed for the work says otherwise, they are right.",
		"Work under extraction that leaves the building, or out of doors. Not alone with hot acid, lye or a flame. Water to rinse an eye for a quarter of an hour within reach.",
		"Water means distilled or deionised water throughout: tap water brings chloride and lime.",
		"Names in “quotes” are labels: write them, what is in it and the date on every beaker and jar before anything goes in.",
		"Stop where something looks different from what the sheet says, and find out why before you go on.",
	}
}

func (k *sheetMaker) planWords() string {
	titles := make([]string, 0, len(k.plan.Routes))
	for _, id := range k.plan.Routes {
		titles = append(titles, k.routeTitle(id))
	}
	rest := map[string]string{endDispose: "hand what is left to a licensed carrier", endSell: "sell what is left as it stands", endHold: "keep what is left on the shelf"}[k.plan.Ending]
	if len(titles) == 0 {
		return capital(strings.ReplaceAll(rest, "what is left", "all of it"))
	}
	return strings.Join(titles, "; then ") + "; " + rest
}

func (k *sheetMaker) routeTitle(id string) string {
	if f, err := k.req.Library.Route(id); err == nil {
		return f.Title
	}
	return id
}

// standing says what the plan is worth, and if the verdict is for another.
func (k *sheetMaker) standing() []string {
	a, p := k.a, k.plan
	line := fmt.Sprintf("Net %s, a gain of %s over the best ending of the lot as it stands", a.money(p.Net), a.money(p.Gain))
	if a.Baseline == "" {
		line = "Net " + a.money(p.Net)
	}
	if !a.PricesAsOf.IsZero() {
		line += ", at prices of " + a.PricesAsOf.Format(time.DateOnly)
	}
	if p.HandsOnH > 0 {
		line += fmt.Sprintf(". %s of handwork over %s", capital(hoursText(p.HandsOnH)), hoursText(p.ElapsedH))
	}
	list := []string{line + "."}
	if len(p.Routes) == 0 && a.bestToWork() == nil {
		list = append(list, "No route to its metals can be carried out and priced on this bench: rank says why.")
	}
	if a.Verdict.Plan != p.ID {
		list = append(list, fmt.Sprintf("The verdict on this lot is another: %s. %s.", a.Verdict.Action, capital(a.Verdict.Why)))
	}
	return list
}

// refusals says for a lot that is left as it is why working it up is refused, if
// it is: whoever holds the sheet must not think of it.
func (k *sheetMaker) refusals() []SheetCaution {
	if len(k.plan.Routes) > 0 {
		return nil
	}
	var list []SheetCaution
	seen := map[string]bool{}
	for i := range k.a.Plans {
		if b := k.a.Plans[i].Blocked; b != nil && b.Severity == route.SeverityRefuse && !seen[b.Rule] {
			seen[b.Rule] = true
			list = append(list, SheetCaution{Severity: b.Severity, Text: "Do not work it up, and add nothing to it. " + capital(degrees(b.Reason)), Source: b.Rule})
		}
	}
	return list
}

// holds describes the vessel before the first step.
func (k *sheetMaker) holds() []string {
	r := k.a.Report
	var list []string
	if r.Volume > 0 {
		line := fmt.Sprintf("%s of liquor", roughly(r.Volume))
		if r.Acid.FreeMol > 1e-4 {
			line += fmt.Sprintf(" with about %.2g mol of free acid", r.Acid.FreeMol)
		}
		list = append(list, line+", "+phText(r.PH)+".")
	}
	for _, m := range r.Metals {
		line := fmt.Sprintf("%s: %s, give or take %s", m.Metal, k.m.about(m.Contained), k.m.about(m.SD))
		for _, f := range m.SolidForms {
			line += fmt.Sprintf("; %s of it settled as %s", k.m.about(f.Metal), strings.TrimSuffix(f.Species, "(s)"))
		}
		list = append(list, line+".")
	}
	if len(r.Declared) > 0 {
		list = append(list, "Declared to be in it: "+strings.Join(r.Declared, ", ")+".")
	}
	return list
}

// makes lists the products with their range.
func (k *sheetMaker) makes() []string {
	var list []string
	for i, p := range k.out.Products {
		name := p.Metal + " " + p.Form
		if p.Compound != "" {
			name = p.Compound
		}
		line := fmt.Sprintf("%s: %s", name, k.ranged(p.Mass, k.ranges.product(i)))
		if p.Compound == "" {
			line += fmt.Sprintf(", %s, with %s of %s in it", finenessText(p.Fineness), k.m.about(p.MetalMass), p.Metal)
		} else {
			line += fmt.Sprintf(", about %.1f %% pure", p.Fineness/10)
		}
		list = append(list, line+".")
	}
	if len(list) == 0 {
		list = append(list, "Nothing to sell: what is there is made ready for whoever takes it.")
	}
	return list
}

// finenessText writes a fineness; what rounds to pure is not called pure.
func finenessText(parts float64) string {
	if parts >= 999 {
		return "fineness over 999"
	}
	return fmt.Sprintf("fineness about %.0f", parts)
}

// product returns the range of a product; none if there is none.
func (r planRange) product(i int) span {
	if i < len(r.products) {
		return r.products[i]
	}
	return span{}
}

func (r planRange) step(i int) stepRange {
	if i < len(r.steps) {
		return r.steps[i]
	}
	return stepRange{}
}

// ranged writes a mass with its range.
func (k *sheetMaker) ranged(expect units.Mass, s span) string {
	text := "about " + k.m.about(expect)
	switch low, high := s.mass(); {
	case !(high > low):
	case low < k.m.balance:
		text += fmt.Sprintf(" (up to %s in nine lots of ten)", k.m.about(high))
	default:
		text += fmt.Sprintf(" (%s to %s in eight lots of ten)", k.m.about(low), k.m.about(high))
	}
	return text
}

// poolStep stands in the order for the step in which a treatment's vessel is
// filled with all that the routes have left.
const poolStep = -1

// arrange puts the steps in the order in which hands need them: a scrubber is
// set up before the first step that fills it. Steps that have nothing to do are
// left out.
func (k *sheetMaker) arrange() {
	steps := k.out.Steps
	for i := range steps {
		if steps[i].Skipped {
			k.rename(&steps[i])
			continue
		}
		if slices.Contains(k.order, i) {
			continue
		}
		if k.treats(i) && len(k.out.Pooled) > 0 {
			k.order = append(k.order, poolStep)
			k.pooled = len(k.order)
		}
		for j := i + 1; j < len(steps); j++ {
			if steps[j].Kind == "scrub" && !steps[j].Skipped && steps[j].Route == steps[i].Route && slices.Contains(steps[i].Out, steps[j].In) && !slices.Contains(k.order, j) {
				k.order = append(k.order, j)
				k.number[j] = len(k.order)
			}
		}
		k.order = append(k.order, i)
		k.number[i] = len(k.order)
	}
}

// rename notes that a parting with no solid to part has only given its liquor
// another name: on the bench it stands where it stood.
func (k *sheetMaker) rename(s *route.StepRecord) {
	if (s.Kind == "settle" || s.Kind == "wash") && len(s.Out) > 1 && s.Out[1] != s.In {
		k.poured[s.Route+"/"+s.Out[1]] = k.here(s.Route, s.In)
	}
}

// here is the name that a stream of a route goes by on the bench.
func (k *sheetMaker) here(of, stream string) string {
	if name, ok := k.poured[of+"/"+stream]; ok {
		return name
	}
	return stream
}

// treats tells whether step i is the first of a treatment.
func (k *sheetMaker) treats(i int) bool {
	f, err := k.req.Library.Route(k.out.Steps[i].Route)
	return err == nil && f.Treatment && (i == 0 || k.out.Steps[i-1].Route != f.ID)
}

// pool is the step in which all liquors that are left come together.
func (k *sheetMaker) pool(treated int) SheetStep {
	s := SheetStep{Title: "Pour together what is left"}
	jars := k.handedTo()
	for _, p := range k.out.Pooled {
		for _, kept := range k.out.KeptBeside {
			if kept.Route == p.Route && kept.Stream == p.Stream {
				jars = append(jars, kept)
			}
		}
	}
	slices.SortStableFunc(jars, func(a, b route.Portion) int { return pourOrder(a) - pourOrder(b) })
	names := make([]string, len(jars))
	for i, p := range jars {
		names[i] = k.jarWith(p)
	}
	s.Cautions = []SheetCaution{{
		Severity: route.SeverityCaution, Source: "common practice",
		Text: "Acid and alkaline liquors warm and may foam where they meet. All of it must be cold. Pour in a thin stream, stirring, and wait where it warms or foams. Nothing with bleach or ammonia in it goes in here.",
	}}
	s.Do = []string{"Let everything cool to the temperature of the room."}
	if n, ok := k.out.Steps[treated].Setting(route.SetBatches); ok {
		s.Do = append(s.Do, fmt.Sprintf("Together it does not fit your largest vessel: share every jar out over %.0f batches, and do the next steps with one after the other.", n))
	}
	s.Do = append(s.Do,
		"Pour together, slowly, in this order: "+strings.Join(names, ", then ")+". That is the “vessel” of the next step.")
	s.Time.Text = "counted with the next step"
	return s
}

// pourOrder is the order in which liquors are poured together: what is nearly
// neutral takes up the heat of the acids, and lye comes last.
func pourOrder(p route.Portion) int {
	switch {
	case p.PH <= 3.5:
		return 1
	case p.PH >= 11.5:
		return 2
	}
	return 0
}

// handedTo is what the last route before the treatment hands on.
func (k *sheetMaker) handedTo() []route.Portion {
	var list []route.Portion
	if n := len(k.plan.Routes); n > 1 {
		for _, p := range k.out.HandedOn {
			if p.Route == k.plan.Routes[n-2] {
				list = append(list, p)
			}
		}
	}
	return list
}

// jarWith names a stream with its volume.
func (k *sheetMaker) jarWith(p route.Portion) string {
	return fmt.Sprintf("“%s” (%s, %s)", k.here(p.Route, p.Stream), roughly(p.Liquid), phText(p.PH))
}

// phText writes the pH of a liquor by its free strong acid or base. In between,
// weak acids and bases decide, and the paper knows better.
func phText(ph float64) string {
	switch {
	case ph < 0.5:
		return "pH 0 or less"
	case ph <= 3.5, ph >= 11.5:
		return fmt.Sprintf("pH about %.0f", ph)
	}
	return "neither strong acid nor lye"
}

// reagentName returns a reagent's name as the catalogue has it.
func reagentName(id string) string {
	if r, ok := catalogue(id); ok {
		return r.Name
	}
	return words(id)
}

func catalogue(id string) (data.Reagent, bool) {
	rows, err := data.Reagents()
	if err != nil {
		return data.Reagent{}, false
	}
	for _, r := range rows {
		if r.ID == id {
			return r, true
		}
	}
	return data.Reagent{}, false
}

// strength returns the strength at which a reagent is reckoned, as a share; 0
// where it is not in the catalogue.
func (k *sheetMaker) strength(id string) float64 {
	if s, ok := k.req.Book.Shelf()[id]; ok && s.Strength > 0 {
		return float64(s.Strength)
	}
	if r, ok := catalogue(id); ok {
		return r.Percent / 100
	}
	return 0
}

// named writes a reagent with the strength that matters.
func (k *sheetMaker) named(id string) string {
	name := reagentName(id)
	if s := k.strength(id); s > 0 && id != "water" {
		name += fmt.Sprintf(" (%s %%)", trimZeros(fmt.Sprintf("%.1f", 100*s)))
	}
	return name
}
