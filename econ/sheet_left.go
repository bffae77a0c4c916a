package econ

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"afterpour/chem/route"
	"afterpour/chem/units"
)

// classWords say what a waste class is.
var classWords = map[string]string{
	route.AcidMetalLiquor: "acid liquor with heavy metals",
	route.AlkalineLiquor:  "alkaline liquor",
	route.MetalLiquor:     "nearly neutral liquor with heavy metals",
	route.RinseWater:      "dilute rinse water",
	route.MetalSludge:     "wet sludge with heavy metals",
	route.Slag:            "slag and scrapings",
}

// lostStream is what sticks to papers and dishes.
const lostStream = "lost"

// leaves says where every stream goes that a step gives beside the one that it
// is for.
func (k *sheetMaker) leaves(st *SheetStep, i int) {
	s := &k.out.Steps[i]
	for n, name := range s.Out {
		if n == 0 || name == "fume" || name == s.In {
			continue
		}
		p := s.AfterOf(name)
		if p.Wet <= 0 {
			continue
		}
		more := ""
		if k.filledBefore(i, name) {
			more = " with what was in the jar already"
		}
		st.Leaves = append(st.Leaves, fmt.Sprintf("“%s”, %s%s: %s", name, k.howMuch(p), more, k.fate(i, p)))
	}
}

// filledBefore tells whether an earlier step of the route has given that stream
// too.
func (k *sheetMaker) filledBefore(i int, stream string) bool {
	for j := range i {
		if s := &k.out.Steps[j]; s.Route == k.out.Steps[i].Route && !s.Skipped && contains(s.Out, stream) {
			return true
		}
	}
	return false
}

// worthSaying is the least share of the most abundant metal that is listed.
const worthSaying = 0.02

// howMuch says how much of a stream there is, and of which metals.
func (k *sheetMaker) howMuch(p route.Portion) string {
	text := "about " + k.m.about(p.Wet)
	if p.Liquid.Litres() > p.Dry.Kilograms() {
		text = fmt.Sprintf("about %s, %s", roughly(p.Liquid), phText(p.PH))
	}
	var parts []string
	metals := metalsOf(p)
	for _, a := range metals {
		if a.Mass >= k.m.balance && len(parts) < 3 && a.Mass >= worthSaying*metals[0].Mass {
			parts = append(parts, k.m.about(a.Mass)+" of "+a.Name)
		}
	}
	if len(parts) > 0 {
		text += ", with " + strings.Join(parts, ", ")
	}
	return text
}

// metalsOf lists the metals of a stream, dissolved and settled together, the most
// first.
func metalsOf(p route.Portion) []route.Amount {
	var list []route.Amount
	for _, part := range [][]route.Amount{p.Metals, p.Dissolved} {
		for _, a := range part {
			list = addAmount(list, a)
		}
	}
	slices.SortStableFunc(list, func(a, b route.Amount) int { return cmp.Compare(b.Mass, a.Mass) })
	return list
}

// fate says what becomes of a stream that stands there after step i.
func (k *sheetMaker) fate(i int, p route.Portion) string {
	steps := k.out.Steps
	for j := i + 1; j < len(steps); j++ {
		if steps[j].Route == steps[i].Route && steps[j].In == p.Stream && !steps[j].Skipped {
			return fmt.Sprintf("step %d works on it.", k.number[j])
		}
	}
	for _, h := range k.out.HandedOn {
		if h.Route == p.Route && h.Stream == p.Stream {
			return k.handedFate(i, h)
		}
	}
	for _, jar := range k.out.Pooled {
		if jar.Route == p.Route && jar.Stream == p.Stream {
			return fmt.Sprintf("keep it for step %d, where it is poured together with the rest.", k.pooled)
		}
	}
	return k.ends(p)
}

// handedFate is the fate of what a route hands on.
func (k *sheetMaker) handedFate(i int, p route.Portion) string {
	steps := k.out.Steps
	for j := i + 1; j < len(steps); j++ {
		if steps[j].Route != steps[i].Route && !steps[j].Skipped {
			if k.treats(j) && k.pooled > 0 {
				return fmt.Sprintf("keep it for step %d, where it is poured together with the rest.", k.pooled)
			}
			return fmt.Sprintf("keep it: step %d begins with it.", k.number[j])
		}
	}
	return k.ends(p)
}

