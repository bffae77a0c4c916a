package lot

import (
	"fmt"
	"strings"
	"sync"
	"unicode"

	"afterpour/chem/data"
	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// reagent is an entry of the catalogue as [[added]] needs it.
type reagent struct {
	id, name string
	formula  string
	grams    float64 // g per mol of the formula
	usual    float64 // usual strength, mass share
	density  float64 // kg/L as sold
	solution string  // solute of the density table; empty for a dry salt
	enters   []substance.Term
}

// catalogue is every reagent by its names in lower case, and the names to
// suggest from.
type catalogue struct {
	byName map[string]reagent
	names  []string
}

var reagents = sync.OnceValues(func() (catalogue, error) {
	c := catalogue{byName: map[string]reagent{}}
	rows, err := data.Reagents()
	if err != nil {
		return c, err
	}
	for _, row := range rows {
		r, err := newReagent(row)
		if err != nil {
			return c, fmt.Errorf("lot: reagent %s: %w", row.ID, err)
		}
		c.names = append(c.names, row.Name)
		for _, name := range append([]string{row.ID, row.Name, row.Formula}, row.OtherNames...) {
			if key := fold(name); c.byName[key].id == "" {
				c.byName[key] = r
			}
		}
	}
	return c, nil
})

func newReagent(row data.Reagent) (reagent, error) {
	r := reagent{id: row.ID, name: row.Name, formula: row.Formula, usual: row.Percent / 100, density: row.Density}
	f, err := substance.ParseFormula(row.Formula)
	if err != nil {
		return r, err
	}
	r.grams = float64(f.MolarMass())
	if row.Solution && row.ID != waterID {
		r.solution = row.Formula
	}
	for _, sp := range substance.AllSpecies() { // in the order of the registry: a map has none
		if nu, ok := row.Enters[sp.Name]; ok {
			r.enters = append(r.enters, substance.Term{Species: sp.ID, Nu: nu})
		}
	}
	if len(r.enters) != len(row.Enters) {
		return r, fmt.Errorf("enters as a species that is not in the registry")
	}
	return r, nil
}

// fold makes names comparable: lower case, words parted by single spaces.
func fold(name string) string {
	words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return r == '-' || r == '_' || unicode.IsSpace(r) })
	return strings.Join(words, " ")
}

func findReagent(name string) (reagent, error) {
	c, err := reagents()
	if err != nil {
		return reagent{}, err
	}
	r, ok := c.byName[fold(name)]
	if !ok {
		return r, fmt.Errorf("lot: no reagent is called %q", name)
	}
	return r, nil
}

// reagent finds what was poured, and notes one that the catalogue lacks.
func (d *decoder) reagent(t *input.Table, what string) (reagent, bool) {
	if what == "" {
		return reagent{}, false
	}
	r, err := findReagent(what)
	if err != nil {
		c, _ := reagents()
		t.Problem("what", fmt.Sprintf("no reagent is called %q", what), suggest(what, c.names, "nitric acid, hydrochloric acid, sodium chloride, water"))
		return r, false
	}
	for _, term := range r.enters {
		if sp := term.Species.Species(); sp.Phase == substance.Solid && sp.Metal != "" && sp.Formula.IsElement() {
			t.Problem("what", r.name+" is metal, not a liquid or a salt", `write it as [[dissolved]] with mass, share = { `+sp.Metal+` = "rest" } and extent`)
			return r, false
		}
	}
	return r, true
}

// suggest is a hint with the nearest known word, or with examples.
func suggest(word string, known []string, examples string) string {
	if near := input.Nearest(word, known); near != "" {
		return fmt.Sprintf("did you mean %q?", near)
	}
	return "for example " + examples
}

// checkPour notes an amount and a strength that cannot be turned into moles.
func (d *decoder) checkPour(t *input.Table, r reagent, a Added) {
	if a.Amount == input.NoRef || a.Strength == input.NoRef || r.id == waterID {
		return
	}
	amount, strength := d.figs.Get(a.Amount), d.figs.Get(a.Strength)
	p := pour{byMass: amount.Kind == units.MassKind, strengthKind: strength.Kind}
	if !p.needsDensity() {
		return
	}
	if r.solution == "" && !p.byMass {
		t.Problem("amount", fmt.Sprintf("how much %s a volume holds is not known at a strength in per cent", r.name),
			`give the amount as a mass, such as "90 g", or the strength as a concentration, such as "1 mol/L"`)
		return
	}
	if _, err := r.line(strength.Dist.Mean, strength.Kind); err != nil {
		t.Problem("strength", fmt.Sprintf("the density of %s of %s is not in the tables", r.name, strength.Text),
			`check the strength, or give it in mol/L together with a volume`)
	}
}
