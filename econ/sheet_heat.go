package econ

import (
	"fmt"
	"strings"

	"afterpour/chem/route"
	"afterpour/chem/units"
)

func (k *sheetMaker) boilDown(st *SheetStep, s *route.StepRecord) {
	h, _ := s.Setting(route.SetHeating)
	if to, partly := s.Setting(route.SetBoilTo); partly {
		st.Do = append(st.Do, fmt.Sprintf("Mark the outside of a borosilicate beaker or porcelain dish at %s with water first. Boil %s (%s) down to that mark, gently and open, about %s at full heat.",
			roughly(units.Volume(to)), k.jar(s), roughly(s.Before.Liquid), hoursText(h)))
		return
	}
	st.Do = append(st.Do,
		fmt.Sprintf("Boil %s (%s) down in a porcelain or quartz dish, a litre or less at a time, open and without spatter: about %s at full heat in all. No metal dish.", k.jar(s), roughly(s.Before.Liquid), hoursText(h)),
		"When it thickens, turn the heat down and stir with a glass rod until the crust is dry. Tilt and stir: a closed crust spits.")
}

func (k *sheetMaker) calcine(st *SheetStep, s *route.StepRecord) {
	t, _ := s.Setting("temperature")
	st.Do = append(st.Do,
		fmt.Sprintf("Crush the dry salts in the dish, no deeper than a finger. Heat slowly to %s, measured in the salts with a thermocouple, and keep it there for about %s. Rake it every half hour with a glass or porcelain rod.",
			celsius(units.Temperature(t)), hoursText(waitOf(s))),
		"No paper, wood or oil near it: hot nitrate sets them on fire. Let it cool before it is moved.")
}

func (k *sheetMaker) crystallise(st *SheetStep, s *route.StepRecord) {
	to, _ := s.Setting(route.SetBoilTo)
	h, _ := s.Setting(route.SetHeating)
	cold, _ := s.Setting("cold")
	mother := portionAt(s, 1)
	st.Do = append(st.Do, fmt.Sprintf("Mark the outside of a borosilicate beaker at %s with water first. Boil %s (%s) down to that mark, just under the boil, about %s at full heat; the drop test below decides.",
		roughly(units.Volume(to)), k.jar(s), roughly(s.Before.Liquid), hoursText(h)))
	st.Do = append(st.Do, fmt.Sprintf("Cover it with a watch glass and let it cool to %s without moving it, for about %s.", celsius(units.Temperature(cold)), hoursText(waitOf(s))))
	st.Do = append(st.Do, fmt.Sprintf("Pour the mother liquor (about %s) %s. Let the crystals drain on a plastic sieve or a filter, rinse them once with a little ice-cold water. They are “%s”.", roughly(mother.Liquid), k.intoJar(s), s.Out[0]))
}

// portionAt is what a step left in the stream that it gives at place i.
func portionAt(s *route.StepRecord, i int) route.Portion {
	if i < len(s.Out) {
		return s.AfterOf(s.Out[i])
	}
	return route.Portion{}
}

func (k *sheetMaker) dry(st *SheetStep, s *route.StepRecord) {
	if s.How == "air" {
		st.Do = append(st.Do, fmt.Sprintf("Spread %s thinly on filter paper or a plastic tray, under a cloth against dust, for about %s. Turn it once or twice.", k.jar(s), hoursText(waitOf(s))))
		return
	}
	if contains(k.plates, s.In) {
		st.Do = append(st.Do, fmt.Sprintf("Let the plate of %s dry in warm air, at no more than 80 °C. Bend the sheet and peel the deposit off, or leave it on and weigh both, less the sheet.", k.jar(s)))
		return
	}
	heat := "warm it gently until it no longer steams, then keep it at 110 to 150 °C"
	if len(s.Before.Metals) > 0 && s.Before.Metals[0].Name == "Cu" && route.MassOf(s.Before.Solids, "Cu(s)") > 0 {
		heat = "keep it covered at 60 to 80 °C, so that the copper does not go brown"
	}
	st.Do = append(st.Do,
		fmt.Sprintf("Weigh a porcelain dish empty and write its mass down. Spread %s in it and %s, for about %s in all. Crush lumps when they are dry.", k.jar(s), heat, hoursText(s.Sum(route.Elapsed)-s.Sum(route.HandsOn))),
		"Let it cool, weigh it; heat it for an hour more, cool and weigh again, until two weighings agree.")
}

func (k *sheetMaker) melt(st *SheetStep, s *route.StepRecord) {
	if k.bench.Melting != "torch" && k.bench.Melting != "furnace" {
		st.Do = append(st.Do, "Your bench does not melt: weigh the dry powder and pack it in a closed, labelled bag.")
		return
	}
	flux := k.fluxes(st, s)
	st.Do = append(st.Do,
		fmt.Sprintf("Glaze the inside of a dry crucible with a pinch of the borax at red heat. Mix the rest of the %s with %s (about %s) and put it in by spoonfuls, each when the last has sunk together.", flux, k.jar(s), k.m.about(s.Before.Wet)),
		k.flame("until the metal lies bright and quiet under the slag"),
		"Warm the mould until a drop of water on it dances, and let it dry; a damp mould throws the metal out. Pour in one go. Let it go black-cold before water touches it, then knock the slag off and keep it.")
}

func (k *sheetMaker) fuse(st *SheetStep, s *route.StepRecord) {
	flux := k.fluxes(st, s)
	st.Do = append(st.Do,
		fmt.Sprintf("Grind the %s with %s (about %s), both bone dry. Fill a crucible no more than half: it foams as gas goes off. Put the rest in by spoonfuls.", flux, k.jar(s), k.m.about(s.Before.Wet)),
		k.flame(fmt.Sprintf("slowly, over about %s, until the charge lies quiet and thin", hoursText(waitOf(s)))),
		"Warm the mould until a drop of water on it dances, and let it dry. Pour in one go. When it is cold, knock the slag off, boil the metal in water until the water is neutral to pH paper, and keep the slag.")
}

// fluxes doses what goes into the crucible with the charge and names it.
func (k *sheetMaker) fluxes(st *SheetStep, s *route.StepRecord) string {
	var names []string
	for _, e := range s.Entries {
		if e.Kind == route.Reagent {
			d := k.doseOf(e.Item, units.Mass(e.Amount)*units.Gram, e.Volume)
			st.Doses = append(st.Doses, d)
			st.Do = append(st.Do, fmt.Sprintf("Weigh %s of %s.", d.Text, k.named(e.Item)))
			names = append(names, d.Name)
		}
	}
	return strings.Join(names, " and ")
}

func (k *sheetMaker) flame(until string) string {
	if k.bench.Melting == "furnace" {
		return "Melt it in the furnace at about 1,050 °C, " + until + "."
	}
	return "Melt it with the torch (propane or propane with oxygen, never acetylene over silver salts), " + until + "."
}
