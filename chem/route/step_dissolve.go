package route

import (
	"fmt"
	"math"
	"sync"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// dissolveKind dissolves the metal that stands in the vessel, by the table of
// dissolving reactions for the agent `agent`, in its reagent.
//
// With nitric acid a metal has two branches: the share `no2` of it runs to
// nitrogen dioxide, the rest to nitric oxide, as acid strength and heat decide.
// Zinc, iron and other metals whose table has a branch to ammonium send the
// share `ammonium` of themselves there. Every solid dissolves to the share
// `reach`; what the agent leaves untouched (gold, silver chloride) stays.
//
// The dose is what the reactions ask of acid or nitrate, whichever is more, with
// the excess, less what is there already. Water is poured in to bring the acid
// to `strength`, in mol/L. out = [liquor], or [liquor, fume].
var dissolveKind = stepKind{
	figures: []figureKey{
		{"excess", units.Fraction},
		{"strength", units.ConcentrationKind},
		{"no2", units.Fraction},
		{"ammonium", units.Fraction},
		{"reach", units.Fraction},
		{"temperature", units.TemperatureKind},
		{"efficiency", units.Fraction},
	},
	words: []string{"agent"},
	needs: []string{"agent", "reagent", "excess", "strength", "no2", "reach"},
	fumes: true,
	run:   runDissolve,
}

// attack is what an agent does to one solid, by branch.
type attack struct {
	solid    substance.SpeciesID
	branches map[string]substance.Reaction
}

// attacks lists what each agent does, in the order of the table.
var attacks = sync.OnceValue(func() map[string][]attack {
	all := map[string][]attack{}
	for _, d := range substance.DissolvingReactions() {
		if d.Untouched {
			continue
		}
		list := all[d.Agent]
		if n := len(list); n == 0 || list[n-1].solid != d.Solid {
			list = append(list, attack{d.Solid, map[string]substance.Reaction{}})
		}
		list[len(list)-1].branches[d.Branch] = d.Reaction
		all[d.Agent] = list
	}
	return all
})

// planned is a reaction with the extent that it will run to, in mol.
type planned struct {
	substance.Reaction
	extent float64
}

func runDissolve(r *run) *Block {
	agent, err := substance.FindAgent(r.step.Words["agent"])
	if err != nil {
		return &Block{Reason: err.Error()}
	}
	g, err := r.reagent(r.step.Reagent)
	if err != nil {
		return &Block{Reason: err.Error()}
	}
	list := r.planAttack(r.in().stream, agent.Name)
	if len(list) == 0 {
		return &Block{Reason: fmt.Sprintf("no metal stands here that %s dissolves", agent.Name)}
	}
	dose := r.acidFor(r.in().stream, list)
	r.dilute(g, dose)
	r.pourReagent(g, dose, "n = Σν·ξ·(1 + excess) − n(there)")
	vessel := &r.in().stream
	if block := r.warm(vessel); block != nil {
		return block
	}
	neutralise(vessel)
	for _, p := range list {
		apply(vessel, p.Reaction, p.extent)
		r.rec.Reactions = append(r.rec.Reactions, p.Text)
	}
	r.touch(vessel)
	if block := r.equilibrate(vessel); block != nil {
		return block
	}
	if block := r.vesselFits(*vessel); block != nil {
		return block
	}
	fume := vessel.TakeEscaping(1)
	r.move(r.step.Out[0])
	return r.letGo(fume)
}

// planAttack shares each solid out among its branches.
func (r *run) planAttack(s substance.Stream, agent string) []planned {
	var list []planned
	reach := r.figure("reach", 1)
	for _, a := range attacks()[agent] {
		n := s.Mol[a.solid] * reach
		if n <= 0 {
			continue
		}
		for _, branch := range [...]string{"", "NH4", "NO2", "NO"} {
			reaction, ok := a.branches[branch]
			if !ok {
				continue
			}
			if share := r.branchShare(a, branch); share > 0 {
				list = append(list, planned{reaction, n * share / -coefficient(reaction, a.solid)})
			}
		}
	}
	return list
}

// branchShare is the share of a solid that goes down one of its branches.
func (r *run) branchShare(a attack, branch string) float64 {
	has := func(name string) bool { _, ok := a.branches[name]; return ok }
	ammonium := 0.0
	if has("NH4") {
		ammonium = r.figure("ammonium", 0)
	}
	no2 := r.figure("no2", 0)
	switch {
	case branch == "":
		return 1
	case has(""):
		return 0
	case branch == "NH4":
		return ammonium
	case !has("NO"), !has("NO2"):
		return 1 - ammonium
	case branch == "NO2":
		return (1 - ammonium) * no2
	default:
		return (1 - ammonium) * (1 - no2)
	}
}

// acidFor is the acid, in mol, that the reactions ask for beyond what is there.
func (r *run) acidFor(s substance.Stream, list []planned) float64 {
	acid, nitrate := 0.0, 0.0
	for _, p := range list {
		acid -= p.extent * coefficient(p.Reaction, idH)
		nitrate -= p.extent * coefficient(p.Reaction, idNitrate)
	}
	more := 1 + r.figure("excess", 0)
	return math.Max(0, math.Max(acid*more-s.Mol[idH]+s.Mol[idOH], nitrate*more-s.Mol[idNitrate]))
}

// dilute pours in the water that brings the acid to the step's strength.
func (r *run) dilute(g reagent, dose float64) {
	strength := r.figure("strength", 0)
	if !(strength > 0) || !(g.density > 0) {
		return
	}
	poured := dose * g.molarMass / g.strength / 1000 / g.density // L
	litres := dose/strength - poured - float64(r.in().stream.LiquidVolume())
	r.drawWater(math.Max(litres, 0), "to dilute the acid", "V = n/c − V(acid) − V(there)", r.source("strength"))
}
