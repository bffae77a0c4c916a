package econ

import (
	"fmt"

	"afterpour/chem/route"
	"afterpour/chem/units"
)

// settle writes how a solid and its liquor are parted.
func (k *sheetMaker) settle(st *SheetStep, s *route.StepRecord) {
	solid := s.AfterOf(s.Out[0])
	poured := s.Before.Liquid - solid.Liquid
	into := k.intoJar(s)
	_, filtered := s.Setting(route.SetFiltered)
	wait := waitOf(s)
	switch {
	case s.How == "lift":
		k.plates = append(k.plates, solid.Stream)
		st.Do = append(st.Do,
			"Switch the supply off, then lift the plates out of the liquor and let them drip over it for a minute.",
			fmt.Sprintf("Put the plate with the deposit into a dish: that is “%s”.", solid.Stream),
			fmt.Sprintf("Pour the liquor (about %s) %s.", roughly(poured), into))
		return
	case s.How == "scrape":
		st.Do = append(st.Do,
			"Switch the supply off, lift the plates out, and brush or scrape the crystals off the cathode into the liquor.",
			k.stand(wait))
	case wait > 0.02:
		st.Do = append(st.Do, k.stand(wait))
	}
	if filtered && poured <= 0 {
		st.Do = append(st.Do, fmt.Sprintf("Put it on a filter paper and let it drain %s: hardly anything runs through. It is “%s”.", into, solid.Stream))
		return
	}
	if filtered {
		st.Do = append(st.Do, fmt.Sprintf("Pour the liquor through a filter paper, at last with the solid; catch what runs through (about %s) %s. Let the paper drain until it hardly drips: the solid keeps about %s of liquor. It is “%s”.",
			roughly(poured), into, roughly(solid.Liquid), solid.Stream))
		return
	}
	heel := solid.Liquid
	if _, second := s.Setting(route.SetBed); second {
		st.Do = append(st.Do,
			fmt.Sprintf("Pour or siphon the clear liquor off %s. Stop before the solid moves.", into),
			fmt.Sprintf("Rinse the solid with the last of the liquor into the smaller beaker “%s”, let it settle again, and pour off again, down to about %s over and in the solid: about %s has gone off in all.",
				solid.Stream, roughly(heel), roughly(poured)))
		return
	}
	st.Do = append(st.Do, fmt.Sprintf("Pour or siphon the clear liquor off (about %s) %s. Stop before the solid moves; about %s stays with it. That is “%s”.",
		roughly(poured), into, roughly(heel), solid.Stream))
}

func (k *sheetMaker) stand(hours float64) string {
	if hours < 0.02 {
		return "Let the solid settle until the liquor above it is clear."
	}
	return fmt.Sprintf("Let it stand for about %s, until the liquor above the solid is clear.", hoursText(hours))
}

// intoJar names the jar of what is poured off.
func (k *sheetMaker) intoJar(s *route.StepRecord) string {
	if len(s.Out) < 2 {
		return "into a jar"
	}
	return fmt.Sprintf("into the jar “%s”", s.Out[1])
}

// wash writes how often, with how much, and down to where.
func (k *sheetMaker) wash(st *SheetStep, s *route.StepRecord) {
	n, _ := s.Setting(route.SetWashes)
	fill, _ := s.Setting(route.SetWashFill)
	heel, _ := s.Setting(route.SetWashHeel)
	first, _ := s.Setting(route.SetWashFirst)
	main, water := entries(s)
	_, litres := totalOf(append(main, water...))
	st.Doses = append(st.Doses, k.doseOf("water", units.Mass(litres.Litres()), litres))
	t, hot := s.Setting("temperature")
	kind := "water"
	if hot {
		kind = fmt.Sprintf("water at %s", celsius(units.Temperature(t)))
	}
	if first > 0.05*fill {
		st.Do = append(st.Do, fmt.Sprintf("Wet the solid with %s of water first.", roughly(units.Volume(first))))
	}
	times := fmt.Sprintf("%.0f times", n)
	if n == 1 {
		times = "Once"
	}
	if contains(k.plates, s.In) {
		st.Do = append(st.Do, fmt.Sprintf("%s: pour %s of %s over the plate of %s and catch it %s. Let it drip off.", times, roughly(units.Volume(fill)), kind, k.jar(s), k.intoJar(s)))
		return
	}
	st.Do = append(st.Do, fmt.Sprintf("%s: add %s of %s to %s, stir it up, let it settle until the water is clear, and pour the water off %s, down to the %s or so that the solid keeps.",
		times, roughly(units.Volume(fill)), kind, k.jar(s), k.intoJar(s), roughly(units.Volume(heel))))
	if wait := waitOf(s); wait > 0.02 && n > 0 {
		st.Do = append(st.Do, fmt.Sprintf("It takes about %s to settle each time. If the stopping test is not met after the last wash, wash once or twice more.", hoursText(wait/n)))
	}
	k.space = append(k.space, filling{stream: k.here(s.Route, s.In), litres: units.Volume(fill + heel), what: "washing “" + s.In + "”", hot: hot})
}
