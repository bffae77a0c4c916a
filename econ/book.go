package econ

import (
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
	figures     *input.Figures
}

// Price is one price or share of the book: where it stands and what it counts.
type Price struct {
	ID    string     // of its figure, "price/spot.Ag" or "price/sale.silver-bar.fee"
	Path  string     // of its value in the file, "spot.Ag.price"
	Group string     // table it belongs to: spot, sale, reagent, …
	Name  string     // what it is the price of, in words
	Kind  units.Kind // what is counted
	Ref   input.Ref  // its figure in the register
	Per   string     // unit it is typed for, "ozt"; "" for a plain amount or a share
	Size  float64    // that unit in base units: kg of an ozt
	Date  time.Time  // of the price; zero when none is given
}

// Sale is how one buyer settles for one form of product.
type Sale struct {
	ID           string
	Metal        string // symbol
	Form         string
	Payable      *Price  // share of contained metal, at spot; nil when paid by mass
	ByMass       *Price  // money a kilogram of product; nil when paid by contained metal
	FinenessFrom float64 // least accepted, parts in a thousand
	FinenessTo   float64 // most accepted, parts in a thousand
	Penalties    []Penalty
	Limits       []route.Share // refused above this share of the product, by element
	Moisture     *float64      // most moisture accepted, share of mass; nil when not stated
	Fee          *Price        // each lot
	Minimum      *Price        // least of fee and penalties together, each lot
	Freight      *Price        // each lot
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

// Row is one price as a list shows it.
type Row struct {
	Price
	Text     string // as typed, with its doubt
	Value    float64
	Position input.Position
	AgeDays  int  // days between its date and the day asked about; 0 when undated
	Stale    bool // older than the book's stale_after
}

// Change is what setting a price did to the file.
type Change struct {
	Path             string // "spot.Ag.price"
	Old, New         string // as typed; Old is "" for a price that is new to the file
	OldDate, NewDate string // "2026-11-20"; both "" where the table holds no date
	Appended         bool   // a new table at the end of the file
}
