package econ

import (
	"math"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// scaleLot makes the lot that the figures describe k times as large: every
// figure that goes with the size of the lot is k times what it was, with the
// same doubt in per cent. Shares, concentrations, a titration's sample and what
// is measured of the vessel as it stands (pH, temperature) stay.
func scaleLot(figs *input.Figures, l *lot.Lot, k float64) {
	for _, ref := range extensive(l) {
		scale(figs, ref, k)
	}
}

// extensive lists the figures of a lot that go with its size.
func extensive(l *lot.Lot) []input.Ref {
	refs := []input.Ref{l.Vessel.Liquid}
	for _, d := range l.Dissolved {
		refs = append(refs, d.Mass)
	}
	for _, a := range l.Added {
		refs = append(refs, a.Amount)
	}
	for _, p := range l.Plated {
		refs = append(refs, p.Area)
	}
	for _, t := range l.Taken {
		refs = append(refs, t.Mass)
	}
	for _, s := range l.Solids {
		refs = append(refs, s.WetMass)
	}
	return refs
}

// scale makes a figure k times what it was, doubt and all.
func scale(figs *input.Figures, ref input.Ref, k float64) {
	if ref == input.NoRef {
		return
	}
	fig := figs.Get(ref)
	figs.Add(moved(fig, k*fig.Dist.Mean))
}

// scaleContent makes the lot hold k times as much of a metal, as far as its
// statements say: each of them is moved. A piece that is mostly of the metal
// gets k times as heavy; of another the share is k times as large, at the cost
// of its other shares. What an assay or a titration found, plate, what was
// taken, a weighed solid and a salt of the metal that was poured in go along.
func scaleContent(figs *input.Figures, l *lot.Lot, metal string, k float64) {
	for i := range l.Dissolved {
		scalePiece(figs, &l.Dissolved[i], metal, k)
	}
	for _, p := range l.Plated {
		if p.Metal == metal {
			scale(figs, p.Thickness, k)
		}
	}
	for _, t := range l.Taken {
		if t.Metal == metal {
			scale(figs, t.Mass, k)
		}
	}
	dry := drySolids(figs, l)
	for _, s := range l.Solids {
		if s.Compound.Species().Formula.Atoms(metal) > 0 {
			scale(figs, s.WetMass, k)
		}
	}
	drier := 1.0
	if dry > 0 {
		drier = drySolids(figs, l) / dry
	}
	for _, m := range l.Measured {
		switch {
		case m.Metal != metal:
		case m.In == lot.InSolid:
			scale(figs, m.Value, k/drier) // of a solid that has grown with its own metal
		default:
			scale(figs, m.Value, k)
		}
	}
	for _, t := range l.Titrated {
		if t.Of == metal {
			scale(figs, t.Used, k)
		}
	}
	for _, a := range l.Added {
		if r, err := substance.FindReagent(a.Reagent); err == nil && r.Formula.Atoms(metal) > 0 {
			scale(figs, a.Amount, k)
		}
	}
}

// drySolids is the dry mass of all solids that the lot states, in kg.
func drySolids(figs *input.Figures, l *lot.Lot) float64 {
	sum := 0.0
	for _, s := range l.Solids {
		sum += figs.Get(s.WetMass).Dist.Mean * math.Max(0, 1-figs.Get(s.Moisture).Dist.Mean)
	}
	return sum
}

// mostly is the share from which a piece counts as one of the metal.
const mostly = 0.5

// scalePiece gives a piece k times as much of a metal.
func scalePiece(figs *input.Figures, d *lot.Dissolved, metal string, k float64) {
	own, others := 0.0, 0.0
	for _, s := range d.Shares {
		if v := shareIn(figs, d, s); s.Element == metal {
			own += v
		} else {
			others += v
		}
	}
	switch {
	case !(own > 0):
		return
	case own > mostly || !(others > 0):
		scale(figs, d.Mass, k)
		return
	}
	k = math.Min(k, (own+others)/own)
	rest := math.Max(0, (own+others-k*own)/others)
	for _, s := range d.Shares {
		by := rest
		if s.Element == metal {
			by = k
		}
		scale(figs, s.Ref, by)
	}
}

// shareIn is a share of a piece; of the rest it is what the others leave.
func shareIn(figs *input.Figures, d *lot.Dissolved, s lot.Share) float64 {
	if !s.Rest {
		return figs.Get(s.Ref).Dist.Mean
	}
	left := 1.0
	for _, other := range d.Shares {
		if !other.Rest {
			left -= figs.Get(other.Ref).Dist.Mean
		}
	}
	return math.Max(0, left)
}

// mostContent is the factor up to which the content of a metal can be moved
// before a share reaches 100 %.
func mostContent(figs *input.Figures, l *lot.Lot, metal string) float64 {
	most := math.Inf(1)
	for i := range l.Dissolved {
		d := &l.Dissolved[i]
		own := 0.0
		for _, s := range d.Shares {
			if s.Element == metal {
				own += shareIn(figs, d, s)
			}
		}
		if own > 0 && own <= mostly {
			most = math.Min(most, 1/own)
		}
	}
	for _, m := range l.Measured {
		if fig := figs.Get(m.Value); m.Metal == metal && fig.Kind == units.Fraction && fig.Dist.Mean > 0 {
			most = math.Min(most, 1/fig.Dist.Mean)
		}
	}
	return most
}
