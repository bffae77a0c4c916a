package econ

import (
	"fmt"
	"math"
	"strings"

	"afterpour/chem/route"
	"afterpour/chem/units"
)

// doseOf rounds a reagent to what can be measured: a liquid by volume, anything
// else on the balance, water to two digits. Of a step that is done in batches
// each batch is measured by itself.
func (k *sheetMaker) doseOf(id string, mass units.Mass, volume units.Volume) SheetDose {
	d := SheetDose{Reagent: id, Name: reagentName(id), Mass: mass, Volume: volume}
	n := math.Max(1, k.parts)
	var all string
	switch {
	case id == "water":
		v := k.m.water(volume / units.Volume(n))
		d.Text, d.Off = roughly(v), off(n*float64(v), float64(volume))
		all = roughly(v * units.Volume(n))
		k.need(id, units.Mass(n*v.Litres()), v*units.Volume(n))
	case volume > 0:
		v := k.m.pour(volume / units.Volume(n))
		d.Text, d.Off = volumeText(v), off(n*float64(v), float64(volume))
		all = volumeText(v * units.Volume(n))
		k.need(id, mass*units.Mass(1+d.Off), v*units.Volume(n))
	default:
		m := k.m.weigh(mass / units.Mass(n))
		d.Text, d.Off = k.m.massText(m), off(n*float64(m), float64(mass))
		all = k.m.massText(m * units.Mass(n))
		k.need(id, m*units.Mass(n), 0)
	}
	if n > 1 {
		d.Text += fmt.Sprintf(" (for each batch; %s in all)", all)
	}
	if id != "water" && math.Abs(d.Off) > noticeable {
		d.Text += fmt.Sprintf(" (%.2g %% over what it takes: your scale or cylinder shows no less)", 100*d.Off)
	}
	return d
}

// entries returns the step's reagents: that of the step, and the water with it.
func entries(s *route.StepRecord) (main, water []route.Entry) {
	for _, e := range s.Entries {
		switch {
		case e.Kind != route.Reagent:
		case e.Item == "water" && s.Reagent != "water":
			water = append(water, e)
		default:
			main = append(main, e)
		}
	}
	return main, water
}

// total adds entries of one item up.
func totalOf(list []route.Entry) (mass units.Mass, volume units.Volume) {
	for _, e := range list {
		mass += units.Mass(e.Amount) * units.Gram
		volume += e.Volume
	}
	return mass, volume
}

// dose writes an "add" step: make the solution up, warm the vessel, pour in.
func (k *sheetMaker) dose(st *SheetStep, s *route.StepRecord) {
	main, _ := entries(s)
	if len(main) == 0 {
		st.Do = append(st.Do, fmt.Sprintf("There is enough in %s already: nothing is added.", k.jar(s)))
		k.warm(st, s, "Bring "+k.jar(s)+" to")
		return
	}
	if mass, _ := totalOf(main); mass < k.m.balance {
		k.trace(st, s)
		return
	}
	what := k.makeUp(st, s)
	warmed := k.warm(st, s, "Bring "+k.jar(s)+" to")
	switch {
	case isAcid(s.Reagent) || isBase(s.Reagent):
		heat := ""
		if rise, _ := s.Setting(route.SetHeatRise); rise >= 10 {
			heat = fmt.Sprintf(": all at once it would warm by about %.0f degrees", rise)
		}
		pause := "let it cool to hand-warm before the next"
		if warmed {
			pause = "wait until it has calmed down before the next"
		}
		st.Do = append(st.Do, fmt.Sprintf("Add %s to %s in thirds, each in a thin stream while you stir; %s%s.", what, k.jar(s), pause, heat))
		if testsPH(s.Stop) {
			st.Do = append(st.Do, "Test after each portion, and from the last third on add it by the dropper: stop as soon as the paper shows what the stopping test below says, even if some is left over. If it runs out before that, make up a tenth more.")
		}
	case warmed:
		st.Do = append(st.Do, fmt.Sprintf("Add %s to %s in five or six portions over a quarter of an hour, stirring; wait until each has calmed down.", what, k.jar(s)))
	default:
		st.Do = append(st.Do, fmt.Sprintf("Pour %s into %s slowly, stirring all the while.", what, k.jar(s)))
	}
}

