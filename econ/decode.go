package econ

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// DecodeBook reads a price book strictly and registers each of its prices in
// figs, as "price/" and a short path: "price/spot.Ag", "price/sale.silver-bar.fee".
// A price without a doubt gets the one that its kind has by assumption, and
// says so. The error is of type input.Problems and holds everything that is
// wrong with the file.
func DecodeBook(doc *input.Document, figs *input.Figures) (*Book, error) {
	d := bookDecoder{figs: figs, book: &Book{
		StaleAfter: defaultStaleDays,
		spots:      map[string]Price{}, sales: map[string]Sale{}, reagents: map[string]Reagent{},
		consumables: map[string]Consumable{}, disposals: map[string]Carrier{}, figures: figs,
	}}
	root := doc.Root()
	d.settings(root)
	d.each(root, "spot", d.spot)
	d.each(root, "sale", d.sale)
	d.each(root, "reagent", d.reagent)
	d.each(root, "consumable", d.consumable)
	d.single(root, "energy", d.energy)
	d.single(root, "labour", d.labour)
	d.each(root, "disposal", d.disposal)
	d.single(root, "storage", d.storage)
	d.benchTable(root)
	root.Close()
	if err := doc.Err(); err != nil {
		return nil, err
	}
	d.book.sortByFile(doc)
	return d.book, nil
}

// A book without these settings is read as if it held them.
const (
	defaultStaleDays  = 30
	defaultKeepMonths = 12
)

// largestPrice bounds a price in its base unit, so that no plan of a bench's
// size can run out of the range of numbers.
const largestPrice = 1e12

// bookDecoder carries what the tables of one book share.
type bookDecoder struct {
	figs *input.Figures
	book *Book
}

// each runs read on every table within the table of that key.
func (d *bookDecoder) each(root *input.Table, key string, read func(t *input.Table, name string)) {
	d.single(root, key, func(group *input.Table) {
		for _, name := range group.Keys() {
			if t, ok := group.Table(name); ok {
				read(t, name)
				t.Close()
			}
		}
	})
}

// single runs read on the table of that key, if there is one.
func (d *bookDecoder) single(root *input.Table, key string, read func(t *input.Table)) {
	if !root.Has(key) {
		return
	}
	if t, ok := root.Table(key); ok {
		read(t)
		t.Close()
	}
}

// settings reads the keys at the top of the file.
func (d *bookDecoder) settings(root *input.Table) {
	if !root.Require("currency", `currency = "USD"`) {
		return
	}
	if text, ok := root.String("currency"); ok {
		d.book.Currency = text
		if text == "" || text != input.Clean(text, 12) {
			root.Problem("currency", "the currency is a short word", `currency = "USD"`)
		}
	}
	if root.Has("stale_after") {
		if fig, ok := root.Figure("stale_after", units.HoursKind); ok {
			days := units.Hours(fig.Dist.Mean).Days()
			if !(days >= 0 && days <= 100*366) {
				root.Problem("stale_after", "prices grow stale after 0 days or more, and within a century", `stale_after = "30 days"`)
			} else {
				d.book.StaleAfter = int(math.Floor(days + 1e-9))
			}
		}
	}
	d.book.WholePacks = d.choice(root, "packs", "pro rata", "whole") == "whole"
}

// choice reads a word that must be one of those offered; absent is the first.
func (d *bookDecoder) choice(t *input.Table, key string, offered ...string) string {
	if !t.Has(key) {
		return offered[0]
	}
	word, ok := t.String(key)
	if !ok {
		return offered[0]
	}
	for _, o := range offered {
		if word == o {
			return word
		}
	}
	near := input.Nearest(word, offered)
	if near == "" {
		near = offered[0]
	}
	t.Problem(key, fmt.Sprintf("“%s” is none of %s", input.Clean(word, 40), quotedList(offered)), fmt.Sprintf("%s = %q", key, near))
	return offered[0]
}

// element reads a key that names an element by symbol or English name.
func (d *bookDecoder) element(t *input.Table, key, name string) string {
	e, err := substance.ElementBySymbol(name)
	if err != nil {
		t.Problem(key, err.Error(), `an element by its symbol, such as "Ag"`)
		return ""
	}
	return e.Symbol
}

