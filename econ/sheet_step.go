package econ

import (
	"fmt"
	"math"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// step writes one step of a route.
func (k *sheetMaker) step(i int) SheetStep {
	s := &k.out.Steps[i]
	own := contains(k.out.UserRoutes, s.Route)
	st := SheetStep{
		Route: s.Route, RouteTitle: k.routeTitle(s.Route), Own: own, Step: s.Step, Kind: s.Kind, Title: s.Title,
		Cautions: cautionsOf(s.Cautions), Stop: degrees(s.Stop), Notes: k.said(s), Signs: k.signs(s), Time: timeOf(s),
	}
	k.parts = k.batches(s)
	k.begins(&st, i)
	write, ok := stepWriters[s.Kind]
	if !ok {
		write = (*sheetMaker).plain
	}
	write(k, &st, s)
	k.inBatches(&st, s)
	k.wait(&st, s)
	names(&st, s)
	k.checks(&st, i)
	k.leaves(&st, i)
	k.blanks(&st, s)
	k.fill(s)
	return st
}

// stepWriters say for each kind of step what the hands do.
var stepWriters map[string]func(*sheetMaker, *SheetStep, *route.StepRecord)

func init() {
	stepWriters = map[string]func(*sheetMaker, *SheetStep, *route.StepRecord){
		"add": (*sheetMaker).dose, "acidify": (*sheetMaker).acidify, "dissolve": (*sheetMaker).dissolve,
		"scrub": (*sheetMaker).scrub, "react": (*sheetMaker).plain,
		"settle": (*sheetMaker).settle, "wash": (*sheetMaker).wash,
		"cement": (*sheetMaker).cement, "electrolyse": (*sheetMaker).cell,
		"boil-down": (*sheetMaker).boilDown, "calcine": (*sheetMaker).calcine, "crystallise": (*sheetMaker).crystallise,
		"dry": (*sheetMaker).dry, "melt": (*sheetMaker).melt, "fuse": (*sheetMaker).fuse,
	}
}

func cautionsOf(list []route.Caution) []SheetCaution {
	var all []SheetCaution
	for _, c := range list {
		text := c.Brief
		if text == "" {
			text = c.Text
		}
		if c.Acknowledged {
			text += " (You have acknowledged this in the lot file.)"
		}
		all = append(all, SheetCaution{c.Severity, capital(degrees(text)), c.Source})
	}
	return all
}

func (k *sheetMaker) said(s *route.StepRecord) []string {
	list := make([]string, len(s.Said))
	for i, text := range s.Said {
		list[i] = capital(degrees(text))
	}
	return list
}

// degrees writes degrees as people do: tables and rules write them for the
// parser.
func degrees(text string) string { return strings.ReplaceAll(text, " degC", " °C") }

// begins says at the first step of a route which jars it begins with.
func (k *sheetMaker) begins(st *SheetStep, i int) {
	s := &k.out.Steps[i]
	if s.In != "vessel" || k.treats(i) && len(k.out.Pooled) > 0 {
		return
	}
	first := true
	for j := 0; j < i; j++ {
		if k.out.Steps[j].Route == s.Route && !k.out.Steps[j].Skipped {
			first = false
		}
	}
	before := k.routeBefore(s.Route)
	if !first || before == "" {
		return
	}
	var names []string
	for _, p := range k.out.HandedOn {
		if p.Route == before {
			names = append(names, k.jarWith(p))
		}
	}
	if len(names) > 0 {
		st.Do = append(st.Do, fmt.Sprintf("Take what “%s” left over: %s. It is the “vessel” from here on.", k.routeTitle(before), strings.Join(names, " together with ")))
	}
}

// routeBefore is the route before that one in the plan; "" if it is the first.
func (k *sheetMaker) routeBefore(id string) string {
	for i, r := range k.plan.Routes {
		if r == id && i > 0 {
			return k.plan.Routes[i-1]
		}
	}
	return ""
}

// jar names the vessel that a step works on.
func (k *sheetMaker) jar(s *route.StepRecord) string {
	stream := k.here(s.Route, s.In)
	if stream == "vessel" {
		return "the vessel"
	}
	return "the “" + input.Clean(stream, 60) + "”"
}

// inBatches says where a step is done in parts.
func (k *sheetMaker) inBatches(st *SheetStep, s *route.StepRecord) {
	if n := k.batches(s); n > 1 {
		st.Do = append([]string{fmt.Sprintf("It does not fit your largest vessel at once: do this step in %.0f equal batches.", n)}, st.Do...)
	}
}

// batches is in how many parts a step is done.
func (k *sheetMaker) batches(s *route.StepRecord) float64 {
	if n, ok := s.Setting(route.SetBatches); ok {
		return n
	}
	if room := k.bench.LargestVessel; s.Kind == "settle" && room > 0 && s.Before.Liquid > room {
		return math.Ceil(float64(s.Before.Liquid / room))
	}
	return 1
}

// names says what a step's result is called from here on, where it has not.
func names(st *SheetStep, s *route.StepRecord) {
	if len(s.Out) == 0 || s.Out[0] == s.In || s.Sells >= 0 {
		return
	}
	label := "“" + s.Out[0] + "”"
	for _, line := range st.Do {
		if strings.Contains(line, label) {
			return
		}
	}
	st.Do = append(st.Do, "What you have now is "+label+".")
}

// wait says how long it stands.
func (k *sheetMaker) wait(st *SheetStep, s *route.StepRecord) {
	h := waitOf(s)
	if !(h > 0.02) {
		return
	}
	switch s.Kind {
	case "settle", "electrolyse", "cement", "dry", "crystallise", "calcine", "wash", "melt", "fuse", "boil-down":
		return // said where it belongs
	}
	st.Do = append(st.Do, fmt.Sprintf("Leave it for %s; stir now and then.", hoursText(h)))
}

// waitOf is how long a step stands by itself, in h.
func waitOf(s *route.StepRecord) float64 {
	heating, _ := s.Setting(route.SetHeating)
	return s.Sum(route.Elapsed) - s.Sum(route.HandsOn) - heating
}

func timeOf(s *route.StepRecord) SheetTime {
	t := SheetTime{HandsOnH: s.Sum(route.HandsOn), ElapsedH: s.Sum(route.Elapsed)}
	t.HeatingH, _ = s.Setting(route.SetHeating)
	var parts []string
	if t.HandsOnH > 0 {
		parts = append(parts, hoursText(t.HandsOnH)+" of handwork")
	}
	if _, cell := s.Setting(route.SetRunHours); t.HeatingH > 0.02 && !cell {
		parts = append(parts, hoursText(t.HeatingH)+" of heating")
	}
	if t.ElapsedH > t.HandsOnH+0.02 {
		parts = append(parts, hoursText(t.ElapsedH)+" in all")
	}
	t.Text = strings.Join(parts, ", ")
	return t
}

// checks notes the masses that can be weighed after a step.
func (k *sheetMaker) checks(st *SheetStep, i int) {
	s := &k.out.Steps[i]
	if s.Sells >= 0 && s.Sells < len(k.out.Products) && s.Kind != "settle" {
		k.productCheck(st, s.Sells)
		return
	}
	p := solidAfter(s)
	r := k.ranges.step(i)
	switch s.Kind {
	case "settle", "wash":
		if p.Dry >= 10*k.m.balance {
			tare := "with its beaker less the beaker"
			if contains(k.plates, p.Stream) {
				tare = "with the sheet less the sheet"
			}
			k.check(st, "wet “"+p.Stream+"”, weighed "+tare, p.Wet, r.wet, "the solid in it would be "+k.m.about(p.Dry)+" dry"+k.metalIn(p))
		}
	case "dry", "calcine":
		k.check(st, "dry “"+p.Stream+"”", p.Wet, r.wet, strings.TrimPrefix(k.metalIn(p), ", "))
	case "boil-down":
		if _, partly := s.Setting(route.SetBoilTo); !partly {
			k.check(st, "dry “"+p.Stream+"”", p.Wet, r.wet, "")
		}
	case "crystallise":
		k.check(st, "drained “"+p.Stream+"”", p.Wet, r.wet, "")
	}
}

// metalIn says what metal a solid holds.
func (k *sheetMaker) metalIn(p route.Portion) string {
	if len(p.Metals) == 0 || p.Metals[0].Mass < k.m.balance {
		return ""
	}
	return fmt.Sprintf(", with %s of %s in it", k.m.about(p.Metals[0].Mass), p.Metals[0].Name)
}

func (k *sheetMaker) check(st *SheetStep, what string, expect units.Mass, s span, more string) {
	if !(expect >= k.m.balance) {
		return
	}
	text := k.ranged(expect, s)
	if more != "" {
		text += "; " + more
	}
	low, high := s.mass()
	st.Checks = append(st.Checks, SheetCheck{What: what, Expect: expect, Low: low, High: high, Text: text})
	st.Blanks = append(st.Blanks, SheetBlank{What: what, Unit: "g"})
}

func (k *sheetMaker) productCheck(st *SheetStep, i int) {
	p := k.out.Products[i]
	more := finenessText(p.Fineness)
	what := "the " + p.Form
	if p.Compound != "" {
		more, what = fmt.Sprintf("about %.1f %% pure", p.Fineness/10), "dry "+p.Compound
	}
	k.check(st, what, p.Mass, k.ranges.product(i), more)
}

// blanks adds lines for what a step uses and takes.
func (k *sheetMaker) blanks(st *SheetStep, s *route.StepRecord) {
	for _, d := range st.Doses {
		unit := "g"
		if d.Volume > 0 {
			unit = "mL"
		}
		if d.Reagent != "water" {
			used := " used"
			if s.Kind == "cement" {
				used = " put in"
			}
			st.Blanks = append(st.Blanks, SheetBlank{What: d.Name + used, Unit: unit})
		}
	}
	if strings.Contains(strings.ToLower(s.Stop), "ph paper") {
		st.Blanks = append(st.Blanks, SheetBlank{What: "pH read"})
	}
	st.Blanks = append(st.Blanks, SheetBlank{What: "hands-on time", Unit: "min"})
}

// plain writes a step of a kind that has no words of its own: what its ledger
// takes.
func (k *sheetMaker) plain(st *SheetStep, s *route.StepRecord) {
	for _, e := range s.Entries {
		if e.Kind == route.Reagent {
			d := k.doseOf(e.Item, units.Mass(e.Amount)*units.Gram, e.Volume)
			st.Doses = append(st.Doses, d)
			st.Do = append(st.Do, fmt.Sprintf("Take %s of %s.", d.Text, k.named(e.Item)))
		}
	}
	k.warm(st, s, "Bring "+k.jar(s)+" to")
}

// warm says to which temperature the step is brought, if to one.
func (k *sheetMaker) warm(st *SheetStep, s *route.StepRecord, first string) bool {
	t, ok := s.Setting("temperature")
	if !ok {
		return false
	}
	text := fmt.Sprintf("%s %s, by a thermometer in the liquid", first, celsius(units.Temperature(t)))
	if h, ok := s.Setting(route.SetHeating); ok && h > 0.02 {
		text += fmt.Sprintf("; about %s at full heat", hoursText(h))
	}
	st.Do = append(st.Do, text+".")
	return true
}