// trace writes a dose that no balance on this bench can weigh.
func (k *sheetMaker) trace(st *SheetStep, s *route.StepRecord) {
	weak := "dissolve 1 g of it in 20 mL of water"
	switch {
	case caustic(s.Reagent):
		weak = "put 1 g of it into 20 mL of cold water (never water onto the caustic)"
	case isAcid(s.Reagent) && s.Reagent != "sulfamic-acid":
		weak = "put 1 mL of it into 20 mL of cold water (never water into the acid)"
	}
	st.Do = append(st.Do, fmt.Sprintf("It takes no more than a trace of %s, less than your balance shows. Test first. If the stopping test is not met, %s and add that by the drop, with a test after each.", k.named(s.Reagent), weak))
	k.need(s.Reagent, units.Gram, 0)
	k.need("water", 0.02*units.Kilogram, 0.02*units.Litre)
}

func testsPH(stop string) bool { return strings.Contains(strings.ToLower(stop), "ph ") }

func isAcid(id string) bool { return strings.HasSuffix(id, "-acid") && id != "ascorbic-acid" }

func isBase(id string) bool {
	switch id {
	case "sodium-hydroxide", "potassium-hydroxide", "calcium-hydroxide", "sodium-carbonate", "sodium-hydrogencarbonate", "ammonia-water":
		return true
	}
	return false
}

// caustic tells a base that heats the water it is put into.
func caustic(id string) bool { return id == "sodium-hydroxide" || id == "potassium-hydroxide" }

// makeUp writes how the step's reagent is weighed or measured, and how it is
// brought into solution: acid and caustic into water, never the other way. It
// returns what the result is called.
func (k *sheetMaker) makeUp(st *SheetStep, s *route.StepRecord) string {
	main, water := entries(s)
	mass, volume := totalOf(main)
	_, litres := totalOf(water)
	d := k.doseOf(s.Reagent, mass, volume)
	st.Doses = append(st.Doses, d)
	name := k.named(s.Reagent)
	if !(litres > 0) {
		if d.Volume > 0 {
			st.Do = append(st.Do, fmt.Sprintf("Measure %s of %s.", d.Text, name))
		} else {
			st.Do = append(st.Do, fmt.Sprintf("Weigh %s of %s.", d.Text, name))
		}
		return "it"
	}
	w := k.doseOf("water", units.Mass(litres.Litres()), litres)
	st.Doses = append(st.Doses, w)
	cup := beakerFor(litres+volume, 0.6)
	switch {
	case isAcid(s.Reagent) && litres < 2*volume:
		// So little water would boil: the slurry takes the heat.
		st.Do = append(st.Do, fmt.Sprintf("Stir %s of cold water into %s and stand it in a bowl of cold water. Measure %s of %s; it goes into the cold slurry as it is, never any water onto it.", w.Text, k.jar(s), d.Text, name))
		return "the acid"
	case caustic(s.Reagent):
		st.Do = append(st.Do, fmt.Sprintf("Put %s of cold water into a %s of polyethylene or borosilicate glass. Weigh %s of %s and add it to the water in three parts, stirring until each is dissolved; never water onto the caustic. Let it cool to hand-warm.", w.Text, cup, d.Text, name))
		return "the lye"
	case isAcid(s.Reagent) && d.Volume > 0:
		st.Do = append(st.Do, fmt.Sprintf("Put %s of cold water into a %s of borosilicate glass. Measure %s of %s and pour it into the water in a thin stream, stirring; never water into the acid. Let it cool to hand-warm.", w.Text, cup, d.Text, name))
		return "the diluted acid"
	case d.Volume > 0:
		st.Do = append(st.Do, fmt.Sprintf("Measure %s of %s into %s of water in a %s and stir.", d.Text, name, w.Text, cup))
	default:
		st.Do = append(st.Do, fmt.Sprintf("Weigh %s of %s and dissolve it in %s of water in a %s.", d.Text, name, w.Text, cup))
	}
	return "the solution"
}

