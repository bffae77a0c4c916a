package electro

import (
	"errors"
	"fmt"

	"afterpour/chem/units"
)

// ErrNotFinished says that Win took more steps than it may. The result so far
// comes with it.
var ErrNotFinished = errors.New("electro: the cell was still running after the most steps allowed")

// StopReason says why a run ended.
type StopReason string

// The reasons to end a run.
const (
	ReachedConcentration StopReason = "the metal is down to the concentration asked for"
	ReachedHours         StopReason = "the hours are over"
	ReachedEfficiency    StopReason = "the current efficiency is down to the one asked for"
	NoDeposit            StopReason = "the liquor takes all the current: no metal comes down"
	StepLimit            StopReason = "not finished"
)

// Won is what came of one metal.
type Won struct {
	Metal  string
	Plated units.Amount        // on the cathode
	Left   units.Concentration // in the liquor
	Charge units.Charge        // that plated it
}

// Result is a run of the cell. Charges of all cathode reactions sum to Charge,
// and so do those of all anode reactions; the amounts follow from them by
// Faraday's law, so that nothing is lost between them.
type Result struct {
	Reason     StopReason
	Hours      units.Hours
	Charge     units.Charge
	Energy     units.Energy    // at the cell's terminals; the supply takes more at the wall
	Voltage    units.Potential // mean over the charge
	First      units.Potential // voltage at the start
	Last       units.Potential // voltage at the end
	Efficiency float64         // share of the charge that plated the target metal
	Metals     []Won           // noblest first
	Cathode    [cathodeReactions]units.Charge
	Anode      [anodeReactions]units.Charge

	Hydrogen, Oxygen, Chlorine, NitricOxide units.Amount // gases given off
	Ammonium                                units.Amount // left in the liquor: do not boil it dry
	LeadDioxide                             units.Amount // on the anode
	NitrateUsed                             units.Amount
	AcidMade                                units.Amount // H⁺, below 0 where acid was used up
	Left                                    Liquor
	Warnings                                []string
	Steps                                   int
}

const maxSteps = 4000

// Win runs a cell with an inert anode on a liquor until a stop is reached, for
// the target metal ("Ag", "Cu", …).
//
// At each moment the cathode stands at the potential at which all its reactions
// together carry the current: every metal as a reversible deposit up to its
// limiting current (n·F·k·A·c, falling as the metal runs out), iron(III) up to
// its own, nitrate by NitrateReduction, hydrogen by its Tafel line. So a metal
// takes the current up to its limit, what is nobler comes down first, and the
// excess goes to what comes next: nitrate in nitric liquors, less noble metals,
// hydrogen. The anode oxidises iron(II) and lead up to their limiting currents;
// chlorine and oxygen share the rest by their Tafel lines, chlorine up to its
// limiting current. The voltage is the difference of the two potentials with
// activation and the ohmic drop; where the supply cannot give it, the current
// is turned down. The liquor is well mixed; concentrations stand for activities.
// A second-order step of at most 8 % of the target is used.
//
// It holds from 0 to 100 °C and to about 3 mol/L acid. The chief doubts are the
// mass-transfer coefficient (three times either way) and nitrate reduction (the
// same). Warnings say where the model is stretched. ErrDomain or ErrUnknown for
// arguments, ErrNotFinished with the result so far if the steps run out.
//
// Sources: Bard and Faulkner, 2nd edition, chapters 1, 3 and 9; coefficients in
// the tables of this package.
func Win(cell Cell, liquor Liquor, target string, stop Stop) (Result, error) {
	const name = "Win"
	if _, err := coupleOf(target); err != nil {
		return Result{}, err
	}
	for _, err := range []error{cell.check(name), liquor.check(name, target), stop.check(name)} {
		if err != nil {
			return Result{}, err
		}
	}
	b, m := newBath(cell, liquor, target)
	sum, err := b.march(m, stop)
	r := sum.result(b, liquor)
	if err == nil {
		err = sum.check(name)
	}
	if err != nil && !errors.Is(err, ErrNotFinished) {
		return Result{}, err
	}
	return r, err
}

// tally adds up a run in SI units.
type tally struct {
	mixture     mixture
	seconds     float64
	joules      float64
	cathode     [cathodeReactions]float64 // C
	anode       [anodeReactions]float64
	metal       [maxMetals]float64
	acid        float64 // mol
	first, last parts
	reason      StopReason
	steps       int
	starved     bool // the acid at the plate ran out
	alkaline    bool
}

// march integrates until a stop is reached.
func (b *bath) march(m mixture, stop Stop) (*tally, error) {
	s := &tally{mixture: m}
	g := &guesses{cathode: b.standard[b.target], anode: b.e0Oxygen + float64(b.oxygen.At100)}
	for ; s.steps < maxSteps; s.steps++ {
		p := b.moment(&s.mixture, g)
		if s.steps == 0 {
			s.first = p
		}
		s.last = p
		if s.reason = b.reason(s, &p, stop); s.reason != "" {
			return s, nil
		}
		dt := b.stride(s, &p, stop)
		half := b.apply(s.mixture, &p, dt/2)
		b.ironBetween(&half, &s.mixture, &p, dt)
		p = b.moment(&half, g)
		b.spare(&s.mixture, &p, dt)
		s.add(b, &p, dt)
	}
	s.reason = StepLimit
	return s, fmt.Errorf("%w (%d)", ErrNotFinished, maxSteps)
}

// stride shortens a step so that it ends at the stop.
func (b *bath) stride(s *tally, p *parts, stop Stop) float64 {
	dt := b.step(&s.mixture, p)
	if stop.Concentration > 0 {
		left := s.mixture.metal[b.target] - float64(stop.Concentration)
		dt = min(dt, left*b.electrons[b.target]*Faraday*b.litres/max(p.metal[b.target], 1e-300))
	}
	if stop.Hours > 0 {
		dt = min(dt, stop.Hours.Seconds()-s.seconds)
	}
	return dt
}

// reason returns why to end here, or nothing.
func (b *bath) reason(s *tally, p *parts, stop Stop) StopReason {
	efficiency := p.metal[b.target] / p.current
	switch {
	case stop.Concentration > 0 && s.mixture.metal[b.target] <= float64(stop.Concentration)*(1+1e-6):
		return ReachedConcentration
	case stop.Hours > 0 && s.seconds >= stop.Hours.Seconds()*(1-1e-9):
		return ReachedHours
	case stop.Efficiency > 0 && efficiency <= stop.Efficiency:
		return ReachedEfficiency
	case !(efficiency > 1e-4):
		return NoDeposit
	}
	return ""
}

// add books the currents p over the time in seconds.
func (s *tally) add(b *bath, p *parts, seconds float64) {
	s.mixture = b.apply(s.mixture, p, seconds)
	s.seconds += seconds
	s.joules += p.current * p.volts * seconds
	for i, amps := range p.cathode {
		s.cathode[i] += amps * seconds
	}
	for i, amps := range p.anode {
		s.anode[i] += amps * seconds
	}
	for i := range b.count {
		s.metal[i] += p.metal[i] * seconds
	}
	s.acid += acidMade(p) * seconds / Faraday
	s.starved = s.starved || p.cathode[HydrogenFromWater] > 0.05*p.current
	s.alkaline = s.alkaline || s.mixture.acid < 0
}
