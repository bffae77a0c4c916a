package equil

// DocumentedDoubt is the factor by which dissolved silver over silver chloride
// may be wrong at an ionic strength in mol/kg, from how far published sets of
// constants lie apart: 15 % up to 0.1, a factor of 4 up to 3, and beyond that a
// factor of several (5 here), then only with a B-dot type of model.
func DocumentedDoubt(ionic float64) float64 {
	switch {
	case ionic <= 0.1:
		return 1.15
	case ionic <= 3:
		return 4
	}
	return 5
}

// leastDissolved is the mol per kg of water below which sets are not compared:
// nobody pours or weighs it.
const leastDissolved = 1e-12

// compare asks the other sets the same question and sets each metal's
// dissolved amounts side by side. A set answers only if it holds every solid
// that stands here: without one of them the alkali would go elsewhere, and it
// would be asked about another vessel.
func (sp *Speciation) compare(l *liquor, a *asked) []MetalSpread {
	var spread []MetalSpread
	for c, i := range a.ions {
		if i < 0 || !sp.bench.Ions[i].Metal {
			continue
		}
		spread = append(spread, MetalSpread{
			Metal:     sp.bench.Ions[i].Component,
			Dissolved: map[string]float64{sp.set.Name(): a.solver.Dissolved(c) * l.water},
			Factor:    1,
		})
	}
	for _, other := range sp.others {
		other.answerTo(l, a, spread)
	}
	for i := range spread {
		spread[i].close(l.water)
	}
	return spread
}

// answerTo adds one set's answers, where it has any.
func (sp *Speciation) answerTo(l *liquor, a *asked, spread []MetalSpread) {
	if l.selection.ions&^sp.ions != 0 || !sp.holdsAll(a) {
		return
	}
	mine := *l
	mine.selection.solids &= sp.solids
	theirs, _, err := sp.ask(&mine)
	if err != nil {
		return
	}
	defer sp.giveBack(mine.selection, theirs)
	for c, i := range theirs.ions {
		if i < 0 || !sp.bench.Ions[i].Metal {
			continue
		}
		for m := range spread {
			if spread[m].Metal == sp.bench.Ions[i].Component {
				spread[m].Dissolved[sp.set.Name()] = theirs.solver.Dissolved(c) * l.water
			}
		}
	}
}

// holdsAll reports whether the set has every solid that stands in another
// set's answer.
func (sp *Speciation) holdsAll(a *asked) bool {
	for s, k := range a.solids {
		if a.solver.Solid(s) > 0 && sp.solids&(1<<k) == 0 {
			return false
		}
	}
	return true
}

func (m *MetalSpread) close(water float64) {
	low, high := 0.0, 0.0
	for _, mol := range m.Dissolved {
		mol = max(mol, leastDissolved*water)
		if low == 0 || mol < low {
			low = mol
		}
		high = max(high, mol)
	}
	if low > 0 {
		m.Factor = high / low
	}
}