// acidify writes a step that covers a solid with dilute acid or with lye: water
// first.
func (k *sheetMaker) acidify(st *SheetStep, s *route.StepRecord) {
	main, water := entries(s)
	if caustic(s.Reagent) && len(main) > 0 {
		k.cover(st, s)
		return
	}
	if _, litres := totalOf(water); litres > 0 {
		w := k.doseOf("water", units.Mass(litres.Litres()), litres)
		st.Doses = append(st.Doses, w)
		st.Do = append(st.Do, fmt.Sprintf("Pour %s of cold water over %s.", w.Text, k.jar(s)))
	}
	if len(main) == 0 {
		st.Do = append(st.Do, "There is enough of it in there already: none is added.")
		return
	}
	mass, volume := totalOf(main)
	d := k.doseOf(s.Reagent, mass, volume)
	st.Doses = append(st.Doses, d)
	st.Do = append(st.Do, fmt.Sprintf("Measure %s of %s and pour it into %s in a thin stream, stirring: the acid goes into the water, never the other way.", d.Text, k.named(s.Reagent), k.jar(s)))
}

// cover covers a solid with lye.
func (k *sheetMaker) cover(st *SheetStep, s *route.StepRecord) {
	_, water := entries(s)
	if _, litres := totalOf(water); litres > 0 {
		lye := k.makeUp(st, s)
		st.Do = append(st.Do, fmt.Sprintf("Pour %s over %s and stir.", lye, k.jar(s)))
		return
	}
	main, _ := entries(s)
	mass, volume := totalOf(main)
	d := k.doseOf(s.Reagent, mass, volume)
	st.Doses = append(st.Doses, d)
	st.Do = append(st.Do, fmt.Sprintf("Stand %s, cold, in a bowl of cold water. Weigh %s of %s and stir it into the slurry in six portions, each when the last is dissolved and it has cooled to hand-warm; never water onto the caustic.", k.jar(s), d.Text, k.named(s.Reagent)))
}

// dissolve writes a step that takes metal up in acid: water, acid into it, then
// the metal in portions.
func (k *sheetMaker) dissolve(st *SheetStep, s *route.StepRecord) {
	main, water := entries(s)
	into := "a beaker of borosilicate glass that the mixture fills to less than half"
	if _, litres := totalOf(water); litres > 0 {
		w := k.doseOf("water", units.Mass(litres.Litres()), litres)
		st.Doses = append(st.Doses, w)
		st.Do = append(st.Do, fmt.Sprintf("Put %s of cold water into %s.", w.Text, into))
	} else if s.Before.Liquid > 0 {
		st.Do = append(st.Do, fmt.Sprintf("Pour the liquor of %s (%s) into %s; keep the metal out of it for now.", k.jar(s), roughly(s.Before.Liquid), into))
	}
	if len(main) == 0 {
		st.Do = append(st.Do, "There is acid enough in it already: none is added.")
	} else {
		mass, volume := totalOf(main)
		d := k.doseOf(s.Reagent, mass, volume)
		st.Doses = append(st.Doses, d)
		st.Do = append(st.Do, fmt.Sprintf("Measure %s of %s and pour it in a thin stream into that, stirring; never the other way.", d.Text, k.named(s.Reagent)))
	}
	k.warm(st, s, "Bring it to")
	st.Do = append(st.Do, fmt.Sprintf("Put the solid of %s in (%s, weighed dry) a spoonful at a time. Wait until each spoonful has stopped foaming. If brown fume rises faster than your extraction takes it, stop adding and cool the beaker from outside.", k.jar(s), k.m.about(s.Before.Dry)))
}

// scrub writes a step that is set up before what makes the fume.
func (k *sheetMaker) scrub(st *SheetStep, s *route.StepRecord) {
	var from []string
	for i, other := range k.out.Steps {
		if other.Route == s.Route && other.Kind != "scrub" && contains(other.Out, s.In) && k.number[i] > 0 {
			from = append(from, fmt.Sprint(k.number[i]))
		}
	}
	st.Title += " (set this up first)"
	if len(from) > 0 {
		st.Do = append(st.Do, fmt.Sprintf("Do this before step %s: the fume of %s goes through it.", from[0], stepsText(from)))
	}
	what := k.makeUp(st, s)
	st.Do = append(st.Do,
		fmt.Sprintf("Share %s between two wash bottles in a row, with an empty bottle before them to catch what is sucked back. Use glass, polyethylene or PTFE tube; rubber is eaten by the fume.", what),
		"Lead the fume from a hood or funnel over the dish through the bottles with a weak, steady suction (a water jet pump or an aquarium pump behind them). Never close the dish itself. Let the suction run until the last dish is cold.")
}
