package lot

import (
	"fmt"
	"regexp"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// guideWriter writes answers as a lot file and notes which question each path
// of it came from.
type guideWriter struct {
	answers Answers
	text    strings.Builder
	made    map[string]string // path → question
	idle    map[string]string // answers that go into the file only with another
	counts  map[string]int    // entries of each section so far
}

func (w *guideWriter) write() error {
	w.counts, w.idle = map[string]int{}, map[string]string{}
	w.text.WriteString("# Described question by question.\n\n")
	w.key("title", "title", w.title())
	if day := w.answers.given("date"); day != "" {
		w.key("date", "title", day)
	}
	w.declared()
	w.vessel()
	for _, part := range []func() error{w.piece, w.acid, w.poured, w.assays, w.settled} {
		if err := part(); err != nil {
			return err
		}
	}
	return nil
}

// untitled is what a lot is called that nothing is known of.
const untitled = "Lot without a name"

func (w *guideWriter) title() string {
	for _, id := range []string{"title", "what"} {
		if s := w.answers.given(id); s != "" {
			return s
		}
	}
	return untitled
}

// key writes a key at the top level or in the last table.
func (w *guideWriter) key(path, id, value string) {
	name := path[strings.LastIndexByte(path, '.')+1:]
	fmt.Fprintf(&w.text, "%s = %s\n", name, raw(name, value))
	w.made[path] = id
}

// entry begins an entry of a section and returns its path.
func (w *guideWriter) entry(section, id string) string {
	path := fmt.Sprintf("%s[%d]", section, w.counts[section])
	w.counts[section]++
	fmt.Fprintf(&w.text, "\n[[%s]]\n", section)
	w.made[path] = id
	return path
}

func (w *guideWriter) declared() {
	if s := w.answers.given("declared"); s != "" {
		w.key("declared", "declared", s)
	}
}

func (w *guideWriter) vessel() {
	liquid, ph := w.answers.given("liquid"), w.answers.given("ph")
	if liquid == "" && ph == "" {
		return
	}
	w.text.WriteString("\n[vessel]\n")
	if liquid != "" {
		w.key("vessel.liquid", "liquid", liquid)
	}
	if ph != "" {
		w.key("vessel.ph", "ph", ph)
	}
}

// piece writes what was dissolved. Mass and composition need each other; one
// alone waits.
func (w *guideWriter) piece() error {
	mass, of := w.answers.given("mass"), w.answers.given("of")
	switch {
	case mass == "" && of == "":
		return nil
	case mass == "":
		w.idle["of"] = of + "; counted once it is known how much went in"
		return nil
	case of == "":
		kind, dist, err := units.Parse(mass, units.MassKind)
		if err != nil {
			return &AnswerError{"mass", strings.TrimPrefix(err.Error(), "units: "), "for example 410 g ± 2 g"}
		}
		w.idle["mass"] = Echo(kind, dist) + "; counted once it is known of what"
		return nil
	}
	path := w.entry("dissolved", "of")
	if s := w.answers.given("what"); s != "" {
		w.key(path+".what", "what", s)
	}
	w.key(path+".mass", "mass", mass)
	if err := w.composition(path, of); err != nil {
		return err
	}
	if s := w.answers.given("by"); s != "" {
		w.key(path+".by", "by", s)
	}
	return nil
}

// composition writes a grade, or the shares that were listed.
func (w *guideWriter) composition(path, of string) error {
	shares, ok := sharesOf(of)
	if !ok {
		w.key(path+".grade", "of", of)
		return nil
	}
	var list []string
	seen := map[string]bool{}
	for _, s := range shares {
		if seen[s[0]] {
			return &AnswerError{"of", s[0] + " stands twice in it", "name each metal once"}
		}
		seen[s[0]] = true
		list = append(list, fmt.Sprintf("%s = %s", s[0], input.Quote(s[1])))
	}
	fmt.Fprintf(&w.text, "share = { %s }\n", strings.Join(list, ", "))
	w.made[path+".share"] = "of"
	return nil
}

// between parts a list at semicolons, at commas that no figure goes on after,
// and at "and".
var between = regexp.MustCompile(`\s*;\s*|,\s+|\s+and\s+`)

// sharesOf reads "Ag 8 % ± 1 %, 64 % copper, rest Zn"; false if it is a name.
func sharesOf(text string) ([][2]string, bool) {
	var list [][2]string
	for _, part := range between.Split(text, -1) {
		words := strings.Fields(part)
		symbol, at := "", -1
		for i, word := range words {
			if e, err := substance.ElementBySymbol(word); err == nil {
				symbol, at = e.Symbol, i
				break
			}
		}
		if at < 0 {
			return nil, false
		}
		others := strings.Join(append(append([]string{}, words[:at]...), words[at+1:]...), " ")
		others = strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(others, "the "), "of "))
		switch {
		case others == "" && len(words) == 1, others == rest, others == "the rest":
			others = rest
		case !strings.ContainsAny(others, "0123456789"):
			return nil, false
		}
		list = append(list, [2]string{symbol, others})
	}
	return list, len(list) > 0
}

// acid writes how much of what dissolved the piece was used.
func (w *guideWriter) acid() error {
	text := w.answers.given("acid")
	if text == "" {
		return nil
	}
	names := strings.Split(w.answers.given("by"), "+")
	parts := strings.Split(text, " + ")
	if w.answers.given("by") == "" {
		return &AnswerError{"acid", "it is not said what was used", "name it in the question before, or say it as 430 mL nitric acid in the next"}
	}
	if len(names) != len(parts) {
		return &AnswerError{"acid", fmt.Sprintf("%s has %d parts, but here stand %d amounts", w.answers.given("by"), len(names), len(parts)), "write them one by one, with + between"}
	}
	for i, part := range parts {
		if err := w.pour("acid", part, strings.TrimSpace(names[i])); err != nil {
			return err
		}
	}
	return nil
}

