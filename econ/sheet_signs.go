package econ

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"afterpour/chem/route"
	"afterpour/chem/substance"
)

// look is what a substance looks like on the bench.
type look struct{ name, sight string }

// looks are the usual descriptions of inorganic handbooks (CRC Handbook of
// Chemistry and Physics, physical constants of inorganic compounds; from
// memory, check). What a wet precipitate looks like is common practice.
var looks = map[string]look{
	"AgCl(s)":        {"silver chloride", "white curd that turns violet-grey in light"},
	"Ag2O(s)":        {"silver oxide", "brown to black powder"},
	"Ag(s)":          {"silver", "grey powder or sponge, bright where it is rubbed"},
	"Ag2SO4(s)":      {"silver sulfate", "white crystals"},
	"AgNO3(s)":       {"silver nitrate", "white crystals that stain skin black"},
	"Cu(s)":          {"copper", "red-brown powder or coat"},
	"CuO(s)":         {"copper oxide", "black powder"},
	"Cu2O(s)":        {"copper(I) oxide", "red to orange powder"},
	"CuCl(s)":        {"copper(I) chloride", "white powder that greens in air"},
	"Cu(OH)2(s)":     {"copper hydroxide", "pale blue gel, brown to black where it got hot"},
	"Cu2(OH)3NO3(s)": {"basic copper nitrate", "blue-green powder"},
	"CuSO4·5H2O(s)":  {"copper sulfate", "blue crystals"},
	"Zn(OH)2(s)":     {"zinc hydroxide", "white gel"},
	"Zn(s)":          {"zinc", "grey metal"},
	"ZnO(s)":         {"zinc oxide", "white powder, yellow while hot"},
	"Ni(OH)2(s)":     {"nickel hydroxide", "apple-green gel"},
	"NiO(s)":         {"nickel oxide", "grey-green to black powder"},
	"Pb(OH)2(s)":     {"lead hydroxide", "white gel"},
	"PbCl2(s)":       {"lead chloride", "white needles that dissolve in hot water"},
	"PbSO4(s)":       {"lead sulfate", "heavy white powder"},
	"PbO2(s)":        {"lead dioxide", "dark brown crust"},
	"Fe(OH)3(s)":     {"iron hydroxide", "rust-brown gel"},
	"Fe2O3(s)":       {"iron oxide", "rust-red powder"},
	"Cd(OH)2(s)":     {"cadmium hydroxide", "white gel"},
	"SnO2(s)":        {"tin dioxide", "white slime"},
	"Au(s)":          {"gold", "brown to black powder"},
	"Pd(s)":          {"palladium", "black powder"},
	"Pt(s)":          {"platinum", "black powder"},
	"Hg(l)":          {"mercury", "silvery droplets"},
	"NO(g)":          {"nitric oxide", "gas without colour that turns brown in the air"},
	"NO2(g)":         {"nitrogen dioxide", "red-brown fume"},
	"Cl2(g)":         {"chlorine", "yellow-green gas that smells of a swimming bath"},
	"H2(g)":          {"hydrogen", "fine bubbles without colour or smell"},
	"O2(g)":          {"oxygen", "fine bubbles without colour or smell"},
	"CO2(g)":         {"carbon dioxide", "fizz without colour or smell"},
	"SO2(g)":         {"sulfur dioxide", "gas with the smell of a struck match"},
	"NH3(g)":         {"ammonia", "gas that bites in the nose"},
	"HCl(g)":         {"hydrogen chloride", "mist that bites in the nose"},
	"HNO3(g)":        {"nitric acid vapour", "white to yellow mist that bites in the nose"},
}

// Below these a sign would not be seen. Assumptions.
const (
	leastGas   = 0.1  // g that leaves the vessel
	leastSolid = 0.02 // share of the solid that stands there
)

