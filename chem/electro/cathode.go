package electro

import "math"

// CathodeReaction is what a part of the current does at the cathode.
type CathodeReaction uint8

// The cathode reactions. Metal is the sum over all metals.
const (
	MetalDeposition   CathodeReaction = iota // Mⁿ⁺ + n e⁻ → M
	IronReduction                            // Fe³⁺ + e⁻ → Fe²⁺
	NitrateToNO                              // NO3⁻ + 4H⁺ + 3e⁻ → NO + 2H2O
	NitrateToAmmonium                        // NO3⁻ + 10H⁺ + 8e⁻ → NH4⁺ + 3H2O
	HydrogenFromAcid                         // 2H⁺ + 2e⁻ → H2
	HydrogenFromWater                        // 2H2O + 2e⁻ → H2 + 2OH⁻
	StrayCurrent                             // shorts, fallen metal
	cathodeReactions                         // their number
)

var cathodeNames = [cathodeReactions]string{
	"metal", "iron(III) to iron(II)", "nitrate to nitric oxide", "nitrate to ammonium",
	"hydrogen from acid", "hydrogen from water", "stray current",
}

// String names the reaction.
func (r CathodeReaction) String() string {
	if r >= cathodeReactions {
		return "unknown"
	}
	return cathodeNames[r]
}

// wave is a reversible metal deposit: its rest potential in V, electrons over
// the thermal voltage in 1/V, and limiting current in A.
type wave struct{ rest, steep, limit float64 }

// current returns i = limit·(1 − exp(n·F·(E − E_rest)/RT)) below the rest
// potential, in A, and nothing above it (Bard and Faulkner, section 1.4: a
// reversible deposit whose ion must diffuse to the plate).
func (w wave) current(volts float64) float64 {
	if volts >= w.rest {
		return 0
	}
	return -w.limit * math.Expm1((volts-w.rest)*w.steep)
}

// slow is an irreversible reaction: current in A at its reference potential,
// decades per volt as a natural exponent, and a limiting current in A, which
// may be infinite.
type slow struct{ at, reference, steep, limit float64 }

// current returns the kinetic current joined with the limiting one by
// 1/i = 1/i_kin + 1/i_lim (Koutecký and Levich; Bard and Faulkner, section 9.3).
func (s slow) current(volts float64) float64 {
	if s.at <= 0 || s.limit <= 0 {
		return 0
	}
	kinetic := s.at * math.Exp((s.reference-volts)*s.steep)
	if math.IsInf(s.limit, 1) {
		return kinetic
	}
	return s.limit * kinetic / (s.limit + kinetic)
}

// maxMetals is how many metals a liquor may hold.
const maxMetals = 10

// cathode is the plate in a liquor of given composition: every reaction's
// current as a function of the potential.
type cathode struct {
	metals       [maxMetals]wave
	count        int
	ironLimit    float64 // A
	ironHalfWave float64 // V
	perVolt      float64 // F/RT in 1/V
	nitrate      slow
	proton       slow
	water        slow
}

// total returns the cathode current in A at the potential in V, without stray current.

func (c *cathode) total(volts float64) float64 {
	sum := c.iron(volts) + c.nitrate.current(volts) + c.proton.current(volts) + c.water.current(volts)
	for i := range c.count {
		sum += c.metals[i].current(volts)
	}
	return sum
}

// iron returns the current that reduces iron(III): a reversible wave,
// limit/(1 + exp(F·(E − E½)/RT)) (Bard and Faulkner, section 1.4).
func (c *cathode) iron(volts float64) float64 {
	if c.ironLimit <= 0 {
		return 0
	}
	return c.ironLimit / (1 + math.Exp((volts-c.ironHalfWave)*c.perVolt))
}

// parts is the current of the moment by reaction and by metal, in A.
type parts struct {
	cathode [cathodeReactions]float64
	metal   [maxMetals]float64
	anode   [anodeReactions]float64
	volts   float64 // across the cell
	plate   float64 // cathode potential
	current float64
}

// split fills in the shares of the current in A at the potential in V at which
// the reactions carry it, scaled so that they sum to it exactly.
func (c *cathode) split(amps, volts float64, out *parts) {
	scale := amps / max(c.total(volts), math.SmallestNonzeroFloat64)
	if !(scale < 2) { // nothing carries the current: let water do it
		scale = 1
	}
	out.plate = volts
	rest := amps
	take := func(r CathodeReaction, i float64) {
		i = min(rest, max(0, i*scale))
		out.cathode[r] += i
		rest -= i
	}
	for i := range c.count {
		before := out.cathode[MetalDeposition]
		take(MetalDeposition, c.metals[i].current(volts))
		out.metal[i] = out.cathode[MetalDeposition] - before
	}
	take(IronReduction, c.iron(volts))
	nitrate, ammonium := c.nitrate.current(volts), ammoniumShare(volts)
	take(NitrateToNO, nitrate*(1-ammonium))
	take(NitrateToAmmonium, nitrate*ammonium)
	take(HydrogenFromAcid, c.proton.current(volts))
	out.cathode[HydrogenFromWater] += rest
}
