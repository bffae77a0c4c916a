package econ

import (
	"fmt"
	"strings"

	"afterpour/chem/route"
	"afterpour/chem/units"
)

// lively is how much gas, in g, makes a vessel foam: some litres. Assumption.
const lively = 0.5

// cement writes a step in which a base metal is put in and what is left of it
// taken out.
func (k *sheetMaker) cement(st *SheetStep, s *route.StepRecord) {
	presented, _ := s.Setting(route.SetPresented)
	eaten, _ := s.Setting(route.SetEaten)
	d := k.doseOf(s.Reagent, units.Mass(presented), 0)
	st.Doses = append(st.Doses, d)
	k.warm(st, s, "Bring "+k.jar(s)+" to")
	name := reagentName(s.Reagent)
	if strings.Contains(s.Reagent, "powder") {
		st.Do = append(st.Do, fmt.Sprintf("Weigh %s of %s. Put it into %s a little at a time, stirring; wait until each portion has stopped foaming.", d.Text, name, k.jar(s)))
		if h := waitOf(s); h > 0.02 {
			st.Do = append(st.Do, fmt.Sprintf("Leave it for about %s, stirring now and then. Cover it loosely, never tightly: gas comes off.", hoursText(h)))
		}
		return
	}
	st.Do = append(st.Do,
		fmt.Sprintf("Weigh %s of %s: clean, bright sheet, strip or rod, without solder, lacquer or plating; rub it bright with scouring powder, rinse it and let it dry.", d.Text, name),
		fmt.Sprintf("Hang or lay it in %s so that it can be lifted out again, under the liquor with all of it. Stir or shake the powder off it every hour that you are there, so that bright metal shows.", k.jar(s)))
	if s.Sum(route.Gas) >= lively {
		st.Do = append(st.Do, "It fizzes: put it in by quarters, each when the last has calmed down, and stand the vessel in a tray that would hold all of it.")
	}
	if h := waitOf(s); h > 0.02 {
		st.Do = append(st.Do, fmt.Sprintf("Leave it for about %s. Cover it loosely, never tightly: gas comes off.", hoursText(h)))
	}
	back := units.Mass(presented - eaten)
	if back >= k.m.balance {
		st.Do = append(st.Do, "When the stopping test is met, lift it out, brush the powder off it back into the liquor, rinse it with a little water, dry and weigh it.")
		st.Checks = append(st.Checks, SheetCheck{What: name + " lifted out, dry", Expect: back, Text: "about " + k.m.about(back) + ", less what has crumbled into the powder; much less means that acid has eaten it"})
		st.Blanks = append(st.Blanks, SheetBlank{What: name + " lifted out", Unit: "g"})
	}
}

// cell writes how the current is set and how long it runs.
func (k *sheetMaker) cell(st *SheetStep, s *route.StepRecord) {
	amps, _ := s.Setting(route.SetCurrent)
	volts, _ := s.Setting(route.SetVoltage)
	hours, _ := s.Setting(route.SetRunHours)
	gap, _ := s.Setting("gap")
	area := float64(k.bench.CathodeArea) / float64(units.SquareCentimetre)
	st.Do = append(st.Do,
		fmt.Sprintf("Hang the plates in %s: as cathode (−) a clean stainless steel sheet, weighed, with %.0f cm² under the liquor; as anode (+) %s of the same size, %.0f cm away. They must not touch. The clips stay dry.", k.jar(s), area, anodeWords(s.How), 100*gap),
		fmt.Sprintf("Set the supply to a constant current of %.2g A; it will show about %.1f V. Stir gently, without whirling powder up. It runs for about %s; when gas comes briskly at the cathode and the deposit goes loose, halve the current for the last tenth.", amps, volts, hoursText(hours)),
		"No flame and no spark over the cell: it gives hydrogen and oxygen.")
	solid := s.AfterOf(s.In)
	if len(solid.Metals) > 0 {
		m := solid.Metals[0]
		st.Checks = append(st.Checks, SheetCheck{What: "the cathode, dry, less what it weighed before", Expect: m.Mass, Text: "about " + k.m.about(m.Mass) + " of " + m.Name})
	}
	st.Blanks = append(st.Blanks, SheetBlank{What: "cathode before", Unit: "g"}, SheetBlank{What: "ampere hours", Unit: "A h"})
}

func anodeWords(material string) string {
	switch material {
	case "", "graphite":
		return "a graphite plate or rods"
	}
	return "a plate of " + material
}