// signs says what a step shows: what comes down or goes off, and how the liquor
// changes its colour.
func (k *sheetMaker) signs(s *route.StepRecord) []string {
	var list []string
	for _, name := range products(s.Reactions) {
		l := looks[name]
		id, err := substance.Find(name)
		switch {
		case err != nil || l.sight == "":
		case id.Species().Phase == substance.Gas:
			if gasShows(s, strings.TrimSuffix(name, "(g)")) {
				list = append(list, fmt.Sprintf("%s goes off: %s.", capital(l.name), l.sight))
			}
		case solidShows(s, name):
			list = append(list, fmt.Sprintf("%s: %s.", capital(l.name), l.sight))
		}
	}
	if !wetKinds[s.Kind] {
		return list
	}
	if before, after := colour(s.Before), colour(liquorAfter(s)); before != after && before != "" && after != "" {
		list = append(list, fmt.Sprintf("The liquor goes from %s to %s.", before, after))
	} else if after != "" && len(list) > 0 {
		list = append(list, fmt.Sprintf("The liquor is %s.", after))
	}
	return list
}

// gasShows tells whether enough of a gas goes off to be noticed. What goes into
// a scrubber is booked there, so a step that gives fume always shows it.
func gasShows(s *route.StepRecord, gas string) bool {
	if dry := !wetKinds[s.Kind]; dry && (gas == "O2" || gas == "H2") {
		return false // no bubbles in a dry dish
	}
	for _, e := range s.Entries {
		if e.Kind == route.Gas && e.Item == gas && e.Amount >= leastGas {
			return true
		}
	}
	return contains(s.Out, "fume")
}

// solidShows tells whether a solid is a visible part of what stands there after
// the step.
func solidShows(s *route.StepRecord, name string) bool {
	for _, p := range s.After {
		if m := route.MassOf(p.Solids, name); m > 0 && m >= leastSolid*p.Dry {
			return true
		}
	}
	return false
}

// wetKinds are the kinds of step whose liquor shows a colour.
var wetKinds = map[string]bool{
	"add": true, "acidify": true, "dissolve": true, "react": true, "wash": true, "cement": true, "electrolyse": true, "crystallise": true,
}

// liquorAfter is the stream that shows a step's liquor: the one that it works
// on, or what that went to.
func liquorAfter(s *route.StepRecord) route.Portion {
	if p := s.AfterOf(s.In); p.Liquid > 0 {
		return p
	}
	return solidAfter(s)
}

// products lists the substances that reactions make and a look is known of, once
// each, in order.
func products(reactions []string) []string {
	var list []string
	for _, text := range reactions {
		r, err := substance.ParseReaction(text)
		if err != nil {
			continue
		}
		for _, t := range r.Terms {
			name := t.Species.Species().Name
			if _, known := looks[name]; t.Nu > 0 && known && !contains(list, name) {
				list = append(list, name)
			}
		}
	}
	return list
}

// Thresholds between the colours of a liquor, in g/L of the metal: common
// practice at the depth of a beaker, eyes differ.
const (
	tinge  = 0.05
	strong = 3.0
)

// colour names the colour of a liquor by the ions that show most.
func colour(p route.Portion) string {
	litres := p.Liquid.Litres()
	if !(litres > 0) {
		return ""
	}
	gL := func(metal string) float64 { return route.MassOf(p.Dissolved, metal).Grams() / litres }
	copper, nickel, iron, gold := gL("Cu"), gL("Ni"), gL("Fe"), gL("Au")+gL("Pd")
	switch {
	case copper >= strong && p.Chloride > 1:
		return "green"
	case copper >= strong:
		return "deep blue"
	case copper >= tinge && iron > copper:
		return "greenish"
	case copper >= tinge:
		return "pale blue"
	case gold >= tinge:
		return "yellow-brown"
	case nickel >= tinge:
		return "green"
	case iron >= strong:
		return "greenish brown"
	case iron >= tinge:
		return "faintly greenish"
	}
	return "colourless"
}

// capital writes a sentence's first letter large.
func capital(text string) string {
	r, size := utf8.DecodeRuneInString(text)
	if size == 0 || strings.HasPrefix(text, "pH") {
		return text
	}
	return string(unicode.ToUpper(r)) + text[size:]
}
