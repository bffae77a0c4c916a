package econ

import (
	"fmt"
	"slices"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// beakers are the usual sizes, in L, and what is so large.
var beakers = []struct {
	litres float64
	name   string
}{
	{0.05, "50 mL beaker"},
	{0.1, "100 mL beaker"},
	{0.25, "250 mL beaker"},
	{0.4, "400 mL beaker"},
	{0.6, "600 mL beaker"},
	{1, "1 L beaker"},
	{2, "2 L beaker"},
	{3, "3 L beaker"},
	{5, "5 L beaker or bucket"},
	{10, "10 L bucket"},
	{20, "20 L bucket"},
}

// beakerFor names the smallest usual vessel that a volume fills to no more than
// the share full.
func beakerFor(v units.Volume, full float64) string {
	for _, b := range beakers {
		if v.Litres() <= full*b.litres*(1+1e-9) {
			return b.name
		}
	}
	return fmt.Sprintf("vessel of %.0f L or more", v.Litres()/full)
}

// fullest is how full a vessel should be for stirring and foam. Common practice.
const fullest = 0.75

// tools lists vessels and tools: what each stream's vessel must hold at the
// fullest, and what the steps are measured, heated and parted with.
func (k *sheetMaker) tools() {
	k.vesselTools()
	k.tool("balance", fmt.Sprintf("reads %s; weigh beakers and dishes empty first", k.m.massText(k.m.balance)))
	if len(k.m.used) > 0 {
		k.tool("measuring cylinders", "of "+cylinderWords(k.m.used))
	}
	if s := k.sheet; len(s.Steps) > 0 {
		k.tool("glass stirring rods, plastic droppers, wash bottle, labels, pen", "every step")
	}
	kinds := map[string][]string{}
	for i, s := range k.out.Steps {
		if n := k.number[i]; n > 0 {
			kinds[s.Kind] = append(kinds[s.Kind], fmt.Sprint(n))
			if _, ok := s.Setting("temperature"); (ok || s.Kind == "crystallise") && s.Kind != "calcine" {
				kinds["warm"] = append(kinds["warm"], fmt.Sprint(n))
			}
			if _, ok := s.Setting(route.SetFiltered); ok {
				kinds["filter"] = append(kinds["filter"], fmt.Sprint(n))
			}
			if s.Sum(route.Electricity) > 0 && s.Kind != "electrolyse" && s.Kind != "melt" && s.Kind != "fuse" {
				kinds["heat"] = append(kinds["heat"], fmt.Sprint(n))
			}
		}
	}
	for _, t := range kindTools {
		if at := kinds[t.kind]; len(at) > 0 {
			k.tool(t.name, stepsText(at))
		}
	}
	k.meltTools(append(kinds["melt"], kinds["fuse"]...))
	k.tool("jars with lids, of polyethylene or glass", "one for each label: "+strings.Join(k.labels(), ", "))
}

// kindTools are what the kinds of step are done with. Common practice.
var kindTools = []struct{ kind, name string }{
	{"heat", "hotplate"},
	{"warm", "thermometer to 110 °C, of glass or with a glass sheath"},
	{"filter", "funnel and stand for the filter papers"},
	{"boil-down", "porcelain or quartz dish, glass rod"},
	{"calcine", "thermocouple to 500 °C, porcelain rod"},
	{"scrub", "two wash bottles, one empty trap, tube, a pump for a weak suction"},
	{"crystallise", "watch glass, plastic sieve"},
	{"electrolyse", "supply with constant current, two clips, cathode sheet, anode, stand to hang them"},
	{"dry", "porcelain dish or tray"},
}

func (k *sheetMaker) meltTools(at []string) {
	if len(at) == 0 || k.bench.Melting != "torch" && k.bench.Melting != "furnace" {
		return
	}
	slices.Sort(at)
	k.tool(k.bench.Melting+", tongs, dry mould, fire brick or sand tray", stepsText(at))
}

func stepsText(at []string) string {
	if len(at) == 1 {
		return "step " + at[0]
	}
	return "steps " + strings.Join(at, ", ")
}

func (k *sheetMaker) tool(name, what string) {
	k.sheet.Tools = append(k.sheet.Tools, SheetTool{name, what})
}

// vesselTools lists one vessel for each stream, for its largest filling.
func (k *sheetMaker) vesselTools() {
	type most struct {
		filling
		hot bool
	}
	var list []most
	for _, f := range k.space {
		at := slices.IndexFunc(list, func(m most) bool { return m.stream == f.stream })
		if at < 0 {
			list = append(list, most{f, f.hot})
			continue
		}
		if f.litres > list[at].litres {
			list[at].filling = f
		}
		list[at].hot = list[at].hot || f.hot
	}
	for _, m := range list {
		name := beakerFor(m.litres, fullest)
		if largest := k.bench.LargestVessel; m.litres > units.Volume(fullest)*largest && m.litres <= largest*(1+1e-9) {
			name = fmt.Sprintf("your largest vessel, %s: it gets nearly full, so stir gently", roughly(largest))
		}
		if m.hot {
			name += ", of borosilicate glass: it is heated"
		}
		k.tool(name, fmt.Sprintf("for “%s”, at most %s in it (%s)", input.Clean(m.stream, 60), roughly(m.litres), m.what))
	}
}

func cylinderWords(used map[float64]bool) string {
	var list []string
	for _, c := range cylinders {
		if used[c.holds] {
			list = append(list, volumeText(units.Volume(c.holds)*units.Millilitre))
		}
	}
	return strings.Join(list, ", ")
}

// labels lists what has to be written on jars, once each.
func (k *sheetMaker) labels() []string {
	var list []string
	for _, i := range k.order {
		if i < 0 {
			continue
		}
		s := &k.out.Steps[i]
		for n, name := range s.Out {
			if label := "“" + name + "”"; n > 0 && name != "fume" && s.AfterOf(name).Wet > 0 && !contains(list, label) {
				list = append(list, label)
			}
		}
	}
	if len(list) == 0 {
		list = append(list, "“"+input.Clean(k.a.Lot, 60)+"”")
	}
	return list
}