// ends says what the plan's ending does with a stream.
func (k *sheetMaker) ends(p route.Portion) string {
	class := fmt.Sprintf("%s (“%s” of your price book)", classWords[p.Class], p.Class)
	switch {
	case p.Stream == lostStream || p.Class == route.Slag:
		return "keep papers, scrapings and slag dry in a tin, labelled with the metal: they may go with a later lot."
	case k.plan.Ending == endSell && p.Class != route.RinseWater:
		return "goes to the buyer of what is left, if he takes it, else to a licensed carrier: " + class + "."
	case k.plan.Ending == endHold:
		return "stays on the shelf: " + class + ". Labelled, on a tray that would hold all of it, away from children, frost and sun."
	}
	text := "for the licensed carrier: " + class + "."
	if p.Class == route.RinseWater {
		text += " It is waste like the rest, unless a permit of your own water authority says otherwise."
	}
	return text
}

// leavings lists all that is left at the end.
func (k *sheetMaker) leavings() {
	last := ""
	if n := len(k.plan.Routes); n > 0 {
		last = k.plan.Routes[n-1]
	}
	for _, p := range k.out.KeptBeside {
		pooled := slices.ContainsFunc(k.out.Pooled, func(q route.Portion) bool { return q.Route == p.Route && q.Stream == p.Stream })
		if !pooled {
			k.left(p)
		}
	}
	for _, p := range k.out.HandedOn {
		if p.Route == last {
			k.left(p)
		}
	}
	if len(k.plan.Routes) == 0 {
		for _, w := range k.out.Waste {
			k.left(asItStands(w))
		}
	}
	k.sheet.Closing = cautionsOf(k.out.Closing)
	for _, c := range k.sheet.Closing {
		k.texts = append(k.texts, c.Text)
	}
	k.sheet.Last = k.last()
	k.sheet.Blanks = append(k.sheet.Blanks, SheetBlank{What: "all hands-on time", Unit: "h"}, SheetBlank{What: "what looked different from the sheet"})
}

// asItStands describes waste of a lot that nobody has worked on.
func asItStands(w route.Waste) route.Portion {
	p := route.Portion{Stream: "the lot", Class: w.Class, Liquid: w.Volume, Wet: w.Mass, PH: w.PH}
	if w.Class == route.MetalSludge || w.Class == route.Slag {
		p.Dry = w.Mass // it is weighed, not poured
	}
	for _, share := range w.Metals {
		p.Metals = append(p.Metals, route.Amount{Name: share.Element, Mass: share.Share.Of(w.Mass)})
	}
	return p
}

func (k *sheetMaker) left(p route.Portion) {
	if !(p.Wet > 0) {
		return
	}
	l := SheetLeft{Name: p.Stream, Route: p.Route, Class: p.Class, Volume: p.Liquid, Mass: p.Wet, PH: p.PH, Metals: metalsOf(p)}
	if p.Liquid.Litres() <= p.Dry.Kilograms() {
		l.Volume = 0
	}
	if p.Stream == lostStream {
		l.Name = "papers and scrapings"
	}
	l.Text = k.howMuch(p) + ": " + k.ends(p)
	k.sheet.Left = append(k.sheet.Left, l)
}

func addAmount(list []route.Amount, a route.Amount) []route.Amount {
	for i := range list {
		if list[i].Name == a.Name {
			list[i].Mass += a.Mass
			return list
		}
	}
	return append(list, a)
}

// last is what remains to be done.
func (k *sheetMaker) last() []string {
	list := []string{
		"Rinse beakers and tools into the jar that they belong to, not into the sink.",
		"Close no jar tightly while it fizzes, is warm or smells. Acid goes in glass or polyethylene, lye in polyethylene, neither in metal.",
	}
	if len(k.out.Products) > 0 {
		list = append(list, fmt.Sprintf("Note what came out: afterpour outturn LOT.toml --plan %s %s=\"… g\" hours=\"… h\". The next estimate uses it.", k.plan.ID, k.out.Products[0].Sale))
	}
	return append(list, "Published discharge limits are what regulators elsewhere have written, not a permission. What may go where is for your own authority and carrier to say.")
}

// supply is how much of a reagent the sheet's doses come to.
type supply struct {
	id     string
	mass   units.Mass
	volume units.Volume
}

// need adds a rounded dose to what has to be in the house.
func (k *sheetMaker) need(id string, mass units.Mass, volume units.Volume) {
	for i := range k.needs {
		if k.needs[i].id == id {
			k.needs[i].mass += mass
			k.needs[i].volume += volume
			return
		}
	}
	k.needs = append(k.needs, supply{id, mass, volume})
}
