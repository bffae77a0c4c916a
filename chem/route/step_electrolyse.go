package route

import (
	"errors"
	"fmt"
	"math"

	"afterpour/chem/electro"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// electrolyseKind wins the metal `metal` from the liquor at an inert anode, by
// electro.Win: each metal takes the current up to its limiting current, what is
// nobler comes down first, and what the metal cannot take goes to nitrate, iron
// and hydrogen. So the current efficiency follows from the liquor.
//
// The current is the least of the supply's amps and `density` over the bench's
// cathode; the cell stops at `stop_at` of the metal. `transfer` is the
// mass-transfer coefficient in µm/s, `nitrate` the factor on the rate of nitrate
// reduction, `stray` the share of the current lost to shorts and fallen metal,
// `gap` the distance of the plates, `supply` the rectifier's efficiency from the
// wall. What is plated stays in the vessel as a solid; the gases go into the air
// over the hours of the run. Electrons are booked as a stream that ends at zero.
var electrolyseKind = stepKind{
	figures: []figureKey{
		{"stop_at", units.MassConcentrationKind},
		{"density", units.Number},
		{"transfer", units.Number},
		{"nitrate", units.Number},
		{"stray", units.Fraction},
		{"gap", units.LengthKind},
		{"supply", units.Fraction},
	},
	words: []string{"metal", "anode"},
	needs: []string{"metal", "stop_at", "density", "transfer", "nitrate", "stray", "gap", "supply"},
	run:   runElectrolyse,
}

const longestRunH = 1000 // a cell that takes six weeks is not a plan

func runElectrolyse(r *run) *Block {
	s := &r.in().stream
	metal := r.step.Words["metal"]
	ion, err := substance.Find(ionOf[metal].ion)
	if err != nil {
		return &Block{Reason: "no cell is known for " + metal}
	}
	litres := float64(s.LiquidVolume())
	stop := units.Concentration(r.figure("stop_at", 0) / float64(ion.Species().MolarMass))
	if litres <= 0 || s.Mol[ion]/litres <= float64(stop) {
		return &Block{Reason: fmt.Sprintf("the liquor holds less %s than the %s at which a cell stops paying", elementName(metal),
			units.Format(units.MassConcentrationKind, r.figure("stop_at", 0)))}
	}
	if nobler := noblerThan(metal, *s, litres); nobler != "" {
		return &Block{Reason: fmt.Sprintf("%s comes down before %s and spoils the deposit: take it out first", nobler, elementName(metal))}
	}
	cell, block := r.cell(metal)
	if block != nil {
		return block
	}
	result, err := electro.Win(cell, liquorOf(*s, litres), metal, electro.Stop{Concentration: stop, Hours: longestRunH})
	if err != nil && !errors.Is(err, electro.ErrNotFinished) {
		return &Block{Reason: err.Error()}
	}
	if result.Reason != electro.ReachedConcentration {
		return &Block{Reason: fmt.Sprintf("the cell does not get there: after %s %s (current efficiency %.0f %%)",
			units.Format(units.HoursKind, float64(result.Hours)), result.Reason, 100*result.Efficiency)}
	}
	if block := r.vesselFits(*s); block != nil {
		return block
	}
	r.set(SetCurrent, units.CurrentKind, float64(cell.Current))
	if r.job.Record {
		r.rec.How = cell.Anode
	}
	return r.bookCell(s, result)
}

// noblerAbove is how much of a nobler metal, in g/L, makes a deposit of the
// metal asked for worthless: a share of some per cent of a usual liquor.
// Assumption.
const noblerAbove = 0.5

// noblerThan names a metal that plates before the one asked for and stands
// above noblerAbove in the liquor.
func noblerThan(metal string, s substance.Stream, litres float64) string {
	for _, other := range platingOrder {
		if other == metal {
			return ""
		}
		ion := substance.MustFind(ionOf[other].ion)
		if s.Mol[ion]*float64(ion.Species().MolarMass)/litres > noblerAbove {
			return elementName(other)
		}
	}
	return ""
}

// cell sets the bench's cell up from the step's figures.
func (r *run) cell(metal string) (electro.Cell, *Block) {
	b := r.job.Bench
	if !(b.SupplyAmps > 0) || !(b.SupplyVolts > 0) || !(b.CathodeArea > 0) {
		return electro.Cell{}, &Block{Reason: "the route needs a rectifier and a cathode, and this bench has none"}
	}
	cell := electro.DefaultCell(b.CathodeArea, b.SupplyVolts, b.SupplyAmps)
	cell.Current = units.Current(math.Min(float64(b.SupplyAmps), r.figure("density", 0)*float64(b.CathodeArea)))
	cell.Gap = units.Length(r.figure("gap", 0))
	cell.MassTransfer = r.figure("transfer", 0) * 1e-6
	cell.NitrateFactor = r.figure("nitrate", 1)
	cell.Stray = r.figure("stray", 0)
	if anode := r.step.Words["anode"]; anode != "" {
		cell.Anode = anode
	}
	return cell, nil
}

// ionOf gives for each metal that may plate its dissolved and its plated form.
var ionOf = map[string]struct{ ion, solid string }{
	"Pd": {"Pd^2+", "Pd(s)"}, "Hg": {"Hg^2+", "Hg(l)"}, "Ag": {"Ag^+", "Ag(s)"}, "Cu": {"Cu^2+", "Cu(s)"},
	"Pb": {"Pb^2+", "Pb(s)"}, "Sn": {"Sn^2+", "Sn(s)"}, "Cd": {"Cd^2+", "Cd(s)"}, "Co": {"Co^2+", "Co(s)"},
	"Ni": {"Ni^2+", "Ni(s)"}, "Zn": {"Zn^2+", "Zn(s)"},
}

var platingOrder = []string{"Pd", "Hg", "Ag", "Cu", "Pb", "Sn", "Ni", "Co", "Cd", "Zn"}

// liquorOf describes a stream to the cell, in mol/L.
func liquorOf(s substance.Stream, litres float64) electro.Liquor {
	c := func(name string) units.Concentration {
		return units.Concentration(math.Max(0, s.Mol[substance.MustFind(name)]) / litres)
	}
	l := electro.Liquor{
		Volume: units.Volume(litres), Temperature: s.Temperature, Acid: c("H^+"), IronIII: c("Fe^3+"), IronII: c("Fe^2+"),
		Nitrate: c("NO3^-"), Sulfate: c("SO4^2-"), Chloride: c("Cl^-"),
		Salt: c("Na^+") + c("K^+") + c("NH4^+"),
	}
	for _, metal := range platingOrder {
		if v := c(ionOf[metal].ion); v > 0 {
			l.Metals = append(l.Metals, electro.Dissolved{Metal: metal, Concentration: v})
		}
	}
	return l
}

// Half reactions of a cell. Electrons are a species, so that charge balances
// like an element.
var (
	cathodeHalves = map[electro.CathodeReaction]substance.Reaction{
		electro.IronReduction:     half("Fe^3+ + e^- -> Fe^2+"),
		electro.NitrateToNO:       half("NO3^- + 4 H^+ + 3 e^- -> NO(g) + 2 H2O(l)"),
		electro.NitrateToAmmonium: half("NO3^- + 10 H^+ + 8 e^- -> NH4^+ + 3 H2O(l)"),
		electro.HydrogenFromAcid:  half("2 H^+ + 2 e^- -> H2(g)"),
		electro.HydrogenFromWater: half("2 H2O(l) + 2 e^- -> H2(g) + 2 OH^-"),
	}
	anodeHalves = map[electro.AnodeReaction]substance.Reaction{
		electro.IronOxidation:     half("Fe^2+ -> Fe^3+ + e^-"),
		electro.LeadDioxide:       half("Pb^2+ + 2 H2O(l) -> PbO2(s) + 4 H^+ + 2 e^-"),
		electro.ChlorineEvolution: half("2 Cl^- -> Cl2(g) + 2 e^-"),
		electro.OxygenEvolution:   half("2 H2O(l) -> O2(g) + 4 H^+ + 4 e^-"),
	}
	cathodeOrder = []electro.CathodeReaction{
		electro.IronReduction, electro.NitrateToNO, electro.NitrateToAmmonium, electro.HydrogenFromAcid, electro.HydrogenFromWater,
	}
	anodeOrder = []electro.AnodeReaction{
		electro.LeadDioxide, electro.ChlorineEvolution, electro.OxygenEvolution, electro.IronOxidation,
	}
	idElectron = substance.MustFind("e^-")
)

func half(text string) substance.Reaction {
	r, err := substance.ParseReaction(text)
	if err != nil {
		panic(err) // a reaction of this file
	}
	return r
}

// bookCell moves what the cell did to the stream and enters what it took.
func (r *run) bookCell(s *substance.Stream, result electro.Result) *Block {
	for _, a := range anodeOrder {
		r.pass(s, anodeHalves[a], float64(result.Anode[a]))
	}
	for _, w := range result.Metals {
		form := ionOf[w.Metal]
		ion, solid := substance.MustFind(form.ion), substance.MustFind(form.solid)
		n := math.Min(float64(w.Plated), s.Mol[ion])
		s.Mol[ion] -= n
		s.Mol[solid] += n
		s.Mol[idElectron] -= n * float64(ion.Species().Charge)
	}
	for _, c := range cathodeOrder {
		r.pass(s, cathodeHalves[c], float64(result.Cathode[c]))
	}
	closeCircuit(s)
	neutralise(s)
	r.bookRun(result)
	r.touch(s)
	r.heatH += float64(result.Hours)
	if block := r.equilibrate(s); block != nil {
		return block
	}
	return r.afterReaction()
}

// pass runs a half reaction by a charge in coulombs, as far as its reactants
// last: the cell's own figures are rounded where it stops.
func (r *run) pass(s *substance.Stream, half substance.Reaction, coulombs float64) {
	n := math.Abs(coefficient(half, idElectron))
	extent := coulombs / (n * electro.Faraday)
	for _, t := range half.Terms {
		if t.Nu < 0 && t.Species != idElectron {
			extent = math.Min(extent, s.Mol[t.Species]/-t.Nu)
		}
	}
	if extent <= 0 {
		return
	}
	for _, t := range half.Terms {
		s.Mol[t.Species] += t.Nu * extent
	}
	if coulombs > 0 {
		r.rec.Reactions = append(r.rec.Reactions, half.Text)
	}
}

// closeCircuit lets electrons that rounding left over make hydrogen, and takes
// missing ones from water, so that none stay in the vessel.
func closeCircuit(s *substance.Stream) {
	if e := s.Mol[idElectron]; e > 0 {
		force(s, cathodeHalves[electro.HydrogenFromWater], e/2)
	} else if e < 0 {
		force(s, anodeHalves[electro.OxygenEvolution], -e/4)
	}
	s.Mol[idElectron] = 0
}

func force(s *substance.Stream, reaction substance.Reaction, extent float64) {
	for _, t := range reaction.Terms {
		s.Mol[t.Species] += t.Nu * extent
	}
}

func (r *run) bookRun(result electro.Result) {
	const source = "electro.Win: Bard and Faulkner, 2nd edition, chapters 1, 3 and 9; coefficients in its tables"
	wall := float64(result.Energy) / math.Max(r.figure("supply", 1), 0.01)
	r.set(SetRunHours, units.HoursKind, float64(result.Hours))
	r.set(SetVoltage, units.PotentialKind, float64(result.Voltage))
	r.set(SetYield, units.Fraction, result.Efficiency)
	r.enter(Charge, "", float64(result.Charge)/3600, "Q = ∫I dt", source)
	r.enter(Electricity, "cell", wall/3.6e6, "E = ∫U·I dt/η", source, r.source("supply"))
	r.note("%s at %.2f V on average, current efficiency %.0f %% for the metal", units.Format(units.HoursKind, float64(result.Hours)),
		float64(result.Voltage), 100*result.Efficiency)
	if result.AcidMade > 0 {
		r.note("the anode leaves %.3g mol of acid in the liquor, to be neutralised later", float64(result.AcidMade))
	}
	for _, w := range result.Warnings {
		r.note("%s", w)
	}
}
