package equil

import (
	"fmt"
	"math"
	"sync"

	"afterpour/chem/substance"
)

// Limiting is the equilibrium of a bench notebook: each reaction runs until
// one of its reactants is gone, in a fixed order.
//
// The order is neutralisation, carbonate and ammonia with acid, hydroxides and
// oxides with acid, silver chloride, hydroxides from the most to the least
// insoluble, hydroxides by way of carbonate, and ammonium with what alkali is
// left. Lead chloride and lead sulfate come down only above their solubility,
// and go back into solution below it or turn into hydroxide in alkali.
//
// It leaves out complexes, amphoteric metals going back into strong alkali, and
// the turning of silver chloride into oxide or back: a route states that as a
// reaction of its own.
type Limiting struct{}

// stage is one reaction of the fixed order.
type stage struct {
	text     string
	reaction substance.Reaction
}

// limitingOrder is checked for balance when it is first parsed.
//
// Hydroxides stand in the order of the pH at which 0.01 mol/L begins to come
// down (iron 2, copper 5.5, lead, zinc, nickel, silver above 8), so that scarce
// alkali goes to the metal that would really take it.
var limitingOrder = []string{
	"H^+ + OH^- -> H2O(l)",
	"CO3^2- + H^+ -> HCO3^-",
	"HCO3^- + H^+ -> CO2(g) + H2O(l)",
	"NH3(aq) + H^+ -> NH4^+",

	"Ag2O(s) + 2 H^+ -> 2 Ag^+ + H2O(l)",
	"Ni(OH)2(s) + 2 H^+ -> Ni^2+ + 2 H2O(l)",
	"Zn(OH)2(s) + 2 H^+ -> Zn^2+ + 2 H2O(l)",
	"ZnO(s) + 2 H^+ -> Zn^2+ + H2O(l)",
	"Pb(OH)2(s) + 2 H^+ -> Pb^2+ + 2 H2O(l)",
	"PbO(s) + 2 H^+ -> Pb^2+ + H2O(l)",
	"Cu(OH)2(s) + 2 H^+ -> Cu^2+ + 2 H2O(l)",
	"CuO(s) + 2 H^+ -> Cu^2+ + H2O(l)",
	"Fe(OH)3(s) + 3 H^+ -> Fe^3+ + 3 H2O(l)",

	"Ag^+ + Cl^- -> AgCl(s)",
	"PbCl2(s) + 2 Ag^+ -> 2 AgCl(s) + Pb^2+",

	"OH^- + HCO3^- -> CO3^2- + H2O(l)",
	"Fe^3+ + 3 OH^- -> Fe(OH)3(s)",
	"Cu^2+ + 2 OH^- -> Cu(OH)2(s)",
	"Pb^2+ + 2 OH^- -> Pb(OH)2(s)",
	"PbCl2(s) + 2 OH^- -> Pb(OH)2(s) + 2 Cl^-",
	"PbSO4(s) + 2 OH^- -> Pb(OH)2(s) + SO4^2-",
	"Zn^2+ + 2 OH^- -> Zn(OH)2(s)",
	"Ni^2+ + 2 OH^- -> Ni(OH)2(s)",
	"2 Ag^+ + 2 OH^- -> Ag2O(s) + H2O(l)",

	// Soda brings copper and zinc down as basic carbonates; they are booked as
	// hydroxide and carbon dioxide, which has the same metal and the same base.
	"2 Fe^3+ + 3 CO3^2- + 3 H2O(l) -> 2 Fe(OH)3(s) + 3 CO2(g)",
	"Cu^2+ + CO3^2- + H2O(l) -> Cu(OH)2(s) + CO2(g)",
	"Pb^2+ + CO3^2- + H2O(l) -> Pb(OH)2(s) + CO2(g)",
	"PbCl2(s) + CO3^2- + H2O(l) -> Pb(OH)2(s) + 2 Cl^- + CO2(g)",
	"PbSO4(s) + CO3^2- + H2O(l) -> Pb(OH)2(s) + SO4^2- + CO2(g)",
	"Zn^2+ + CO3^2- + H2O(l) -> Zn(OH)2(s) + CO2(g)",
	"Ni^2+ + CO3^2- + H2O(l) -> Ni(OH)2(s) + CO2(g)",
	"2 Ag^+ + CO3^2- -> Ag2O(s) + CO2(g)",
	"Fe^3+ + 3 HCO3^- -> Fe(OH)3(s) + 3 CO2(g)",
	"Cu^2+ + 2 HCO3^- -> Cu(OH)2(s) + 2 CO2(g)",
	"Pb^2+ + 2 HCO3^- -> Pb(OH)2(s) + 2 CO2(g)",
	"PbCl2(s) + 2 HCO3^- -> Pb(OH)2(s) + 2 Cl^- + 2 CO2(g)",
	"PbSO4(s) + 2 HCO3^- -> Pb(OH)2(s) + SO4^2- + 2 CO2(g)",
	"Zn^2+ + 2 HCO3^- -> Zn(OH)2(s) + 2 CO2(g)",
	"Ni^2+ + 2 HCO3^- -> Ni(OH)2(s) + 2 CO2(g)",

	"NH4^+ + OH^- -> NH3(aq) + H2O(l)",
}

var limitingStages = sync.OnceValues(func() ([]stage, error) {
	stages := make([]stage, 0, len(limitingOrder))
	for _, text := range limitingOrder {
		r, err := substance.ParseReaction(text)
		if err != nil {
			return nil, fmt.Errorf("equil: limiting reaction %q: %w", text, err)
		}
		stages = append(stages, stage{text: text, reaction: r})
	}
	return stages, nil
})

// Equilibrate runs the reactions of the fixed order on the stream.
//
// The pH is that of the free strong acid or alkali left, as a concentration
// per kg of water, or 7 where neither is left: no activities, no weak acids.
func (Limiting) Equilibrate(s *substance.Stream) (Outcome, error) {
	stages, err := limitingStages()
	if err != nil {
		return Outcome{}, err
	}
	salts, err := sparingSalts()
	if err != nil {
		return Outcome{}, err
	}
	outcome := Outcome{
		Method:    "limiting reactions",
		Converged: true,
		Sources:   []string{"stoichiometry"},
	}
	water := waterKg(*s)
	// Lead chloride that dissolves gives chloride to silver, so both are run
	// until nothing moves.
	for range settlingRounds {
		for _, st := range stages {
			runToLimit(s.Mol, st.reaction)
		}
		if water = waterKg(*s); !(water > 0) || !settleSalts(salts, s.Mol, water, s.Temperature) {
			break
		}
	}
	outcome.PH, outcome.Warnings = strongPH(*s, water)
	outcome.IonicStrength = streamIonicStrength(*s, water)
	return outcome, nil
}

const settlingRounds = 50

// runToLimit takes a reaction as far as its scarcest reactant allows, leaving
// that reactant at exactly zero.
func runToLimit(mol []float64, r substance.Reaction) {
	extent := math.Inf(1)
	limiting := -1
	for i, term := range r.Terms {
		if term.Nu >= 0 {
			continue
		}
		if e := mol[term.Species] / -term.Nu; e < extent {
			extent, limiting = e, i
		}
	}
	if limiting < 0 || !(extent > 0) {
		return
	}
	for _, term := range r.Terms {
		mol[term.Species] += term.Nu * extent
	}
	mol[r.Terms[limiting].Species] = 0
}
