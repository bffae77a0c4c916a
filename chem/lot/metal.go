package lot

import (
	"sort"

	"afterpour/chem/input"
	"afterpour/chem/substance"
)

// metal is one element of the lot with everything that the inventory needs to
// know of it.
type metal struct {
	symbol    string
	molar     float64 // g/mol
	forms     []form  // every dissolved or solid species that carries it
	element   substance.SpeciesID
	ion       substance.SpeciesID // taken where it is dissolved and nothing says as what
	soluble   bool                // the registry has a dissolved species of it
	hydroxide substance.SpeciesID // taken where it is solid and nothing says as what

	ionAtoms, hydroxideAtoms float64 // of the metal in those two

	paths   []int // how it was dissolved
	virtual int   // path of a metal that only measurements name; -1 if none
	sourced bool  // some source names it
	solids  []held

	liquid, solid phase
	total         pair
	mode          mode
}

// held is an entry of [[solid]] that holds a metal.
type held struct {
	entry int
	atoms float64 // of the metal in one formula of the compound
}

// form is a species that carries a metal.
type form struct {
	id        substance.SpeciesID
	atoms     float64
	dissolved bool
}

// usualForms are the species taken for a metal where nothing says otherwise: in
// an acid liquor exposed to air, and as what alkali brings down.
var usualForms = map[string]struct{ ion, solid string }{
	"Ag": {"Ag^+", "AgCl(s)"},
	"Al": {"Al^3+", "Al(OH)3(s)"},
	"Au": {"AuCl4^-", "Au(s)"},
	"Cd": {"Cd^2+", "Cd(OH)2(s)"},
	"Co": {"Co^2+", "Co(OH)2(s)"},
	"Cr": {"Cr^3+", "Cr(OH)3(s)"},
	"Cu": {"Cu^2+", "Cu(OH)2(s)"},
	"Fe": {"Fe^3+", "Fe(OH)3(s)"},
	"Hg": {"Hg^2+", "Hg(l)"},
	"Mn": {"Mn^2+", "Mn(OH)2(s)"},
	"Ni": {"Ni^2+", "Ni(OH)2(s)"},
	"Pb": {"Pb^2+", "PbCl2(s)"},
	"Pd": {"Pd^2+", "Pd(s)"},
	"Pt": {"PtCl6^2-", "Pt(s)"},
	"Sn": {"Sn^4+", "SnO2(s)"},
	"Zn": {"Zn^2+", "Zn(OH)2(s)"},
}

// nobility is the order in which metals are reported, noblest first: falling
// standard potential of the usual ion. The rest follow by symbol.
var nobility = []string{"Au", "Pt", "Pd", "Ag", "Hg", "Cu", "Pb", "Sn", "Ni", "Co", "Cd", "Fe", "Cr", "Zn", "Mn", "Al"}

// lessNobleThanSilver are the metals on which silver cements, in the order in
// which they give way: basest first.
var lessNobleThanSilver = []string{"Al", "Mn", "Zn", "Cr", "Fe", "Cd", "Co", "Ni", "Sn", "Pb", "Cu"}

func newMetal(symbol string) metal {
	m := metal{symbol: symbol, virtual: -1}
	m.liquid.spread, m.solid.spread, m.total.spread = input.NoRef, input.NoRef, input.NoRef
	if e, err := substance.ElementBySymbol(symbol); err == nil {
		m.molar = float64(e.Weight)
	}
	m.forms = formsOf(symbol)
	m.element, _ = elementalForm(symbol)
	m.hydroxide = m.element
	usual := usualForms[symbol]
	if id, err := substance.Find(usual.ion); err == nil && usual.ion != "" {
		m.ion, m.soluble = id, true
	}
	if id, err := substance.Find(usual.solid); err == nil && usual.solid != "" {
		m.hydroxide = id
	}
	m.ionAtoms, m.hydroxideAtoms = atomsIn(m.ion, symbol), atomsIn(m.hydroxide, symbol)
	return m
}

// atomsIn is the atoms of an element in a species, 1 where it holds none.
func atomsIn(id substance.SpeciesID, symbol string) float64 {
	if n := id.Species().Formula.Atoms(symbol); n > 0 {
		return n
	}
	return 1
}

func formsOf(symbol string) []form {
	var forms []form
	for _, sp := range substance.AllSpecies() {
		if n := sp.Formula.Atoms(symbol); n > 0 && sp.Phase != substance.Gas {
			forms = append(forms, form{id: sp.ID, atoms: n, dissolved: substance.Dissolved(sp)})
		}
	}
	return forms
}

// elementalForm is the pure element as it stands on the bench: solid, or liquid mercury.
func elementalForm(symbol string) (substance.SpeciesID, error) {
	id, err := substance.Find(symbol + "(s)")
	if err != nil {
		id, err = substance.Find(symbol + "(l)")
	}
	return id, err
}

// sortMetals puts symbols in the order of nobility.
func sortMetals(symbols []string) {
	rank := func(s string) int {
		for i, n := range nobility {
			if n == s {
				return i
			}
		}
		return len(nobility)
	}
	sort.Slice(symbols, func(i, j int) bool {
		a, b := rank(symbols[i]), rank(symbols[j])
		return a < b || a == b && symbols[i] < symbols[j]
	})
}

// isSpectator reports elements that are part of acids, bases and salts and are
// no metal that anyone recovers from a lot.
func isSpectator(symbol string) bool {
	switch symbol {
	case "", "H", "O", "N", "Na", "K", "Ca", "Mg", "Cl", "S", "C", "B":
		return true
	}
	return false
}
