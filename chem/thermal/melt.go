package thermal

import (
	"fmt"
	"sort"

	"afterpour/chem/units"
)

// piece is Cp = a + b·T + c/T² in J/(mol K) between two temperatures in kelvins.
type piece struct{ from, to, a, b, c float64 }

// integral returns ∫Cp dT in J/mol between two temperatures in kelvins.
func (p piece) integral(from, to float64) float64 {
	return p.a*(to-from) + p.b/2*(to*to-from*from) - p.c*(1/to-1/from)
}

// melting is a substance that melts: kelvins, J/mol, pieces in rising order.
type melting struct {
	name          string
	point, fusion float64
	solid, melt   []piece // the melt of a substance without one goes on as its last solid piece
	sources       []string
}

// meltingOf turns a row into a melting.
func (t *tables) meltingOf(r substanceRow) (melting, error) {
	m := melting{name: r.Name, point: r.Melting + 273.15, fusion: r.Fusion * 1000}
	seen := map[string]bool{}
	cite := func(key string) error {
		work, err := t.source(r.Formula, key)
		if err == nil && !seen[work] {
			seen[work] = true
			m.sources = append(m.sources, work)
		}
		return err
	}
	for _, key := range []string{r.MeltingSource, r.FusionSource} {
		if err := cite(key); err != nil {
			return m, err
		}
	}
	for _, p := range r.Piece {
		if err := cite(p.Source); err != nil {
			return m, err
		}
		next := piece{p.From, p.To, p.A, p.B, p.C}
		if p.Phase == "liquid" {
			m.melt = append(m.melt, next)
		} else {
			m.solid = append(m.solid, next)
		}
	}
	if len(m.solid) == 0 {
		return m, fmt.Errorf("thermal: %s: no heat capacity", r.Formula)
	}
	if len(m.melt) == 0 {
		m.melt = m.solid[len(m.solid)-1:]
	}
	return m, nil
}

// heat returns the heat in J/mol from one temperature to another in kelvins,
// with the heat of fusion if the melting point lies between. The melting point
// itself belongs to the melt: to just melt is to reach it.
func (m melting) heat(from, to float64) float64 {
	if to < from {
		return -m.heat(to, from)
	}
	q := along(m.solid, min(from, m.point), min(to, m.point)) + along(m.melt, max(from, m.point), max(to, m.point))
	if from < m.point && to >= m.point {
		q += m.fusion
	}
	return q
}

// along integrates over the pieces of a phase in J/mol; the outermost pieces are
// carried on beyond their range.
func along(pieces []piece, from, to float64) float64 {
	var q float64
	for i, p := range pieces {
		low, high := from, to
		if i > 0 {
			low = max(low, p.from)
		}
		if i < len(pieces)-1 {
			high = min(high, pieces[i+1].from)
		}
		if high > low {
			q += p.integral(low, high)
		}
	}
	return q
}

// Melt returns the heat that takes an amount of a solid substance at one
// temperature to another, at which it may be molten.
//
//	Q = n·(∫Cp dT + ΔH_fus)
//
// Substances: Ag, Cu, Au, Pd, Pt, Zn, Fe, Ni, Sn, Pb, Cd, AgCl, AgNO3, NaNO3,
// NaCl, CuO. Reaching the melting point counts as melting all of it. It holds
// from 0 °C to about 300 K above the melting point, within 1 to 5 % (10 % for
// tin, lead and cadmium, whose heat capacity at 25 °C is used throughout).
// ErrUnknown for another formula; ErrDomain for a negative amount or
// temperatures outside 250 to 2500 K.
//
// Sources: Perry, Table 2-151; CRC Handbook for fusion and melting points.
func Melt(formula string, n units.Amount, from, to units.Temperature) (units.Energy, error) {
	const name = "Melt"
	m, ok := loaded().substances[formula]
	if !ok {
		return 0, fmt.Errorf("melting of %q: %w", formula, ErrUnknown)
	}
	if err := demand(name, notNegative("amount", float64(n)), within("first temperature", float64(from), 250, 2500),
		within("last temperature", float64(to), 250, 2500)); err != nil {
		return 0, err
	}
	q, err := result(name, float64(n)*m.heat(float64(from), float64(to)))
	return units.Energy(q), err
}

// MeltingPoint returns the melting point of a substance of Melt and its sources.
// ErrUnknown for another formula.
func MeltingPoint(formula string) (units.Temperature, []string, error) {
	m, ok := loaded().substances[formula]
	if !ok {
		return 0, nil, fmt.Errorf("melting of %q: %w", formula, ErrUnknown)
	}
	return units.Temperature(m.point), append([]string(nil), m.sources...), nil
}

// Meltable returns the formulas that Melt knows, sorted.
func Meltable() []string {
	var out []string
	for f := range loaded().substances {
		out = append(out, f)
	}
	sort.Strings(out)
	return out
}
