package lot

import (
	"math"

	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// What a settled solid keeps of the liquor between its grains where no moisture
// is stated, in litres per kilogram of dry solid: 2 to 4, as the route files
// have it for a settled curd, with the standard uncertainty of an even range.
// Assumption: fine precipitates settle to a loose layer.
const (
	bedLiquor   = 3.0
	bedLiquorSD = 0.58
)

// bed is what the solids of a vessel take up.
type bed struct {
	own     units.Volume // of the solids alone, without pores
	held    units.Volume // liquor between the grains, part of the liquid
	assumed units.Mass   // of dry solid whose moisture nobody has stated
}

// layer is the height of the settled layer as a volume.
func (b bed) layer() units.Volume { return b.own + b.held }

// doubt is the part of the layer's standard uncertainty that is due to the
// liquor being assumed.
func (b bed) doubt() units.Volume { return units.Volume(float64(b.assumed) * bedLiquorSD) }

// bedOf works out what the solids take up: their own volume and the liquor
// between their grains, which is as stated for a [[solid]], bedLiquor for other
// precipitates, and none for pieces of metal. There is never more of it than
// there is liquid.
func (m *Model) bedOf(v input.Values, s substance.Stream, liquid units.Volume) bed {
	b := bed{own: s.SolidVolume()}
	density := 1.0 // kg/L
	if liquid > 0 {
		density = math.Max(float64(s.MassOf(substance.Dissolved))/float64(liquid), 0.5)
	}
	held := 0.0
	for _, sp := range substance.AllSpecies() {
		if !substance.Undissolved(sp) || !(s.Mol[sp.ID] > 0) {
			continue
		}
		kg := s.Mol[sp.ID] * float64(sp.MolarMass) / gramsPerKilogram
		moisture, stated := m.moistureOf(sp.ID, v)
		switch {
		case stated:
			held += kg * moisture / density
		case !sp.Formula.IsElement():
			held += kg * bedLiquor
			b.assumed += units.Mass(kg)
		}
	}
	b.held = units.Volume(math.Min(held, float64(liquid)))
	return b
}

// moistureOf is the liquor in the stated solids of a compound, in kg per kg of
// the compound.
func (m *Model) moistureOf(id substance.SpeciesID, v input.Values) (float64, bool) {
	wet, compound, stated := 0.0, 0.0, false
	for i := range m.solids {
		e := &m.solids[i]
		if e.compound == id {
			stated = true
			wet += v.At(e.wetMass) * math.Min(1, v.At(e.moisture))
			compound += e.dry(v) * v.At(e.purity)
		}
	}
	if !(compound > 0) {
		return 0, stated
	}
	// A solid said to be nearly all water is slurry: what is beyond ten times its
	// mass is liquor, not layer.
	return math.Min(wet/compound, 10), stated
}