func (w *guideWriter) poured() error {
	text := w.answers.given("poured")
	if text == "" {
		return nil
	}
	for _, part := range between.Split(text, -1) {
		if strings.TrimSpace(part) == "" {
			continue
		}
		if err := w.pour("poured", part, ""); err != nil {
			return err
		}
	}
	return nil
}

// pour writes one liquid or salt: amount, strength if there is one, name.
func (w *guideWriter) pour(id, text, name string) error {
	amount, others := leading(text, units.VolumeKind, units.MassKind)
	if amount == "" {
		return &AnswerError{id, fmt.Sprintf("%q does not begin with an amount", input.Clean(text, 60)), "for example 430 mL or 90 g"}
	}
	others = strings.TrimPrefix(strings.TrimSpace(strings.TrimPrefix(others, ",")), "of ")
	strength, others := leading(others, units.Fraction, units.ConcentrationKind, units.MassConcentrationKind)
	if strength == "" {
		strength, others = trailing(others, units.Fraction, units.ConcentrationKind, units.MassConcentrationKind)
	}
	if words := strings.Trim(others, " ,"); words != "" {
		name = words
	}
	if name == "" {
		return &AnswerError{id, fmt.Sprintf("%q does not say of what", input.Clean(text, 60)), "for example 2.5 L water"}
	}
	path := w.entry("added", id)
	w.key(path+".what", id, name)
	if strength != "" {
		w.key(path+".strength", id, strength)
	}
	w.key(path+".amount", id, amount)
	return nil
}

// leading takes the longest quantity off the front of a text.
func leading(text string, kinds ...units.Kind) (quantity, others string) {
	words := strings.Fields(text)
	for n := min(len(words), mostQuantityWords); n > 0; n-- {
		q := strings.TrimSuffix(strings.Join(words[:n], " "), ",")
		if quantityOf(q, kinds...) {
			return q, strings.Join(words[n:], " ")
		}
	}
	return "", text
}

// trailing takes the longest quantity off the end of a text.
func trailing(text string, kinds ...units.Kind) (quantity, others string) {
	words := strings.Fields(text)
	for n := min(len(words), mostQuantityWords); n > 0; n-- {
		at := len(words) - n
		if q := strings.Join(words[at:], " "); quantityOf(q, kinds...) {
			return q, strings.Join(words[:at], " ")
		}
	}
	return "", text
}

// mostQuantityWords bounds a quantity: "1 234.5 mL ± 10 mL" has six words.
const mostQuantityWords = 8

// quantityOf reports that a text is a quantity with a unit. A bare number is
// none here: it could as well belong to a name.
func quantityOf(text string, kinds ...units.Kind) bool {
	if !strings.ContainsAny(text, "%‰") && !strings.ContainsFunc(text, isLetter) {
		return false
	}
	_, _, err := units.Parse(text, kinds...)
	return err == nil
}

func isLetter(r rune) bool { return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == 'µ' }

// assays writes what was measured: metal, figure, method.
func (w *guideWriter) assays() error {
	text := w.answers.given("assays")
	if text == "" {
		return nil
	}
	for _, part := range between.Split(text, -1) {
		if strings.TrimSpace(part) == "" {
			continue
		}
		figure, by, _ := strings.Cut(part, " by ")
		value, metal := leading(figure, units.MassConcentrationKind, units.ConcentrationKind)
		if value == "" {
			value, metal = trailing(figure, units.MassConcentrationKind, units.ConcentrationKind)
		}
		if value == "" || strings.TrimSpace(metal) == "" {
			return &AnswerError{"assays", fmt.Sprintf("%q is not a metal with what was found of it in the liquid", input.Clean(part, 60)), "for example Ag 4.9 g/L by AAS"}
		}
		path := w.entry("measured", "assays")
		w.key(path+".metal", "assays", strings.TrimSpace(metal))
		w.key(path+".in", "assays", InLiquid)
		w.key(path+".value", "assays", value)
		if by = strings.TrimSpace(by); by != "" {
			w.key(path+".by", "assays", by)
		}
	}
	return nil
}

// settled writes the solids that were named: wet mass, compound, water.
func (w *guideWriter) settled() error {
	text := w.answers.given("settled")
	if text == "" {
		return nil
	}
	for _, part := range strings.Split(text, ";") {
		mass, others := leading(part, units.MassKind)
		if mass == "" {
			return &AnswerError{"settled", "the mass is missing: what nobody weighed is worked out from the rest", "for example 38 g AgCl; else leave it blank"}
		}
		name, water, _ := strings.Cut(others, ",")
		name = strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(name), "of "))
		if name == "" {
			return &AnswerError{"settled", "it is not said what the solid is", "for example 38 g AgCl"}
		}
		path := w.entry("solid", "settled")
		w.key(path+".compound", "settled", solidNamed(name))
		w.key(path+".wet_mass", "settled", mass)
		if moisture, _ := leading(water, units.Fraction); moisture != "" {
			w.key(path+".moisture", "settled", moisture)
		}
	}
	return nil
}

// solidNamed finds a solid by its name; a formula stays as it is.
func solidNamed(name string) string {
	for _, sp := range substance.AllSpecies() {
		if substance.Undissolved(sp) && fold(sp.Title) == fold(name) {
			return strings.TrimSuffix(sp.Name, "(s)")
		}
	}
	if e, err := substance.ElementBySymbol(name); err == nil {
		return e.Symbol
	}
	return name
}
