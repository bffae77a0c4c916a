package lot

import (
	"fmt"
	"math"

	"afterpour/chem/input"
	"afterpour/chem/substance"
)

// path is one way in which one form of a metal went into the liquor: an agent
// and the branches of its reaction.
type path struct {
	metal      int
	agent      string
	start      substance.SpeciesID // the form in which it went in
	startAtoms float64             // of the metal in that form
	branches   []branch
	n2o, nh4   input.Ref // shares of the metal that reduced nitrate further; NoRef if it cannot
	stays      bool      // the agent leaves it alone: it stands there as it went in
	product    substance.SpeciesID
	dry        bool // what it turns into is a solid
}

// branch is one reaction of a path, per mol of metal dissolved.
type branch struct {
	name  string  // "NO", "NO2", "N2O", "NH4", or empty for an only reaction
	acid  float64 // mol of H^+ used up
	terms []substance.Term
	text  string
}

// Names of the branches of a nitric acid reaction.
const (
	branchNO  = "NO"
	branchNO2 = "NO2"
	branchN2O = "N2O"
	branchNH4 = "NH4"
)

// newBranch normalises a dissolving reaction to one mol of the metal.
//
// Acid is kept apart, since free acid is an estimate of its own; nitrate is
// left out, since charge is balanced with it; water and gases leave.
func newBranch(name string, r substance.Reaction, start substance.SpeciesID, atoms float64) (branch, error) {
	b := branch{name: name, text: r.Text}
	per := 0.0
	for _, t := range r.Terms {
		if t.Species == start {
			per = -t.Nu * atoms
		}
	}
	if !(per > 0) {
		return b, fmt.Errorf("lot: reaction %q does not use up %s", r.Text, start.Species().Name)
	}
	for _, t := range r.Terms {
		sp := t.Species.Species()
		switch {
		case t.Species == start, sp.Phase == substance.Gas, sp.Name == "H2O(l)", sp.Name == "NO3^-", sp.Name == "e^-":
		case sp.Name == "H^+":
			b.acid -= t.Nu / per
		default:
			b.terms = append(b.terms, substance.Term{Species: t.Species, Nu: t.Nu / per})
		}
	}
	return b, nil
}

// newPath finds how an agent takes up a form of a metal.
func newPath(k int, symbol, agent string, start substance.SpeciesID) (path, error) {
	p := path{metal: k, agent: agent, start: start, n2o: input.NoRef, nh4: input.NoRef, product: start}
	atoms := atomsIn(start, symbol)
	p.startAtoms = atoms
	if element, err := elementalForm(symbol); err != nil || element != start {
		return p, p.dissolveOxide(symbol, start, atoms)
	}
	rows, err := substance.Dissolve(agent, symbol)
	if err != nil {
		p.stays = true
		return p, nil
	}
	for _, row := range rows {
		if row.Untouched {
			p.stays = true
			return p, nil
		}
		b, err := newBranch(row.Branch, row.Reaction, start, atoms)
		if err != nil {
			return p, err
		}
		p.branches = append(p.branches, b)
	}
	p.stays = len(p.branches) == 0
	p.findProduct(symbol)
	return p, nil
}

// dissolveOxide takes up an oxide that stands in the piece as such, by acid
// alone: MO + 2 H⁺ → M²⁺ + H₂O. One without such an ion stays.
func (p *path) dissolveOxide(symbol string, start substance.SpeciesID, atoms float64) error {
	usual := usualForms[symbol]
	if usual.ion == "" || usual.solid == start.Species().Name {
		p.stays = true
		return nil
	}
	r, err := substance.ParseReaction(fmt.Sprintf("%s + 2 H^+ -> %s + H2O(l)", start.Species().Name, usual.ion))
	if err != nil {
		p.stays = true
		return nil
	}
	b, err := newBranch("", r, start, atoms)
	p.branches = []branch{b}
	p.findProduct(symbol)
	return err
}

// findProduct notes the first species that carries the metal out of the reaction.
func (p *path) findProduct(symbol string) {
	for _, b := range p.branches {
		for _, t := range b.terms {
			sp := t.Species.Species()
			if t.Nu > 0 && sp.Formula.Atoms(symbol) > 0 {
				p.product, p.dry = t.Species, sp.Phase == substance.Solid
				return
			}
		}
	}
}

// has reports whether the path has a branch of that name.
func (p *path) has(name string) bool {
	for _, b := range p.branches {
		if b.name == name {
			return true
		}
	}
	return false
}

// forked reports whether nitric acid may take the path to NO or to NO2.
func (p *path) forked() bool { return p.has(branchNO) && p.has(branchNO2) }

// share is the part of the metal that goes by a branch, where no2 is the part
// of the nitric acid reaction that runs to nitrogen dioxide. The shares of all
// branches add up to 1.
func (p *path) share(name string, no2 float64, v input.Values) float64 {
	deep, ammonium := p.at(p.n2o, v), p.at(p.nh4, v)
	left := math.Max(0, 1-deep-ammonium)
	switch {
	case name == branchN2O:
		return deep
	case name == branchNH4:
		return ammonium
	case !p.forked():
		return left
	case name == branchNO2:
		return left * no2
	}
	return left * (1 - no2)
}

func (p *path) at(r input.Ref, v input.Values) float64 {
	if r == input.NoRef {
		return 0
	}
	return v.At(r)
}

// acid is the H^+ used up per mol of metal.
func (p *path) acid(no2 float64, v input.Values) float64 {
	sum := 0.0
	for i := range p.branches {
		b := &p.branches[i]
		sum += p.share(b.name, no2, v) * b.acid
	}
	return sum
}
