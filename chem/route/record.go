package route

import (
	"cmp"
	"slices"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// A record is kept only where Job.Record asks for it: it is what somebody who
// stands at the bench has to be told, and the odds do without it.

// Setting is a value at which a step is run: a figure of the route file, by its
// key, or one that the step has worked out, by one of the names below.
type Setting struct {
	Name  string
	Kind  units.Kind
	Value float64 // in the base unit of Kind
}

// The settings that steps work out themselves.
const (
	SetHeating   = "heating hours"    // h, at the heater's full power
	SetWashes    = "washes"           // count
	SetWashFill  = "water of a wash"  // L
	SetWashHeel  = "heel of a wash"   // L, what is left under the solid
	SetWashFirst = "water to wet"     // L, before the first wash
	SetPresented = "metal presented"  // kg, of the reagent as weighed
	SetEaten     = "metal eaten"      // kg, of the reagent as weighed
	SetCurrent   = "current"          // A
	SetVoltage   = "voltage"          // V, mean over the run
	SetRunHours  = "run"              // h
	SetYield     = "current yield"    // share of the charge that plates the metal
	SetBoilTo    = "boil down to"     // L, at which it is saturated
	SetFiltered  = "filtered"         // 1 where the bench filters, else the setting is missing
	SetHeatRise  = "heat of the dose" // K, if acid and base met at once
	SetBatches   = "batches"          // count, where more than one
	SetGasHours  = "gas hours"        // h over which gas comes off
	SetBed       = "second settling"  // L, liquor left after the second pouring off
)

// Portion is what stands in one stream.
type Portion struct {
	Route, Stream string
	Liquid        units.Volume // liquor, at the stream's temperature
	Dry           units.Mass   // undissolved solids without the liquor in them
	Wet           units.Mass   // solids and liquor together
	Temperature   units.Temperature
	PH            float64  // of free strong acid or base; 7 where it has no meaning
	Class         string   // the waste class that it would be
	Solids        []Amount // undissolved species, the most first
	Metals        []Amount // metals in the undissolved solids, by symbol, the most first
	Dissolved     []Amount // dissolved metals, by symbol, the most first
	Chloride      float64  // mol/L
	Nitrate       float64  // mol/L
}

// Amount is a mass by the name of what it is of.
type Amount struct {
	Name string
	Mass units.Mass
}

// MassOf returns the mass of that name in a list; 0 if it is not there.
func MassOf(list []Amount, name string) units.Mass {
	for _, a := range list {
		if a.Name == name {
			return a.Mass
		}
	}
	return 0
}

// Setting returns a setting of the step, and whether it has one.
func (s *StepRecord) Setting(name string) (float64, bool) {
	for _, set := range s.Settings {
		if set.Name == name {
			return set.Value, true
		}
	}
	return 0, false
}

// set notes a setting. Of one that is used again the last value counts.
func (r *run) set(name string, kind units.Kind, value float64) {
	if !r.job.Record || r.rec == nil {
		return
	}
	for i := range r.rec.Settings {
		if r.rec.Settings[i].Name == name {
			r.rec.Settings[i].Value = value
			return
		}
	}
	r.rec.Settings = append(r.rec.Settings, Setting{name, kind, value})
}

// say keeps a remark that the bench sheet gives word for word.
func (r *run) say(text string) {
	if r.job.Record {
		r.rec.Said = append(r.rec.Said, text)
	}
}

// recordBefore notes what stands in the step's vessel at its beginning.
func (r *run) recordBefore() {
	if r.job.Record {
		r.rec.In, r.rec.Out, r.rec.How = r.step.In, r.step.Out, r.step.Words["by"]
		r.rec.Reagent = r.step.Reagent
		r.rec.Sells = -1
		r.products = len(r.out.Products)
		r.rec.Before = r.portion(r.step.In, r.in().stream)
	}
}

// recordAfter notes what the step has left, stream by stream.
func (r *run) recordAfter() {
	if !r.job.Record {
		return
	}
	if r.heatH > 0 {
		r.set(SetHeating, units.HoursKind, r.heatH)
	}
	if r.batches > 1 {
		r.set(SetBatches, units.CountKind, r.batches)
	}
	if len(r.out.Products) > r.products {
		r.rec.Sells = r.products
	}
	names := slices.Clone(r.step.Out)
	if !slices.Contains(names, r.step.In) {
		names = append(names, r.step.In)
	}
	for _, name := range names {
		for i := range r.slots {
			if r.slots[i].name == name && r.slots[i].stream.Mass() > 0 {
				r.rec.After = append(r.rec.After, r.portion(name, r.slots[i].stream))
			}
		}
	}
}

// AfterOf returns what the step left in the stream of that name; the zero
// Portion if nothing.
func (s *StepRecord) AfterOf(stream string) Portion {
	for _, p := range s.After {
		if p.Stream == stream {
			return p
		}
	}
	return Portion{Stream: stream}
}

func (r *run) portion(name string, s substance.Stream) Portion {
	p := portionOf(name, s)
	if r.file != nil {
		p.Route = r.file.ID
	}
	return p
}

// portionOf describes a stream.
func portionOf(name string, s substance.Stream) Portion {
	p := Portion{
		Stream: name, Liquid: s.LiquidVolume(), Wet: s.Mass(), Dry: s.SolidMass(),
		Temperature: s.Temperature, PH: strongPH(s), Class: classOf(s, name),
	}
	if litres := float64(p.Liquid); litres > 0 {
		p.Chloride, p.Nitrate = s.Mol[idCl]/litres, s.Mol[idNitrate]/litres
	}
	for i, n := range s.Mol {
		if sp := substance.AllSpecies()[i]; n > 0 && substance.Undissolved(sp) {
			p.Solids = append(p.Solids, Amount{sp.Name, units.Mass(n*float64(sp.MolarMass)) * units.Gram})
		}
	}
	p.Metals = metalsIn(s, substance.Undissolved)
	p.Dissolved = metalsIn(s, substance.Dissolved)
	mostFirst(p.Solids)
	return p
}

// metalsIn lists the heavy metals in a part of a stream by their mass.
func metalsIn(s substance.Stream, part func(substance.Species) bool) []Amount {
	var list []Amount
	for _, symbol := range heavy {
		if n := s.ElementIn(symbol, part); n > 0 {
			if e, err := substance.ElementBySymbol(symbol); err == nil {
				list = append(list, Amount{symbol, units.Mass(n*float64(e.Weight)) * units.Gram})
			}
		}
	}
	mostFirst(list)
	return list
}

func mostFirst(list []Amount) {
	slices.SortStableFunc(list, func(a, b Amount) int { return cmp.Compare(b.Mass, a.Mass) })
}

// recordHandOn notes what a route keeps beside and what it passes on.
func (r *run) recordHandOn(rest []string) {
	if !r.job.Record {
		return
	}
	for _, s := range r.slots {
		if s.stream.Mass() <= 0 {
			continue
		}
		p := r.portion(s.name, s.stream)
		if slices.Contains(rest, s.name) {
			r.out.HandedOn = append(r.out.HandedOn, p)
		} else {
			r.out.KeptBeside = append(r.out.KeptBeside, p)
		}
	}
}
