package lot

import (
	"fmt"

	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// pour is an [[added]] entry made ready.
type pour struct {
	amount, strength input.Ref
	byMass           bool
	strengthKind     units.Kind
	reagent          reagent
	density          densityLine
	enters           []substance.Term // per mol of the formula; without water
	acid, base       float64          // mol of H^+ given and taken up per mol of the formula
}

// densityLine is the density of a solution near its central strength, as a
// straight line, so that an inventory need not search a table each time.
type densityLine struct {
	at, density, slope float64 // share, kg/L, kg/L per unit of share
}

func (l densityLine) of(share float64) float64 { return l.density + l.slope*(share-l.at) }

// alkali is a base that acid takes up down to about pH 4. Weaker bases are not
// counted.
type alkali struct {
	name    string
	takes   float64 // mol of H^+ per mol
	leaving string  // what stays of it in the liquor once it was taken up; empty if nothing
}

var alkalis = []alkali{
	{"OH^-", 1, ""},
	{"CO3^2-", 2, ""},
	{"HCO3^-", 1, ""},
	{"NH3(aq)", 1, "NH4^+"},
	{"CaCO3(s)", 2, "Ca^2+"},
	{"Mg(OH)2(s)", 2, "Mg^2+"},
}

// pouredBase is a base of the lot as the liquor needs it.
type pouredBase struct {
	species, leaves substance.SpeciesID
	count           float64 // mol left in the liquor per mol taken up
}

// strength is the H^+ that a species takes up per mol; it notes the base.
func (m *Model) strength(id substance.SpeciesID) float64 {
	for _, a := range alkalis {
		if a.name != id.Species().Name {
			continue
		}
		b := pouredBase{species: id, leaves: id}
		if a.leaving != "" {
			b.leaves, b.count = substance.MustFind(a.leaving), 1
		}
		for _, known := range m.bases {
			if known.species == id {
				return a.takes
			}
		}
		m.bases = append(m.bases, b)
		return a.takes
	}
	return 0
}

func (m *Model) compilePour(a Added, figs *input.Figures) error {
	r, err := findReagent(a.Reagent)
	if err != nil {
		return err
	}
	amount, strength := figs.Get(a.Amount), figs.Get(a.Strength)
	p := pour{
		amount: a.Amount, strength: a.Strength,
		byMass: amount.Kind == units.MassKind, strengthKind: strength.Kind, reagent: r,
	}
	for _, t := range r.enters {
		name := t.Species.Species().Name
		switch {
		case name == "H2O(l)":
		case name == "H^+":
			p.acid += t.Nu
		case name == "NO3^-":
			m.nitratePoured = true
		default:
			p.base += t.Nu * m.strength(t.Species)
			p.enters = append(p.enters, t)
		}
		if k := m.carries(t.Species); k >= 0 {
			m.metals[k].sourced = true
		}
	}
	m.acidPoured = m.acidPoured || p.acid > 0
	m.basePoured = m.basePoured || p.base > 0
	if r.id == waterID { // a strength of water says nothing
		p.strength = input.NoRef
		m.pours = append(m.pours, p)
		return nil
	}
	if p.needsDensity() {
		if p.density, err = r.line(strength.Dist.Mean, strength.Kind); err != nil {
			return err
		}
	}
	m.pours = append(m.pours, p)
	return nil
}

// makesLiquor reports whether what was poured is an acid or the salt of a
// metal, whose anion the liquor is made of; table salt and bases are not.
func (p *pour) makesLiquor() bool {
	for _, t := range p.enters {
		if sp := t.Species.Species(); !isSpectator(sp.Metal) {
			return true
		}
	}
	return p.acid > 0
}

// carries is the metal of the lot that a species holds; -1 if none.
func (m *Model) carries(id substance.SpeciesID) int {
	f := id.Species().Formula
	for k := range m.metals {
		if f.Atoms(m.metals[k].symbol) > 0 {
			return k
		}
	}
	return -1
}

// needsDensity reports whether a mass has to be turned into a volume or back.
func (p *pour) needsDensity() bool { return p.byMass != (p.strengthKind == units.Fraction) }

// mol is the amount of the reagent poured:
//
//	n = w·m/M,  n = w·ρ(w)·V/M,  n = c·V,  n = β·V/M
//
// with w the mass share, c and β the concentrations in mol/L and g/L. A mass
// of a solution whose strength is a concentration becomes a volume by ρ.
func (p *pour) mol(v input.Values) float64 {
	if p.strength == input.NoRef { // water
		return 0
	}
	strength, amount := v.At(p.strength), v.At(p.amount)
	if p.strengthKind == units.Fraction {
		kg := amount
		if !p.byMass {
			kg = amount * p.density.of(strength)
		}
		return strength * kg * gramsPerKilogram / p.reagent.grams
	}
	litres := amount
	if p.byMass {
		litres = amount / p.density.density
	}
	if p.strengthKind == units.MassConcentrationKind {
		return strength * litres / p.reagent.grams
	}
	return strength * litres
}

// litres is the volume poured: nothing for a dry salt, whose own volume is
// small and not known here.
func (p *pour) litres(v input.Values) float64 {
	amount := v.At(p.amount)
	if !p.byMass {
		return amount
	}
	if p.reagent.solution == "" && p.reagent.id != waterID {
		return 0
	}
	if p.density.density > 0 {
		return amount / p.density.density
	}
	return amount
}

const waterID = "water"

// line is the density of the reagent's solution about a central strength.
func (r reagent) line(strength float64, kind units.Kind) (densityLine, error) {
	if r.solution == "" {
		if r.density > 0 {
			return densityLine{density: r.density}, nil
		}
		return densityLine{}, fmt.Errorf("lot: the density of %s at that strength is not known", r.name)
	}
	share := strength
	switch kind {
	case units.ConcentrationKind:
		f, err := substance.FractionOf(r.solution, units.Concentration(strength))
		if err != nil {
			return densityLine{}, fmt.Errorf("lot: %s: %w", r.name, err)
		}
		share = float64(f)
	case units.MassConcentrationKind:
		f, err := substance.FractionOf(r.solution, units.Concentration(strength/r.grams))
		if err != nil {
			return densityLine{}, fmt.Errorf("lot: %s: %w", r.name, err)
		}
		share = float64(f)
	}
	return r.tangent(share)
}

// tangent is the chord of the density table about a share, one-sided at its ends.
func (r reagent) tangent(share float64) (densityLine, error) {
	middle, err := substance.SolutionDensity(r.solution, units.MassFraction(share))
	if err != nil {
		return densityLine{}, fmt.Errorf("lot: %s: %w", r.name, err)
	}
	l := densityLine{at: share, density: float64(middle)}
	const step = 0.01
	low, high := share, share
	below, above := l.density, l.density
	if d, err := substance.SolutionDensity(r.solution, units.MassFraction(share-step)); err == nil && share > step {
		low, below = share-step, float64(d)
	}
	if d, err := substance.SolutionDensity(r.solution, units.MassFraction(share+step)); err == nil {
		high, above = share+step, float64(d)
	}
	if high > low {
		l.slope = (above - below) / (high - low)
	}
	return l, nil
}
