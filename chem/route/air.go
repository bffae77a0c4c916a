package route

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"afterpour/chem/substance"
	"afterpour/chem/thermal"
	"afterpour/chem/units"
)

// bareName is a species' name without its phase: "NO2" for "NO2(g)".
func bareName(sp substance.Species) string { return strings.TrimSuffix(sp.Name, sp.Phase.String()) }

// watched are the gases that the air rules look at. Nitric oxide counts as
// nitrogen dioxide, since it oxidises in air.
type watched struct {
	id    substance.SpeciesID
	as    string  // the gas whose limit holds
	name  string  // in words
	count float64 // mol of that gas a mol of this one makes
}

var watchedGases = []watched{
	{idNO, "NO2", "nitric oxide (as nitrogen dioxide)", 1},
	{idNO2, "NO2", "nitrogen dioxide", 1},
	{idCl2, "Cl2", "chlorine", 1},
	{idHCl, "HCl", "hydrogen chloride", 1},
	{idHNO3, "HNO3", "nitric acid vapour", 1},
	{substance.MustFind("SO2(g)"), "SO2", "sulfur dioxide", 1},
	{substance.MustFind("NH3(g)"), "NH3", "ammonia", 1},
}

// airLimits caches the limits by the gas they hold for.
var airLimits = sync.OnceValues(func() (map[string]substance.AirLimit, error) {
	all := map[string]substance.AirLimit{}
	for _, w := range watchedGases {
		limit, err := substance.AirLimitOf(w.as)
		if err != nil {
			return nil, err
		}
		all[w.as] = limit
	}
	return all, nil
})

// release lets the gases of a stream into the air over some hours, enters them
// with the fresh air that would bring each to its lowest short-term or ceiling
// limit, and blocks the plan where the air at the bench would pass a limit.
//
// The air at the bench is thermal.RoomConcentration: a hood holds most of the
// gas at its source, the rest fills the room, which its air changes and the
// extraction clear. Several gases are added as shares of their limits.
func (r *run) release(s *slot, hours float64) *Block {
	gas := s.stream.TakeEscaping(1)
	for i, n := range gas.Mol {
		if n > 0 {
			sp := substance.AllSpecies()[i]
			r.enter(Gas, bareName(sp), n*float64(sp.MolarMass), "m = Σν·ξ·M", "stoichiometry")
		}
	}
	if gas.Mass() > 0 {
		r.set(SetGasHours, units.HoursKind, hours)
	}
	defer r.leaves(gas)
	var worst airShare
	sum := 0.0
	for _, w := range watchedGases {
		n := gas.Mol[w.id] * w.count
		if n <= 0 {
			continue
		}
		share, block := r.airShareOf(w, n, hours)
		if block != nil {
			return block
		}
		sum += share.ratio
		if share.ratio > worst.ratio {
			worst = share
		}
	}
	if sum <= 1 {
		return nil
	}
	return r.airBlock(worst, hours)
}

// airShare is how one gas stands to its limit at the bench.
type airShare struct {
	watched
	limit substance.AirLimit
	ppm   float64 // highest at the bench
	fresh float64 // m3 that would dilute all of it to the limit
	ratio float64 // ppm over limit
}

func (r *run) airShareOf(w watched, n, hours float64) (airShare, *Block) {
	limits, err := airLimits()
	if err != nil {
		return airShare{}, &Block{Reason: err.Error()}
	}
	limit := limits[w.as]
	room25 := units.Celsius(25)
	fresh, err := thermal.FreshAir(units.Amount(n), limit.PPM, room25)
	if err != nil {
		return airShare{}, &Block{Reason: err.Error()}
	}
	e := r.enter(FreshAir, w.as, fresh.CubicMetres(), "V = n·Vm/x(limit)", limit.Source.Cite(), "molar volume of an ideal gas at 25 degC and 1 atm")
	if r.job.Trace {
		e.Detail = fmt.Sprintf("%s to %g ppm (%s)", w.name, limit.PPM, limit.Kind)
	}
	b := r.job.Bench
	room, err := thermal.NewRoom(units.Volume(math.Max(b.RoomM3, 1)*1000), b.AirChanges, b.Extraction)
	if err != nil {
		return airShare{}, &Block{Reason: err.Error()}
	}
	ppm, err := thermal.RoomConcentration(units.Amount(n), units.Hours(hours), room, room25)
	if err != nil {
		return airShare{}, &Block{Reason: err.Error()}
	}
	return airShare{watched: w, limit: limit, ppm: ppm, fresh: fresh.CubicMetres(), ratio: ppm / limit.PPM}, nil
}

// airBlock says why the air does not allow a step.
func (r *run) airBlock(a airShare, hours float64) *Block {
	b := r.job.Bench
	extraction := "and there is no fume extraction"
	if b.Extraction > 0 {
		extraction = fmt.Sprintf("and extraction of %.0f m3/h", float64(b.Extraction))
	}
	return &Block{Reason: fmt.Sprintf(
		"%s would reach about %s ppm at the bench against a limit of %g ppm (%s, %s): the step gives it off for %s, which takes %s m3 of fresh air; the room has %.0f m3 with %.1f air changes an hour %s",
		a.name, roundUp(a.ppm), a.limit.PPM, a.limit.Body, a.limit.Kind, units.Format(units.HoursKind, hours), roundUp(a.fresh),
		b.RoomM3, b.AirChanges, extraction)}
}

// roundUp prints a figure to two places, upwards: gas is never rounded down.
func roundUp(v float64) string {
	if !(v > 0) {
		return "0"
	}
	step := math.Pow(10, math.Floor(math.Log10(v))-1)
	return strconv.FormatFloat(math.Ceil(v/step)*step, 'f', max(0, int(-math.Floor(math.Log10(step)))), 64)
}
