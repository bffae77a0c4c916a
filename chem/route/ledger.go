package route

import (
	"afterpour/chem/input"
	"afterpour/chem/units"
)

// Bench is what the practitioner works with, as plain numbers. It is handed
// down by the price book's [bench] table; chem itself never reads that file.
type Bench struct {
	LargestVessel units.Volume    // largest vessel that takes acid and heat
	Heater        units.Power     // at the wall
	SupplyVolts   units.Potential // most the rectifier gives
	SupplyAmps    units.Current   // most the rectifier gives
	CathodeArea   units.Area      // wetted, one side counted once
	Extraction    units.Flow      // fume extraction that really leaves the building, m3/h; 0 = none
	RoomM3        float64         // volume of the room, m3
	AirChanges    float64         // fresh air in the room, 1/h
	Melting       string          // "none", "torch" or "furnace"
	Balance       units.Mass      // resolution of the balance
	Separation    string          // "decant" or "filter"
}

// ShelfReagent is one reagent as it stands on the user's shelf.
type ShelfReagent struct {
	Strength units.MassFraction // mass share of the named compound in what is weighed or poured
}

// Shelf gives the strengths on hand by reagent id. A reagent that is missing
// from it has the usual strength of the catalogue in chem/data.
type Shelf map[string]ShelfReagent

// EntryKind says what a ledger entry counts.
type EntryKind uint8

// The kinds of ledger entry, with the unit that Entry.Amount is in.
const (
	Reagent     EntryKind = iota // g of the reagent as weighed or poured
	Electricity                  // kWh at the wall
	Fuel                         // kWh of gas burnt
	HandsOn                      // h of the practitioner's time
	Elapsed                      // h from beginning to end of the step
	Gas                          // g that leaves the vessel into the air
	Captured                     // g of gas held by a scrubber
	FreshAir                     // m3 that would dilute the gas to its limit
	Vessel                       // L that the vessel must hold at the fullest
	Loss                         // g of metal left behind, by cause
	Consumable                   // pieces used up: filter papers, crucible lives
	Charge                       // A h passed through the cell
)

var entryKinds = [...]struct{ name, unit string }{
	Reagent: {"reagent", "g"}, Electricity: {"electricity", "kWh"}, Fuel: {"gas burnt", "kWh"},
	HandsOn: {"hands-on", "h"}, Elapsed: {"elapsed", "h"}, Gas: {"gas", "g"}, Captured: {"gas captured", "g"},
	FreshAir: {"fresh air", "m3"}, Vessel: {"vessel", "L"}, Loss: {"loss", "g"}, Consumable: {"consumable", "piece"}, Charge: {"charge", "Ah"},
}

// String returns the kind as a reader would call it.
func (k EntryKind) String() string { return entryKinds[k].name }

// Unit returns the unit of Entry.Amount for this kind.
func (k EntryKind) Unit() string { return entryKinds[k].unit }

// Why keeps what a figure rests on, so that the program can always answer
// where it came from. It is filled in a traced run only.
type Why struct {
	Formula string    // the relation used, with its symbols said
	Inputs  input.Set // the named inputs that went into it
	Sources []string  // where formula and constants were published, or "common practice"
	Reason  string    // a sentence for the reader, if there is one to say
}

// Entry is one line of a step's ledger. Amount is in Kind.Unit().
type Entry struct {
	Kind   EntryKind
	Item   string       // reagent id, gas, metal or consumable; "" where the kind says all
	Amount float64      // in Kind.Unit()
	Volume units.Volume // of a liquid reagent as poured; 0 for solids
	Detail string       // what it is for, or what caused it
	Why    Why
}

// Caution is a warning at the step where it bites.
type Caution struct {
	ID           string // of the rule, which is that of its hazard in chem/data
	Severity     string // SeverityCaution, SeverityStop or SeverityRefuse
	Text         string
	Source       string
	Acknowledged bool   // a stop that the lot acknowledges: the plan goes on
	Brief        string // Text without what was measured, for a sheet
}

// StepRecord is what one bench step did to the vessel and what it took.
type StepRecord struct {
	Route, Step, Kind, Title string
	Skipped                  bool // nothing in the vessel for this step to do
	Entries                  []Entry
	Cautions                 []Caution
	Stop                     string // test that tells when the step is done
	Notes                    []string
	Reactions                []string // balanced, as run

	// The record for a bench sheet, kept only where Job.Record asks for it.
	In       string    // stream that the step works on
	Out      []string  // streams that it gives
	How      string    // the route file's `by`: "air", "lift", …; of a cell its anode
	Reagent  string    // id of the step's reagent
	Said     []string  // the route file's note, and rules that are only said
	Settings []Setting // at which it was run
	Before   Portion   // what stood in In at the beginning
	After    []Portion // what stands in Out, and in In, at the end
	Sells    int       // place in Outcome.Products of what the step makes; -1 if nothing
}

