package route

import (
	"fmt"
	"maps"
	"slices"
	"sync"

	"afterpour/chem/data"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// reagent is a catalogue reagent as it stands on this bench: how it comes
// apart into species, and how strong it is.
type reagent struct {
	ID, Name  string
	parts     []substance.Term // species a mol of the compound gives
	molarMass float64          // g/mol of the compound
	strength  float64          // mass share of the compound in what is weighed or poured
	solution  bool             // sold as a solution: the rest of it is water
	density   float64          // kg/L of a liquid reagent; 0 for a solid
	dry       string           // the species that it is as a solid, "" if it has none
	mem       *substance.Store // where its streams are made
}

// asSolid returns the reagent as it is weighed into a dry charge.
func (g reagent) asSolid() (reagent, error) {
	id, err := substance.Find(g.dry)
	if err != nil {
		return g, fmt.Errorf("%s cannot be weighed in dry", g.Name)
	}
	g.parts = []substance.Term{{Species: id, Nu: 1}}
	return g, nil
}

// reagentByID looks a reagent up in the catalogue.
func reagentByID(id string) (data.Reagent, error) {
	rows, err := data.Reagents()
	if err != nil {
		return data.Reagent{}, err
	}
	known := make([]string, 0, len(rows))
	for _, row := range rows {
		if row.ID == id {
			return row, nil
		}
		known = append(known, row.ID)
	}
	return data.Reagent{}, fmt.Errorf("route: no reagent is called %s", nearest(id, known))
}

// hazardByID makes a caution of a row of the hazard table, for a step whose file
// lists it: such a caution shows always.
func hazardByID(id string) (Caution, error) {
	h, err := hazardRow(id)
	return Caution{ID: h.ID, Severity: SeverityCaution, Text: h.Name + ": " + h.Effect, Source: h.Cite()}, err
}

// stock holds every catalogue reagent with its species resolved, at its usual
// strength.
var stock = sync.OnceValues(func() (map[string]reagent, error) {
	rows, err := data.Reagents()
	if err != nil {
		return nil, err
	}
	all := make(map[string]reagent, len(rows))
	for _, row := range rows {
		g := reagent{ID: row.ID, Name: row.Name, strength: row.Percent / 100, solution: row.Solution, dry: row.Dry}
		if row.Solution {
			g.density = row.Density
		}
		compound, err := substance.ParseFormula(row.Formula)
		if err != nil {
			return nil, fmt.Errorf("reagent %s: %w", row.ID, err)
		}
		g.molarMass = float64(compound.MolarMass())
		if g.parts, err = partsOf(row); err != nil {
			return nil, err
		}
		all[row.ID] = g
	}
	return all, nil
})

// reagent returns a catalogue reagent at the strength on the user's shelf.
func (r *run) reagent(id string) (reagent, error) {
	all, err := stock()
	if err != nil {
		return reagent{}, err
	}
	g, ok := all[id]
	if !ok {
		_, err := reagentByID(id)
		return g, err
	}
	if shelf, ok := r.job.Shelf[id]; ok && shelf.Strength > 0 {
		g.strength = float64(shelf.Strength)
	}
	g.mem = r.mem
	return g, nil
}

// partsOf parses the species that a mol of a reagent gives in the vessel.
func partsOf(row data.Reagent) ([]substance.Term, error) {
	parts := make([]substance.Term, 0, len(row.Enters))
	for _, name := range slices.Sorted(maps.Keys(row.Enters)) {
		id, err := substance.Find(name)
		if err != nil {
			return nil, fmt.Errorf("reagent %s: %w", row.ID, err)
		}
		parts = append(parts, substance.Term{Species: id, Nu: row.Enters[name]})
	}
	return parts, nil
}

// key returns the species of the reagent that a reaction uses up.
func (g reagent) key(reaction substance.Reaction) (substance.SpeciesID, bool) {
	for _, part := range g.parts {
		if coefficient(reaction, part.Species) < 0 {
			return part.Species, true
		}
	}
	return -1, false
}

// perMol returns how much of a species a mol of the reagent gives.
func (g reagent) perMol(id substance.SpeciesID) float64 {
	for _, part := range g.parts {
		if part.Species == id {
			return part.Nu
		}
	}
	return 0
}

// stream returns mol of the compound as it is poured: with the water of a
// solution. What makes up the rest of an impure solid is not followed.
func (g reagent) stream(mol float64) substance.Stream {
	s := g.mem.Stream(units.Celsius(20))
	for _, part := range g.parts {
		s.Mol[part.Species] += part.Nu * mol
	}
	if g.solution && g.strength < 1 {
		grams := mol * g.molarMass * (1 - g.strength) / g.strength
		s.Mol[idWater] += grams / float64(idWater.Species().MolarMass)
	}
	return s
}

// litres returns that volume of water at a temperature.
func (g reagent) litres(v float64, t units.Temperature) substance.Stream {
	s := g.mem.Stream(t)
	s.Mol[idWater] = v * float64(substance.WaterDensity(t)) * 1000 / float64(idWater.Species().MolarMass)
	return s
}

// draw takes mol of a reagent from the shelf, with the water the step dissolves
// it in, books both and returns them.
func (r *run) draw(g reagent, mol float64, formula string, sources ...string) substance.Stream {
	if !(mol > 0) {
		return r.mem.Stream(units.Celsius(20))
	}
	s := g.stream(mol)
	weighed := mol * g.molarMass / g.strength // g
	e := r.enter(Reagent, g.ID, weighed, formula, append(sources, r.source("excess"))...)
	if g.density > 0 {
		e.Volume = units.Volume(weighed / 1000 / g.density)
	}
	if litres := r.figure("water", 0) * weighed / 1000; litres > 0 {
		if w, err := r.reagent("water"); err == nil {
			s.Mix(w.litres(litres, s.Temperature))
			e := r.enter(Reagent, "water", litres*1000, "V = a·m(reagent)", r.source("water"))
			e.Volume, e.Detail = units.Volume(litres), "to dissolve "+g.Name
		}
	}
	r.touch(&s)
	r.brings(s)
	return s
}

// pourReagent draws a reagent into the step's vessel.
func (r *run) pourReagent(g reagent, mol float64, formula string) {
	s := r.draw(g, mol, formula)
	r.pour(r.step.In, s)
}
