package lot

import (
	"fmt"
	"math"
	"sort"
	"strings"
	"sync"

	"afterpour/chem/data"
	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// metal reads an element, by symbol or by name.
func (d *decoder) metal(t *input.Table, key string) string {
	word, ok := text(t, key)
	if !ok {
		return ""
	}
	symbol, ok := d.element(t, key, word)
	if ok && isSpectator(symbol) {
		t.Problem(key, fmt.Sprintf("%s is not a metal that is recovered", word), `for example "Ag", "Cu", "Au"`)
		return ""
	}
	return symbol
}

// element finds an element that the program can carry through a calculation.
func (d *decoder) element(t *input.Table, key, word string) (string, bool) {
	e, err := substance.ElementBySymbol(word)
	if err != nil {
		t.Problem(key, fmt.Sprintf("%q is not an element of the table", word), suggest(word, elementNames(), `"Ag", "Cu", "Zn"`))
		return "", false
	}
	if _, err := elementalForm(e.Symbol); err != nil && !isSpectator(e.Symbol) {
		t.Problem(key, fmt.Sprintf("%s is not among the metals that are followed through a vessel", e.Name),
			"leave it out: what the shares do not name is not counted")
		return "", false
	}
	return e.Symbol, true
}

// elementNames are the names and symbols to suggest from.
var elementNames = sync.OnceValue(func() []string {
	rows, _ := data.Elements()
	names := make([]string, 0, 2*len(rows))
	for _, e := range rows {
		names = append(names, e.Symbol, e.Name)
	}
	return names
})

// compound reads the compound of a solid; it must be a solid of the registry.
func (d *decoder) compound(t *input.Table) substance.SpeciesID {
	word, ok := text(t, "compound")
	if !ok {
		return 0
	}
	id, err := substance.Find(word)
	if err == nil && !substance.Undissolved(id.Species()) {
		id, err = substance.Find(word + "(s)")
	}
	if err != nil || !substance.Undissolved(id.Species()) {
		t.Problem("compound", fmt.Sprintf("no solid is known as %q", word), suggest(word, solidNames(), `"AgCl", "Ag", "Cu(OH)2", "SnO2"`))
		return 0
	}
	return id
}

// solidNames are the formulas of the solids of the registry.
var solidNames = sync.OnceValue(func() []string {
	var names []string
	for _, sp := range substance.AllSpecies() {
		if substance.Undissolved(sp) {
			names = append(names, strings.TrimSuffix(sp.Name, "(s)"))
		}
	}
	return names
})

// agent finds what dissolved a piece.
func (d *decoder) agent(t *input.Table, key, by string) string {
	rows, err := data.Agents()
	if err != nil {
		t.Problem(key, err.Error(), "")
		return ""
	}
	known := make([]string, 0, len(rows))
	for _, row := range rows {
		known = append(known, row.Name)
		for _, name := range append([]string{row.Name}, row.OtherNames...) {
			if fold(name) == fold(by) {
				return row.Name
			}
		}
	}
	t.Problem(key, fmt.Sprintf("nothing is known to dissolve metal as %q", by), suggest(by, known, strings.Join(known, ", ")))
	return ""
}

// composition reads either a grade or the shares of a piece.
func (d *decoder) composition(t *input.Table) (string, []Share) {
	grade, graded := text(t, "grade")
	switch {
	case graded && t.Has("share"):
		t.Table("share")
		t.Problem("share", "both grade and share say what the piece is made of", "keep one of them")
	case graded:
		return d.grade(t, grade)
	case t.Has("share"):
		return "", d.shares(t)
	case !t.Has("grade"):
		t.Problem("", "what the piece is made of is missing here", `for example grade = "sterling 925", or share = { Ag = "8.0 % ± 1 %", Cu = "rest" }`)
	}
	return "", nil
}

// grade looks the composition up in the alloy table and registers each nominal
// share with the doubt of a nominal share.
func (d *decoder) grade(t *input.Table, word string) (string, []Share) {
	rows, err := data.Alloys()
	if err != nil {
		t.Problem("grade", err.Error(), "")
		return "", nil
	}
	var known []string
	for _, row := range rows {
		names := append([]string{row.ID, row.Name}, row.Aliases...)
		known = append(known, names...)
		for _, name := range names {
			if fold(name) == fold(word) {
				return row.ID, d.gradeShares(t, row)
			}
		}
	}
	t.Problem("grade", fmt.Sprintf("no alloy is known as %q", word), suggest(word, known, `"sterling 925", "coin silver", or share = { Ag = "80 %", Cu = "rest" }`))
	return "", nil
}

func (d *decoder) gradeShares(t *input.Table, row data.Alloy) []Share {
	parts := make([]string, 0, len(row.Composition))
	for part := range row.Composition {
		parts = append(parts, part)
	}
	sort.Strings(parts)
	var shares []Share
	for _, part := range parts {
		form, symbol, ok := partOf(part)
		if !ok {
			continue
		}
		value := row.Composition[part] / 100
		nominal := d.doubts["share"]
		fig := input.Figure{
			ID: "lot/" + t.Path() + ".grade." + part, Kind: units.Fraction, Dist: spread(units.Fraction, value, nominal.sd(value)),
			Origin: input.Assumed, File: d.doc.Name(), Position: t.Position("grade"),
			Source: "nominal composition of " + row.Name + ": " + row.Cite() + "; " + nominal.sentence(units.Fraction, value),
		}
		fig.Text = units.FormatDist(fig.Kind, fig.Dist)
		shares = append(shares, Share{Element: symbol, Form: form, Ref: d.add(fig)})
	}
	return shares
}

// partOf finds the solid that a part of an alloy is, an element or an oxide,
// and the metal in it.
func partOf(part string) (substance.SpeciesID, string, bool) {
	id, err := substance.Find(part)
	if err != nil {
		return 0, "", false
	}
	for _, symbol := range id.Species().Formula.Elements() {
		if symbol != "O" {
			return id, symbol, true
		}
	}
	return 0, "", false
}

// rest is the word for what the other shares leave.
const rest = "rest"

// shares reads a composition: element → share, one of which may be the rest.
func (d *decoder) shares(t *input.Table) []Share {
	inner, ok := t.Table("share")
	if !ok {
		return nil
	}
	defer inner.Close()
	var shares []Share
	sum, rests := 0.0, 0
	seen := map[string]bool{}
	for _, key := range inner.Keys() {
		s, value, ok := d.share(inner, key)
		if !ok {
			continue
		}
		if seen[s.Element] {
			inner.Problem(key, s.Element+" stands twice in this composition", "name each element once")
			continue
		}
		seen[s.Element] = true
		sum += value
		if s.Rest {
			if rests++; rests > 1 {
				inner.Problem(key, `only one share can be "rest"`, "give the others as percentages")
			}
		}
		shares = append(shares, s)
	}
	if sum > 1+sumSlack {
		t.Problem("share", fmt.Sprintf("the shares add up to %s", units.Format(units.Fraction, sum)),
			`they can be 100 % at most; give one element as "rest"`)
	}
	if len(inner.Keys()) == 0 {
		t.Problem("share", "the composition is empty", `for example share = { Ag = "8.0 % ± 1 %", Cu = "rest" }`)
	}
	return shares
}

// sumSlack lets shares that were rounded add up to a hair over 100 %.
const sumSlack = 1e-9

func (d *decoder) share(inner *input.Table, key string) (Share, float64, bool) {
	symbol, known := d.element(inner, key, key)
	s := Share{Element: symbol, Ref: input.NoRef}
	if known {
		var err error
		if s.Form, err = elementalForm(symbol); err != nil {
			inner.Problem(key, key+" is not a solid element of a piece", "name the metals of the piece")
			known = false
		}
	}
	if d.is(inner, key, rest) {
		inner.String(key)
		s.Rest = true
		return s, 0, known
	}
	s.Ref = d.figure(inner, key, "share", units.Fraction)
	if s.Ref == input.NoRef {
		return s, 0, false
	}
	return s, math.Max(0, d.figs.Get(s.Ref).Dist.Mean), known
}

// crossCheck notes what only several statements together show to be wrong.
func (d *decoder) crossCheck(root *input.Table) {
	measured := root.Tables("measured")
	for i, m := range d.lot.Measured {
		if m.In == InSolid && len(d.lot.Solids) == 0 && i < len(measured) {
			measured[i].Problem("in", "an assay of the solid needs to know how much solid there is", `add a [[solid]] with compound, wet_mass and moisture`)
		}
	}
}
