package equil

import (
	"fmt"
	"math"
	"slices"
)

// waterTerm is how water is written in reactions.
const waterTerm = "H2O"

// hydrogen is the component that carries the proton balance; always the first.
const hydrogen = "H"

// Set is a checked set of constants, ready to be solved with. It does not
// change after it is made and may be shared.
type Set struct {
	definition Definition
	kind       activityKind
	components []component
	species    []made // masters first, in the order of the components
	solids     []made
}

type component struct {
	name   string
	ion    string
	charge float64
}

// made is a species or solid in terms of components.
type made struct {
	name   string
	charge float64
	size   float64
	parts  []part
	water  float64    // molecules of water taken up
	shares []rowShare // log K is the sum of these rows' own, weighted
}

type part struct {
	component int
	count     float64
}

type rowShare struct {
	row   ConstantRow
	count float64
}

// Set checks the definition and prepares it. Errors name the row.
func (d Definition) Set() (*Set, error) {
	kind, err := parseActivityKind(d.Activity)
	if err != nil {
		return nil, err
	}
	s := &Set{definition: d, kind: kind}
	if err := s.checkTables(); err != nil {
		return nil, fmt.Errorf("equil: set %s: %w", d.Name, err)
	}
	if err := s.build(); err != nil {
		return nil, fmt.Errorf("equil: set %s: %w", d.Name, err)
	}
	return s, nil
}

func (s *Set) checkTables() error {
	d := s.definition
	if len(d.Components) == 0 || d.Components[0].Name != hydrogen {
		return fmt.Errorf("the first component must be %q", hydrogen)
	}
	if len(d.Components) > maxComponents {
		return fmt.Errorf("%d components, at most %d", len(d.Components), maxComponents)
	}
	n := len(d.Debye.TemperatureC)
	if s.kind != idealActivity && (n < 2 || len(d.Debye.A) != n) {
		return fmt.Errorf("the Debye-Hueckel table is incomplete")
	}
	if s.kind == bdotActivity && (len(d.Debye.B) != n || len(d.Debye.Bdot) != n) {
		return fmt.Errorf("the B-dot table is incomplete")
	}
	if !slices.IsSorted(d.Debye.TemperatureC) {
		return fmt.Errorf("the Debye-Hueckel table is not in order of temperature")
	}
	return nil
}

// build turns the rows into species and solids in terms of components. A row
// may be written with a species of an earlier row, as tables are.
func (s *Set) build() error {
	known := map[string]made{}
	for i, row := range s.definition.Components {
		c := component{name: row.Name, ion: row.Ion, charge: float64(chargeOf(row.Ion))}
		s.components = append(s.components, c)
		m := made{name: row.Ion, charge: c.charge, size: row.Size, parts: []part{{i, 1}}}
		if s.kind == bdotActivity && c.charge != 0 && !(row.Size > 0) {
			return fmt.Errorf("component %s has no ion size", row.Name)
		}
		if _, twice := known[row.Ion]; twice {
			return fmt.Errorf("%s stands twice", row.Ion)
		}
		known[row.Ion] = m
		s.species = append(s.species, m)
	}
	for _, row := range s.definition.Species {
		if _, twice := known[row.Name]; twice {
			return fmt.Errorf("%s stands twice", row.Name)
		}
		m, err := s.make(row, known, false)
		if err != nil {
			return err
		}
		known[row.Name] = m
		s.species = append(s.species, m)
	}
	for _, row := range s.definition.Solids {
		m, err := s.make(row, known, true)
		if err != nil {
			return err
		}
		s.solids = append(s.solids, m)
	}
	return nil
}

