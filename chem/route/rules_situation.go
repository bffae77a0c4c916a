package route

import (
	"fmt"
	"slices"
	"sync"

	"afterpour/chem/units"
)

// situation is a set of places where a rule looks: kinds of step, what a step
// does, and endings.
type situation uint64

// situationWords are the places that are no step kind, a bit each.
var situationWords = []string{
	"any step",   // every step of every route
	"heated",     // the step warms its stream
	"boiled dry", // the step leaves no water, by heat
	"filtered",   // a settling on a bench that filters
	"melted",     // metal is molten, on a bench that melts
	"torch",      // melted under a flame
	"closed",     // the route closes the vessel
	"treatment",  // a step that readies what is left for the carrier
	"lot",        // the lot as it arrives, before the first step
	"hold",       // what is left, kept in a jar
	"sell",       // what is left, sold as it stands
	"dispose",    // what is left, handed to a carrier
}

const (
	atAnyStep situation = 1 << iota
	atHeated
	atBoiledDry
	atFiltered
	atMelted
	atTorch
	atClosed
	atTreatment
	atLot
	atHold
	atSell
	atDispose
)

// situationNames lists every word that `at` takes: the words above, then the
// step kinds.
var situationNames = sync.OnceValue(func() []string {
	return append(slices.Clone(situationWords), kindNames()...)
})

func situationOf(word string) (situation, error) {
	i := slices.Index(situationNames(), word)
	if i < 0 {
		return 0, fmt.Errorf("no place is called %s", nearest(word, situationNames()))
	}
	return 1 << i, nil
}

// endingPlaces gives the place that an ending is.
var endingPlaces = map[string]situation{"dispose": atDispose, "sell-as-is": atSell, "hold": atHold}

// fixed returns the places of a step that hold on every bench.
func (s *StepFile) fixed(f *File) situation {
	at, _ := situationOf(s.Kind)
	at |= atAnyStep
	_, warmed := s.Figures["temperature"]
	_, part := s.Figures["to"]
	switch {
	case s.Kind == "boil-down" && !part, s.Kind == "calcine", s.Kind == "dry" && s.Words["by"] != "air":
		at |= atHeated | atBoiledDry
	case s.Kind == "boil-down", s.Kind == "crystallise", warmed:
		at |= atHeated
	}
	if s.Closed {
		at |= atClosed
	}
	if f.Treatment {
		at |= atTreatment
	}
	return at
}

// perhaps returns the places of a step that the bench decides.
func (s *StepFile) perhaps() situation {
	switch s.Kind {
	case "settle":
		return atFiltered
	case "melt", "fuse":
		return atMelted | atTorch | atHeated
	}
	return 0
}

// on returns the places among those of perhaps that hold on this bench.
func (b Bench) on(kind string) situation {
	switch {
	case kind == "settle" && b.Separation == "filter":
		return atFiltered
	case kind != "melt" && kind != "fuse":
	case b.Melting == "torch":
		return atMelted | atTorch | atHeated
	case b.Melting == "furnace":
		return atMelted | atHeated
	}
	return 0
}

// Temperatures that a kind of step reaches whatever its file says, in kelvin.
var (
	boiling = units.Celsius(100)
	molten  = units.Celsius(961.78) // silver melts: CRC Handbook of Chemistry and Physics
)

// hottest returns the highest temperature of the step, in kelvin.
func (r *run) hottest() float64 {
	t := r.in().stream.Temperature
	for _, name := range []string{"temperature", "hot"} {
		if r.has(name) {
			t = max(t, units.Temperature(r.job.Values.At(r.step.Figures[name].Ref)))
		}
	}
	switch at := r.step.at | r.job.Bench.on(r.step.Kind); {
	case at&atMelted != 0:
		t = max(t, molten)
	case at&atBoiledDry != 0, r.step.Kind == "boil-down":
		t = max(t, boiling)
	}
	return float64(t)
}
