package econ

import (
	"time"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// Request is everything that an appraisal depends on. Figures must hold the
// library's, the lot's and the book's figures, entered in any order into the
// same register: the three refer to their inputs by place in it.
type Request struct {
	Lot     *lot.Lot
	Figures *input.Figures
	Library *route.Library
	Book    *Book
	Today   time.Time // the day by which prices are stale, in the reader's own zone
	Seed    uint64
	Draws   int // 0: no odds
	// Learning is what outturns have made of the figures, for telling: it must have
	// been applied to Figures already. Nil: nothing.
	Learning *Learning
}

// Appraisal is a lot judged: what is in it, what each plan would bring, what to do.
type Appraisal struct {
	Lot         string // title
	Currency    string
	PricesAsOf  time.Time // oldest date among the prices used; zero if none is dated
	Seed        uint64
	Draws       int  // most draws that a plan has; 0 until odds are worked out
	Settled     bool // the odds shown no longer change with more draws
	SetAside    int  // plans that were clearly worse and were not drawn to the end
	Metals      []MetalWorth
	Report      lot.Report
	Verdict     Verdict
	Baseline    string       // ending of the untouched lot with the best net; "" if none can be priced
	BaselineNet Money        // 0 when Baseline is ""
	Plans       []PricedPlan // by net, best first; blocked ones last
	Chains      int          // sequences of routes that were looked at
	Figures     *input.Figures
	Notes       []string
	Stale       []string // ids of prices that were used and are past the book's stale_after

	study *study
}

// MetalWorth is one metal of the lot: contained, never to be read as
// recoverable or payable.
type MetalWorth struct {
	Metal            string // symbol
	Contained, SD    units.Mass
	Dissolved, Solid units.Mass
	SpotValue        *Money // contained mass at spot; nil when the book has no spot price of the metal
	PriceID          string // "price/spot.Ag"; "" without a price
}

// The four things that can be done with a lot.
const (
	WorkUp      = "work up"
	SellAsIs    = "sell as it stands"
	HoldAndPool = "hold and pool"
	Dispose     = "dispose"
)

// Verdict is the advice, with its reason in one sentence.
type Verdict struct {
	Action    string   // WorkUp, SellAsIs, HoldAndPool or Dispose
	Plan      string   // id of the plan that the advice is about; "" if none can be priced
	Gain      Money    // of that plan over the baseline
	PPositive *float64 // odds that the gain is positive; nil until odds are worked out
	PoolLots  int      // like lots to pool, for HoldAndPool; else 0
	Why       string
}

// Category says on which side and under which heading a line counts.
type Category string

// The categories of a line. Revenue is received, all others are paid.
const (
	Revenue     Category = "revenue"
	Fees        Category = "fees"
	Reagents    Category = "reagents"
	Energy      Category = "energy"
	Labour      Category = "labour"
	Consumables Category = "consumables"
	Disposal    Category = "disposal"
	Storage     Category = "storage"
)

// Categories lists all categories in the order in which they are shown.
var Categories = []Category{Revenue, Fees, Reagents, Energy, Labour, Consumables, Disposal, Storage}

// Line is one receipt or cost: Amount = Quantity × Price, traceable to the
// ledger through Why and to the book through PriceID.
type Line struct {
	Category  Category
	Item      string // what is bought, sold or done, in words
	Quantity  float64
	Unit      string // of Quantity
	Price     float64
	PriceUnit string // "USD / ozt"
	Amount    Money  // never negative: a receipt or a cost, by Category
	PriceID   string // id of the figure in the book, "price/spot.Ag"
	Fixed     bool   // the same for any size of lot: a fee, a freight, the make-up to a minimum
	Why       route.Why
}

// PricedPlan is a plan with its ledger in money. The money of a blocked plan
// is zero and means nothing: ask Priced first.
type PricedPlan struct {
	ID      string
	Routes  []string
	Ending  string
	Blocked *route.Block
	// FoldedInto is the id of the plan that works the lot up by the same routes
	// and does better with what is left; "" for a plan that a list should show.
	FoldedInto string

	Net, Gain        Money
	NetWithoutLabour Money  // net with the practitioner's own hours at no cost
	PerHour          *Money // NetWithoutLabour for each hands-on hour; nil without such hours
	GainPerHour      *Money // the same less the baseline
	Revenue, Fees    Money
	ReagentCost      Money
	EnergyCost       Money
	LabourCost       Money
	ConsumableCost   Money
	DisposalCost     Money
	StorageCost      Money
	HandsOnH         float64 // h
	ElapsedH         float64 // h
	EnergyKWh        float64 // kWh, electricity at the wall and gas burnt
	FreshAirM3       float64 // m3
	LargestVolume    units.Volume
	Odds             *Odds // nil until odds are worked out
	Metals           []PlanMetal
	Products         []PlanProduct
	Reagents         []PlanReagent
	Gases            []PlanGas
	Waste            []PlanWaste
	Cautions         []string
	Notes            []string // how its price was found where the book leaves something open
	Lines            []Line
	Outcome          *route.Outcome

	used       []Price // that its money rests on
	chain, end int     // place of its draws
}

// Priced reports that the plan can be carried out and has a price.
func (p *PricedPlan) Priced() bool { return p.Blocked == nil }

// PlanMetal keeps the three masses of one metal in one plan apart.
type PlanMetal struct {
	Metal     string
	Contained units.Mass // in the lot
	Recovered units.Mass // in the plan's products
	Payable   units.Mass // that buyers settle for; 0 where a product is paid by its own mass
}

// PlanProduct is a product with the sale that takes it.
type PlanProduct struct {
	Form, Metal, Compound string
	Route                 string
	Sale                  string // id of the sale that takes it, "silver-bar"
	Mass                  units.Mass
	MetalMass             units.Mass // recovered metal in it
	PayableMass           units.Mass // payable metal, or product mass where paid by its own mass
	Fineness              float64    // parts in a thousand
	ByMetal               bool       // paid by contained metal, not by its own mass
	Receipts              Money      // before fees
}

// PlanReagent is one reagent over the whole plan.
type PlanReagent struct {
	Reagent string // id, "sodium-hydroxide"
	Name    string // "sodium hydroxide"
	Mass    units.Mass
	Volume  units.Volume // as poured; 0 for solids
	OnHand  float64      // share of the need that stands on the shelf already, 0 to 1
	Cost    Money
}

// PlanGas is one gas that leaves the vessel.
type PlanGas struct {
	Gas  string
	Mass units.Mass
}

// PlanWaste is one class of waste over the whole plan.
type PlanWaste struct {
	Class  string
	Volume units.Volume
	Mass   units.Mass
	Cost   Money
}