// make composes one row; the charge must come out as its name says.
func (s *Set) make(row ConstantRow, known map[string]made, solid bool) (made, error) {
	if err := row.check(); err != nil {
		return made{}, err
	}
	eq, err := parseEquation(row.Reaction)
	if err != nil {
		return made{}, err
	}
	parts, err := eq.stoichiometry(row.Name)
	if err != nil {
		return made{}, err
	}
	side := eq.right
	if solid {
		side = eq.left
	}
	if !slices.ContainsFunc(side, func(t equationTerm) bool { return t.name == row.Name && t.count == 1 }) {
		return made{}, fmt.Errorf("%s: a species stands once on the right, a solid once on the left", row.Name)
	}
	m := made{name: row.Name, size: row.Size, shares: []rowShare{{row, 1}}}
	if !solid {
		m.charge = float64(chargeOf(row.Name))
	}
	if err := m.compose(parts, known, solid, len(s.components)); err != nil {
		return made{}, fmt.Errorf("%s: %w", row.Name, err)
	}
	if s.kind == bdotActivity && m.charge != 0 && !(m.size > 0) {
		return made{}, fmt.Errorf("%s has no ion size", row.Name)
	}
	return m, s.checkCharge(m)
}

// compose adds up the components of a row's parts and the constants of the
// species it is written with. A solid's constant is for dissolving, so those
// of its parts count the other way.
func (m *made) compose(parts map[string]float64, known map[string]made, solid bool, n int) error {
	counts := make([]float64, n)
	names := make([]string, 0, len(parts))
	for name := range parts {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		count := parts[name]
		if name == waterTerm {
			m.water += count
			continue
		}
		from, ok := known[name]
		if !ok {
			return fmt.Errorf("%s is not a component or an earlier species", name)
		}
		for _, p := range from.parts {
			counts[p.component] += p.count * count
		}
		m.water += from.water * count
		for _, share := range from.shares {
			weight := share.count * count
			if solid {
				weight = -weight
			}
			m.shares = append(m.shares, rowShare{share.row, weight})
		}
	}
	for i, c := range counts {
		if math.Abs(c) > 1e-9 {
			m.parts = append(m.parts, part{i, c})
		}
	}
	return nil
}

func (s *Set) checkCharge(m made) error {
	sum := 0.0
	for _, p := range m.parts {
		sum += p.count * s.components[p.component].charge
	}
	if math.Abs(sum-m.charge) > 1e-9 {
		return fmt.Errorf("%s: charge %+g on one side, %+g on the other", m.name, sum, m.charge)
	}
	return nil
}

// logK is log10 K of a species (forming) or solid (dissolving) in terms of
// components at a temperature in kelvin.
func (m made) logK(kelvin float64) float64 {
	sum := 0.0
	for _, share := range m.shares {
		sum += share.count * share.row.logK(kelvin)
	}
	return sum
}

// Name is the name the set is chosen by.
func (s *Set) Name() string { return s.definition.Name }

// Title says what the set is, for people.
func (s *Set) Title() string { return s.definition.Title }

// Definition is the table behind the set. It must not be changed.
func (s *Set) Definition() Definition { return s.definition }

// Components are the names totals may be given for, in order.
func (s *Set) Components() []string {
	names := make([]string, len(s.components))
	for i, c := range s.components {
		names[i] = c.name
	}
	return names
}

// Solids are the names of the solids the set knows, in order.
func (s *Set) Solids() []string {
	names := make([]string, len(s.solids))
	for i, m := range s.solids {
		names[i] = m.name
	}
	return names
}

func (s *Set) componentIndex(name string) int {
	return slices.IndexFunc(s.components, func(c component) bool { return c.name == name })
}

func (s *Set) solidIndex(name string) int {
	return slices.IndexFunc(s.solids, func(m made) bool { return m.name == name })
}

// coefficients are the activity constants at a temperature in kelvin; beyond
// the table its end rows hold.
func (s *Set) coefficients(kelvin float64) coefficients {
	k := coefficients{kind: s.kind}
	d := s.definition.Debye
	t := kelvin - zeroCelsius
	switch s.kind {
	case daviesActivity:
		k.a = interpolateCubic(d.TemperatureC, d.A, t)
	case bdotActivity:
		k.a = interpolateLine(d.TemperatureC, d.A, t)
		k.b = interpolateLine(d.TemperatureC, d.B, t)
		k.bdot = interpolateLine(d.TemperatureC, d.Bdot, t)
	}
	return k
}
