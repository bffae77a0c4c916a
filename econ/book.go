package econ

import (
	"sync"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// Book is a price book decoded: which figures it names, on which terms and of
// which day. The values of the figures live in the register it was decoded
// into, so that a plan can be priced at any values of them.
type Book struct {
	Currency   string
	StaleAfter int  // days after its date during which a price is not stale
	WholePacks bool // reagents are bought in whole packs, not pro rata

	spots       map[string]Price // by element symbol
	sales       map[string]Sale
	reagents    map[string]Reagent
	consumables map[string]Consumable
	disposals   map[string]Carrier
	electricity *Price
	gas         *Price
	labour      *Price
	storage     *Keeping
	bench       route.Bench
	prices      []Price // all of them, in file order
	notes       []string
	figures     *input.Figures

	once    sync.Once
	listing listing
}

// Sale is how one buyer settles for one form of product.
type Sale struct {
	ID           string
	Metal        string // symbol
	Form         string
	Compound     string  // canonical formula of the only salt it takes; "" for any
	Payable      *Price  // share of contained metal, at spot; nil when paid by mass
	Price        *Price  // money a kilogram (of a liquor also: a litre); nil when paid by contained metal
	FinenessFrom float64 // least accepted, parts in a thousand
	FinenessTo   float64 // most accepted, parts in a thousand
	Penalties    []Penalty
	Limits       []route.Share       // refused above this share of the product, by element
	Moisture     *units.MassFraction // most moisture accepted, share of mass; nil when not stated
	Fee          *Price              // each lot
	Minimum      *Price              // least of fee and penalties together, each lot
	Freight      *Price              // each lot
	Date         time.Time
}

// Penalty is what a buyer deducts for an unwanted element.
type Penalty struct {
	Element string
	Price   Price              // money a kilogram of the element over what is allowed
	Allowed units.MassFraction // share of the product that costs nothing
}

// Reagent is one reagent as it is bought and as it stands on the shelf.
type Reagent struct {
	ID       string
	Formula  string
	Strength units.MassFraction
	Pack     Pack
	OnHand   Pack // Amount 0: none
	Price    Price
}

// Pack is an amount of a good by mass, by volume or by count.
type Pack struct {
	Kind   units.Kind // MassKind (kg), VolumeKind (L) or CountKind (pieces)
	Amount float64    // in the base unit of Kind
	Text   string     // as typed, "1 kg"
}

// Consumable is a thing used up by the piece: a filter paper, a melt of a
// crucible's life.
type Consumable struct {
	ID     string
	Pieces float64 // in a pack
	Price  Price
}

// Carrier is what it costs to have one class of waste taken away.
type Carrier struct {
	Class   string
	Price   Price  // money a litre or a kilogram
	Minimum *Price // least charge for the class in one plan; nil: none
}

// Keeping is what it costs to keep a jar on the shelf.
type Keeping struct {
	Price  Price
	Months float64 // how long a held lot stands before it goes
}

// Bench returns what the practitioner works with.
func (b *Book) Bench() route.Bench { return b.bench }