func (d *bookDecoder) spot(t *input.Table, name string) {
	symbol := d.element(t, "", name)
	if symbol != "" && symbol != name {
		t.Problem("", fmt.Sprintf("spot prices go by element symbol, and %s is %s", input.Clean(name, 40), symbol), "[spot."+symbol+"]")
		symbol = ""
	}
	p, ok := d.price(t, priceKey{key: "price", id: "spot." + name, group: "spot", name: symbol, doubt: spotDoubt, date: date(t)}, units.PerMassKind)
	if ok && symbol != "" {
		d.book.spots[symbol] = p
		d.ounceHint(p)
	}
}

// troy are the metals that markets quote by the troy ounce.
var troy = []string{"Ag", "Au", "Pt", "Pd", "Rh", "Ir", "Ru"}

// ounceHint notes a precious metal priced by the common ounce, which is a tenth
// lighter than the troy ounce.
func (d *bookDecoder) ounceHint(p Price) {
	if p.Per == "oz" && contains(troy, p.Name) {
		d.book.notes = append(d.book.notes, fmt.Sprintf("%s is priced by the common ounce of 28.35 g; a market quotes the troy ounce of 31.10 g: if that is meant, write / ozt", p.Path))
	}
}

func (d *bookDecoder) consumable(t *input.Table, name string) {
	c := Consumable{ID: name, Pieces: 1}
	if t.Has("pack") {
		if fig, ok := t.Figure("pack", units.CountKind, units.Number); ok {
			c.Pieces = fig.Dist.Mean
			if !(c.Pieces > 0) {
				t.Problem("pack", "a pack holds more than nothing", `pack = "100"`)
			}
		}
	}
	p, ok := d.price(t, priceKey{key: "price", id: "consumable." + name, group: "consumable", name: words(name), doubt: goodsDoubt, date: date(t), pack: packOf(c.Pieces)}, units.Number)
	if c.Price = p; ok {
		d.book.consumables[name] = c
	}
}

// packOf says how many pieces one pays for together.
func packOf(pieces float64) string {
	if pieces == 1 {
		return "piece"
	}
	return "pack of " + strconv.FormatFloat(pieces, 'g', -1, 64)
}

func (d *bookDecoder) energy(t *input.Table) {
	day := date(t)
	if t.Has("electricity") {
		if p, ok := d.price(t, priceKey{key: "electricity", id: "electricity", group: "energy", name: "electricity", doubt: feeDoubt, date: day}, units.PerEnergyKind); ok {
			d.book.electricity = &p
		}
	}
	if t.Has("gas") {
		if p, ok := d.price(t, priceKey{key: "gas", id: "gas", group: "energy", name: "gas", doubt: feeDoubt, date: day}, units.PerEnergyKind); ok {
			d.book.gas = &p
		}
	}
}

func (d *bookDecoder) labour(t *input.Table) {
	p, ok := d.price(t, priceKey{key: "rate", id: "labour", group: "labour", name: "own labour", doubt: noDoubt, date: date(t)}, units.PerHourKind)
	if ok {
		d.book.labour = &p
	}
}

func (d *bookDecoder) disposal(t *input.Table, name string) {
	day := date(t)
	c := Carrier{Class: name}
	p, ok := d.price(t, priceKey{key: "price", id: "disposal." + name, group: "disposal", name: words(name), doubt: disposalDoubt, date: day}, units.PerVolumeKind, units.PerMassKind)
	c.Price = p
	c.Minimum = d.optional(t, priceKey{key: "minimum", id: "disposal." + name + ".minimum", group: "disposal", name: words(name) + ", minimum", doubt: disposalDoubt, date: day}, units.Number)
	if ok {
		d.book.disposals[name] = c
	}
}

func (d *bookDecoder) storage(t *input.Table) {
	k := Keeping{Months: defaultKeepMonths}
	if t.Has("keep") {
		if fig, ok := t.Figure("keep", units.HoursKind); ok {
			k.Months = float64(units.Hours(fig.Dist.Mean) / units.Month)
			if !(k.Months > 0 && k.Months <= 1200) {
				t.Problem("keep", "a held jar stands for some time, at most a century", `keep = "12 months"`)
			}
		}
	}
	p, ok := d.price(t, priceKey{key: "price", id: "storage", group: "storage", name: "a jar on the shelf", doubt: storageDoubt, date: date(t)}, units.PerHourKind)
	if k.Price = p; ok {
		d.book.storage = &k
	}
}

// date reads the table's date, if it has one.
func date(t *input.Table) time.Time {
	if !t.Has("date") {
		return time.Time{}
	}
	day, _ := t.Date("date")
	return day
}
