package equil

import (
	"math"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// waterKg is the liquid water of a stream in kg.
func waterKg(s substance.Stream) float64 {
	water := substance.MustFind("H2O(l)")
	return s.Mol[water] * float64(water.Species().MolarMass) / 1000
}

// liquor is a stream laid out for a set of constants: its amounts with the
// acid forms broken down, and what the solver is told of it.
type liquor struct {
	mol         []float64
	temperature units.Temperature
	water       float64 // kg of liquid water without hydroxide, the scale of the question
	inert       Inert   // per kg of water
	selection   selection
	strangers   []substance.SpeciesID
}

// selection is which rows of the bench table a liquor holds: a solver made for
// one liquor serves every other with the same selection.
type selection struct {
	ions, solids uint32
}

// lay copies a stream, breaks down the acid forms that the set knows, and books
// hydroxide as water less hydrogen ion, which may then be below 0.
func (l *liquor) lay(sp *Speciation, s *substance.Stream) {
	b := sp.bench
	l.mol = append(l.mol[:0], s.Mol...)
	l.temperature = s.Temperature
	for _, f := range b.Forms {
		if n := l.mol[f.id]; n != 0 && f.ions&^sp.ions == 0 {
			run(l.mol, f.reaction, n)
			l.mol[f.id] = 0
		}
	}
	hydroxide := l.mol[b.hydroxide]
	l.mol[b.hydroxide] = 0
	l.mol[b.hydrogen] -= hydroxide
	l.mol[b.water] += hydroxide
	l.measure(b)
	l.selection = l.selectRows(sp)
	l.addStrangers(b)
}

// measure finds the water that is not hydroxide: the solver adds that itself.
func (l *liquor) measure(b *bench) {
	l.water = (l.mol[b.water] - math.Max(0, -l.mol[b.hydrogen])) * b.waterKg
}

// selectRows says which ions and solids of the bench table take part.
func (l *liquor) selectRows(sp *Speciation) selection {
	var rows selection
	for i, ion := range sp.bench.Ions {
		if l.mol[ion.id] > 0 {
			rows.ions |= 1 << i
		}
	}
	for k := range sp.bench.Solids {
		solid := &sp.bench.Solids[k]
		if sp.solids&(1<<k) == 0 {
			continue
		}
		if solid.standing(l.mol) > 0 {
			rows.ions |= solid.ions
		} else if !solid.Forms {
			continue
		}
		rows.solids |= 1 << k
	}
	rows.ions &= sp.ions
	return rows
}

// addStrangers adds up the dissolved species that take no part.
func (l *liquor) addStrangers(b *bench) {
	l.inert = Inert{}
	l.strangers = l.strangers[:0]
	for _, id := range b.dissolved {
		n := l.mol[id]
		if n == 0 {
			continue
		}
		if i := b.ionRow[id]; i >= 0 && l.selection.ions&(1<<i) != 0 {
			continue
		}
		z := b.charge[id]
		l.inert.Mol += math.Max(n, 0) / l.water
		l.inert.Charge += n * z / l.water
		l.inert.Squares += math.Max(n, 0) * z * z / l.water
		if z != 0 && n > 1e-9*l.water {
			l.strangers = append(l.strangers, id)
		}
	}
}

// total is the sum of all that is dissolved, mol per kg of water.
func (l *liquor) total(b *bench) float64 {
	sum := math.Abs(l.mol[b.hydrogen])
	for _, id := range b.dissolved {
		sum += math.Max(l.mol[id], 0)
	}
	return sum / l.water
}

// warnings names the charged strangers.
func (l *liquor) warnings(b *bench) []string {
	var warnings []string
	for _, id := range l.strangers {
		warnings = append(warnings, b.aside[id])
	}
	return warnings
}

// book turns the answer into amounts of the stream's species: solids grow or
// dissolve by their balanced reactions, ammonium and the carbonates form, and
// what is left of the hydrogen ion is acid or, below 0, hydroxide.
func (l *liquor) book(b *bench, a *asked) {
	// What dissolves goes first: another solid may be made of it.
	for _, growing := range []bool{false, true} {
		for i, k := range a.solids {
			solid, amount := &b.Solids[k], a.solver.Solid(i)*l.water
			if growing == (amount > solid.standing(l.mol)) {
				l.settle(b, solid, amount)
			}
		}
	}
	for i := range b.Forms {
		if j := a.returns[i]; j >= 0 {
			mol := a.solver.Molality(j) * a.solver.Water() * l.water
			run(l.mol, b.Forms[i].reaction, -math.Min(mol, l.available(b, &b.Forms[i])))
		}
	}
	if free := l.mol[b.hydrogen]; free < 0 {
		l.mol[b.hydroxide] = -free
		l.mol[b.water] += free
		l.mol[b.hydrogen] = 0
	}
}

// settle brings one solid to its amount, never taking more of an ion than
// there is.
func (l *liquor) settle(b *bench, solid *benchSolid, amount float64) {
	forming := amount - solid.standing(l.mol)
	for _, t := range solid.reaction.Terms {
		if b.ionRow[t.Species] >= 0 {
			forming = math.Min(forming, math.Max(l.mol[t.Species], 0)/t.Nu)
		}
	}
	run(l.mol, solid.reaction, -forming)
	for _, t := range solid.reaction.Terms {
		// Rounding may leave a hair below nothing where all of it came down.
		if n := l.mol[t.Species]; b.ionRow[t.Species] >= 0 && n < 0 {
			l.mol[t.Species] = 0
		}
	}
}

// standing is the mol of a solid that takes part; gas has left.
func (s *benchSolid) standing(mol []float64) float64 {
	if s.Gas {
		return 0
	}
	return math.Max(mol[s.id], 0)
}

// available is how much of an acid form its parts allow, hydrogen ion aside.
func (l *liquor) available(b *bench, f *benchForm) float64 {
	most := math.Inf(1)
	for _, t := range f.reaction.Terms {
		if b.ionRow[t.Species] >= 0 {
			most = math.Min(most, math.Max(l.mol[t.Species], 0)/t.Nu)
		}
	}
	return most
}