// Sum adds the amounts of one kind, over all items.
func (s StepRecord) Sum(kind EntryKind) float64 {
	total := 0.0
	for i := range s.Entries {
		if s.Entries[i].Kind == kind {
			total += s.Entries[i].Amount
		}
	}
	return total
}

// Product is something a buyer may take.
type Product struct {
	Form        string // "bar", "cement", "cathode", "salt"
	Sale        string // id of the sale that the route is written for, "silver-bar"
	Route       string
	Metal       string     // symbol of the metal it is sold for
	Compound    string     // formula, for a salt; "" for metal
	Mass        units.Mass // as sold, dry
	MetalMass   units.Mass // of Metal in it
	Fineness    float64    // parts of Metal in a thousand by mass (of the salt's purity for a salt)
	Composition []Share    // element mass shares, largest first
	Why         Why
}

// Share is the mass share of one element.
type Share struct {
	Element string
	Share   units.MassFraction
}

// Waste is what is left for a licensed carrier, by class.
type Waste struct {
	Class  string // id of the price book's [disposal.…] table
	From   string // stream it came from
	Volume units.Volume
	Mass   units.Mass
	PH     float64 // estimate; NaN never: 7 where it has no meaning
	Metals []Share // heavy metals by mass share of the whole
	Why    Why
}

// Block says why a plan cannot be carried out.
type Block struct {
	Route, Step string
	Reason      string
	Unreachable map[string]float64 // by metal: share of what the lot contains that the plan cannot reach
	Rule        string             // id of the rule that blocks; "" where chemistry, bench or air does
	Severity    string             // of that rule: a SeverityStop can be acknowledged in the lot, a SeverityRefuse not
}

// Reach is how much of a metal a route could get at when it began.
type Reach struct {
	Route, Metal string
	Share        float64 // of the metal then in the vessel
	Reason       string  // why the rest is out of reach
}

// Plan is what is done with a whole lot: routes in order, then an ending.
type Plan struct {
	ID     string
	Routes []string
	Ending string // "dispose", "sell-as-is" or "hold"
}

// Endings are the ways to end a plan, in the order they are listed.
var Endings = []string{"dispose", "sell-as-is", "hold"}

// Outcome is a plan carried out on paper: every step's ledger, what came out,
// what is left.
type Outcome struct {
	Plan     Plan
	Steps    []StepRecord
	Products []Product
	Waste    []Waste // all that is left, whatever the ending does with it
	Reach    []Reach
	Blocked  *Block
	Balance  Balance
	// Closing are the cautions about what is left, at the plan's ending.
	Closing []Caution
	// UserRoutes are the ids of those of the plan's routes that are the user's own.
	UserRoutes []string

	// The record for a bench sheet, kept only where Job.Record asks for it.
	HandedOn   []Portion // what each route passes on as the next one's vessel
	KeptBeside []Portion // what each route leaves beside it
	Pooled     []Portion // what of that a treatment pours together, by Route and Stream alone
}

// Balance compares what entered a plan with what left it, by element.
type Balance struct {
	Elements            []ElementBalance
	ChargeIn, ChargeOut float64 // mol of elementary charge
}

// ElementBalance is one element's account over a plan, in mol.
type ElementBalance struct {
	Element string
	In, Out float64
}

// Sum adds the amounts of one kind over all steps.
func (o *Outcome) Sum(kind EntryKind) float64 {
	total := 0.0
	for i := range o.Steps {
		total += o.Steps[i].Sum(kind)
	}
	return total
}

// Cautions lists the cautions of all steps and of the ending once each, in the
// order they bite; of one that bites several times, the first of each severity.
func (o *Outcome) Cautions() []Caution {
	var list []Caution
	seen := map[string]bool{}
	add := func(cautions []Caution) {
		for _, c := range cautions {
			if key := c.ID + "\n" + c.Severity; !seen[key] {
				seen[key] = true
				list = append(list, c)
			}
		}
	}
	for i := range o.Steps {
		add(o.Steps[i].Cautions)
	}
	add(o.Closing)
	return list
}
