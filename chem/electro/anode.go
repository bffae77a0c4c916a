package electro

import "math"

// AnodeReaction is what a part of the current does at the anode.
type AnodeReaction uint8

// The anode reactions.
const (
	IronOxidation     AnodeReaction = iota // Fe²⁺ → Fe³⁺ + e⁻
	LeadDioxide                            // Pb²⁺ + 2H2O → PbO2 + 4H⁺ + 2e⁻
	ChlorineEvolution                      // 2Cl⁻ → Cl2 + 2e⁻
	OxygenEvolution                        // 2H2O → O2 + 4H⁺ + 4e⁻
	AnodeStray                             // the stray current passes here too
	anodeReactions                         // their number
)

var anodeNames = [anodeReactions]string{
	"iron(II) to iron(III)", "lead to lead dioxide", "chlorine", "oxygen", "stray current",
}

// String names the reaction.
func (r AnodeReaction) String() string {
	if r >= anodeReactions {
		return "unknown"
	}
	return anodeNames[r]
}

// anode is the inert plate in a liquor of given composition. Iron(II) and lead
// go first, each up to its limiting current, as both are oxidised far below the
// potential at which oxygen comes at a useful rate.
type anode struct {
	ironLimit, leadLimit float64 // A
	chlorine, oxygen     slow    // with volts counted downwards
	floor                float64 // V, where iron alone carries the current
}

// gases returns the current of chlorine and oxygen in A at the potential −down.
func (a *anode) gases(down float64) float64 { return a.chlorine.current(down) + a.oxygen.current(down) }

// split fills in the shares of the current in A and returns the potential in V.
func (a *anode) split(amps, guess float64, out *parts) float64 {
	iron := min(amps, a.ironLimit)
	lead := min(amps-iron, a.leadLimit)
	rest := amps - iron - lead
	out.anode[IronOxidation] += iron
	out.anode[LeadDioxide] += lead
	if rest <= 1e-12*amps {
		out.anode[OxygenEvolution] += rest
		return a.floor
	}
	down := fall(a.gases, rest, -guess)
	scale := rest / max(a.gases(down), math.SmallestNonzeroFloat64)
	chlorine := min(rest, a.chlorine.current(down)*min(scale, 2))
	out.anode[ChlorineEvolution] += chlorine
	out.anode[OxygenEvolution] += rest - chlorine
	return -down
}
