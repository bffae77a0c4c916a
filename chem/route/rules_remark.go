package route

import (
	"fmt"
	"slices"
	"strings"

	"afterpour/chem/input"
	"afterpour/chem/lot"
)

// Remarks says what a lot leaves open about the cautions: a declared word that
// no rule knows, an acknowledged hazard that stops nothing, metal of which nobody
// said where it came from. An unknown alloy is asked about, not refused.
func Remarks(l *lot.Lot) []string {
	list, err := Rules()
	if err != nil {
		return []string{err.Error()}
	}
	var notes []string
	for _, said := range l.Declared {
		if !slices.ContainsFunc(list, func(r Rule) bool { return r.declaredBy(said) }) {
			notes = append(notes, unknownWord(list, said))
		}
	}
	for _, id := range l.Acknowledged {
		i := slices.IndexFunc(list, func(r Rule) bool { return strings.EqualFold(r.ID, id) })
		if i < 0 || !slices.ContainsFunc(list[i].Levels, func(lv Level) bool { return lv.Severity == SeverityStop }) {
			notes = append(notes, fmt.Sprintf("%s is acknowledged, but it stops no plan: nothing changes by it.", input.Clean(id, 60)))
		}
	}
	if ofUnknownMake(l) {
		notes = append(notes, "Nothing says what the metal was before. Solder and contacts may hold cadmium, springs beryllium, amalgam mercury, old baths cyanide: find out, and put what it holds under “declared”.")
	}
	return notes
}

func unknownWord(list []Rule, said string) string {
	var known []string
	for _, r := range list {
		known = append(known, r.Declared...)
	}
	note := fmt.Sprintf("%q is declared, and no rule knows it", input.Clean(said, 60))
	if near := input.Nearest(strings.ToLower(said), known); near != "" {
		return note + fmt.Sprintf(": is it %q? As it stands it changes nothing.", near)
	}
	return note + ": find out what it does with acid, heat and alkali before anything is mixed."
}

// ofUnknownMake tells whether a lot holds metal, or a liquor of metal, of which
// no piece is named.
func ofUnknownMake(l *lot.Lot) bool {
	if len(l.Dissolved)+len(l.Plated) > 0 {
		return false
	}
	for _, m := range l.Measured {
		if m.In == lot.InLiquid {
			return true
		}
	}
	for _, s := range l.Solids {
		if s.Compound.Species().Formula.IsElement() {
			return true
		}
	}
	return false
}
