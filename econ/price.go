package econ

import (
	"math"
	"regexp"
	"strings"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// Price is one price or share of the book: where it stands and what it counts.
type Price struct {
	ID    string     // of its figure, "price/spot.Ag" or "price/sale.silver-bar.fee"
	Path  string     // of its value in the file, "spot.Ag.price"
	Group string     // table it belongs to: spot, sale, reagent, …
	Name  string     // what it is the price of, in words
	Kind  units.Kind // what is counted
	Ref   input.Ref  // its figure in the register
	Per   string     // unit it is typed for, "ozt"; "" for a plain amount or a share
	Size  float64    // that unit in the base unit (kg, L, h, kWh): 0.0311… for an ozt; else 1
	Date  time.Time  // of the price; zero when none is given

	kinds   []units.Kind // that its text may have
	doubt   doubt        // that it gets where its text has none
	assumed bool         // it has that doubt
	pack    string       // what one gets for it, where that is not its unit: "pack of 1 kg"
}

// withItsDoubt is the source of a price that was typed with its doubt.
const withItsDoubt = "price book, with its doubt"

// At returns the price at v for its own unit Per: a price of "30.00 / ozt" is 30.
func (p Price) At(v input.Values) float64 { return v.At(p.Ref) * p.Size }

// Quantity turns an amount in the base unit (kg, L, h, kWh) into the price's
// own unit: 0.0311… kg is one ozt.
func (p Price) Quantity(base float64) float64 { return base / p.Size }

// doubt is the standard uncertainty that a price without one gets, by
// assumption: how far such prices move or are misjudged between the day they
// are looked up and the day they are paid.
type doubt struct {
	Relative float64 // share of the price
	Absolute float64 // in the base unit, for shares
	Why      string
}

// The doubts by kind of price. All are assumptions of this program; a typed
// doubt takes their place.
var (
	noDoubt       = doubt{Why: "your own decision, so without doubt"}
	spotDoubt     = doubt{Relative: 0.10, Why: "metal prices move about this much between deciding and settling"}
	payableDoubt  = doubt{Absolute: 0.01, Why: "settlements differ by about a percentage point from the terms"}
	goodsDoubt    = doubt{Relative: 0.10, Why: "retail prices differ about this much from seller to seller"}
	feeDoubt      = doubt{Relative: 0.05, Why: "listed charges are near what is charged"}
	disposalDoubt = doubt{Relative: 0.20, Why: "a carrier's quotation often changes once the waste is seen"}
	storageDoubt  = doubt{Relative: 0.10, Why: "a rough figure by nature"}
	termsDoubt    = doubt{Relative: 0.10, Why: "prices of goods sold by weight vary from buyer to buyer"}
)

// applied returns the distribution of a price whose text carried no doubt.
func (u doubt) applied(value float64) units.Dist {
	sd := u.Absolute + u.Relative*value
	switch {
	case !(sd > 0) || !(value > 0):
		return units.Exactly(value)
	case u.Absolute > 0:
		return units.NormalDist(value, sd).Bounded(0, 1)
	default:
		// Lognormal: a price cannot fall below zero.
		return units.LognormalDist(value, sd)
	}
}

// priceKey says which key of a table to read as a price, and as what.
type priceKey struct {
	key, id, group, name string
	doubt                doubt
	date                 time.Time
	pack                 string // "pack of 1 kg"; "" for any other price
}

// price reads one price, checks its range and registers it.
func (d *bookDecoder) price(t *input.Table, k priceKey, kinds ...units.Kind) (Price, bool) {
	if !t.Has(k.key) {
		t.Problem("", "“"+k.key+"” is missing: a price is never taken as zero", k.key+` = "`+exampleOf(kinds[0])+`"`)
		return Price{}, false
	}
	fig, ok := t.Figure(k.key, kinds...)
	if !ok || !d.inRange(t, k, fig) {
		return Price{}, false
	}
	fig.ID, fig.Origin = "price/"+k.id, input.PriceBook
	if fig.Dist.Shape == units.Exact {
		fig.Dist = k.doubt.applied(fig.Dist.Mean)
		fig.Source = "price book; doubt by assumption: " + k.doubt.Why
	} else {
		fig.Dist = fig.Dist.Bounded(0, upperBound(fig.Kind))
		fig.Source = withItsDoubt
	}
	p := Price{
		ID: fig.ID, Path: path(t, k.key), Group: k.group, Name: k.name, Kind: fig.Kind,
		Ref: d.figs.Add(fig), Date: k.date, kinds: kinds, doubt: k.doubt, pack: k.pack,
	}
	p.assumed = fig.Source != withItsDoubt && fig.Dist.Shape != units.Exact
	p.Per, p.Size = perUnit(fig.Kind, fig.Text)
	d.book.prices = append(d.book.prices, p)
	return p, true
}

// optional reads a price that may be left out.
func (d *bookDecoder) optional(t *input.Table, k priceKey, kinds ...units.Kind) *Price {
	if !t.Has(k.key) {
		return nil
	}
	p, ok := d.price(t, k, kinds...)
	if !ok {
		return nil
	}
	return &p
}

// inRange notes a price below zero or beyond reckoning, a share over 100 %.
func (d *bookDecoder) inRange(t *input.Table, k priceKey, fig input.Figure) bool {
	if message, hint := rangeFault(fig.Kind, fig.Dist); message != "" {
		t.Problem(k.key, message, k.key+` = "`+hint+`"`)
		return false
	}
	return true
}

// rangeFault says what is wrong with a price's size, and shows a right one.
func rangeFault(kind units.Kind, dist units.Dist) (message, example string) {
	v := dist.Mean
	switch {
	case !(v >= 0) || dist.Shape == units.Uniform && dist.Low < 0:
		return "a price or a share cannot be negative", exampleOf(kind)
	case kind == units.Fraction && (v > 1 || dist.Shape == units.Uniform && dist.High > 1):
		return "a share cannot be more than 100 %", exampleOf(kind)
	case v > largestPrice || dist.SD > largestPrice:
		return "this price is beyond reckoning", exampleOf(kind)
	}
	return "", ""
}

func upperBound(kind units.Kind) float64 {
	if kind == units.Fraction {
		return 1
	}
	return math.Inf(1)
}

// exampleOf shows how a price of this kind is written.
func exampleOf(kind units.Kind) string {
	switch kind {
	case units.PerMassKind:
		return "30.00 / ozt"
	case units.PerVolumeKind:
		return "4.00 / L"
	case units.PerEnergyKind:
		return "0.20 / kWh"
	case units.PerHourKind:
		return "20.00 / h"
	case units.Fraction:
		return "94 %"
	case units.Number:
		return "25.00"
	default:
		return kind.Example()
	}
}

// perText finds the unit after the slash of a price: the "ozt" of "30.00 / ozt".
// A slash that is not followed by a letter belongs to a "+/-".
var perText = regexp.MustCompile(`/[\s\p{Zs}]*(\p{L}[\p{L}0-9]*)`)

// counted gives, for a price by a unit, what that unit measures, its base unit
// and its size in the plain values of package units.
var counted = map[units.Kind]struct {
	kind units.Kind
	base string
	size float64
}{
	units.PerMassKind:   {units.MassKind, "kg", float64(units.Kilogram)},
	units.PerVolumeKind: {units.VolumeKind, "L", float64(units.Litre)},
	units.PerHourKind:   {units.HoursKind, "h", float64(units.Hour)},
	units.PerEnergyKind: {units.EnergyKind, "kWh", float64(units.KilowattHour)},
}

// perUnit returns the unit that a price is typed for and its size in base units
// (kg, L, h, kWh); without a readable one, the base unit itself.
func perUnit(kind units.Kind, text string) (string, float64) {
	c, ok := counted[kind]
	if !ok {
		return "", 1
	}
	if m := perText.FindStringSubmatch(text); m != nil {
		if _, dist, err := units.Parse("1 "+m[1], c.kind); err == nil && dist.Mean > 0 {
			return m[1], dist.Mean / c.size
		}
	}
	return c.base, 1
}

// path returns the path of a key of a table.
func path(t *input.Table, key string) string {
	if t.Path() == "" {
		return key
	}
	return t.Path() + "." + key
}

// words turns an id into words fit to be shown: "acid-metal-liquor" to "acid
// metal liquor".
func words(id string) string { return input.Clean(strings.ReplaceAll(id, "-", " "), 60) }

// quotedList joins words for a message: “bar”, “cement” or “salt”.
func quotedList(list []string) string {
	var b strings.Builder
	for i, w := range list {
		switch {
		case i == 0:
		case i == len(list)-1:
			b.WriteString(" or ")
		default:
			b.WriteString(", ")
		}
		b.WriteString("“" + w + "”")
	}
	return b.String()
}
