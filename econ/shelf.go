package econ

import (
	"strconv"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// leastStrength is the mass share below which a solution is water: a part in a
// million.
const leastStrength = 1e-6

// reagent reads [reagent.id].
func (d *bookDecoder) reagent(t *input.Table, name string) {
	r := Reagent{ID: name}
	if t.Has("formula") {
		r.Formula = d.formula(t, "formula")
	}
	if t.Has("strength") {
		r.Strength = d.share(t, "strength")
		if !(r.Strength >= leastStrength) {
			t.Problem("strength", "a reagent of no strength is none", `strength = "98 %"`)
		}
	}
	packed := t.Require("pack", `pack = "1 kg"`) && d.pack(t, "pack", &r.Pack)
	if packed && !(r.Pack.Amount > 0) {
		t.Problem("pack", "a pack holds more than nothing", `pack = "1 kg"`)
	}
	if d.pack(t, "on_hand", &r.OnHand) && packed && r.OnHand.Amount > 0 && r.OnHand.Kind != r.Pack.Kind {
		t.Problem("on_hand", "what is on hand is not counted as the pack is", "write both by mass or both by volume; pack = "+strconv.Quote(r.Pack.Text))
	}
	p, ok := d.price(t, priceKey{key: "price", id: "reagent." + name, group: "reagent", name: words(name), doubt: goodsDoubt, date: date(t), pack: "pack of " + r.Pack.Text}, units.Number)
	if r.Price = p; ok && packed {
		d.book.reagents[name] = r
	}
}

// pack reads an amount by mass or volume, if the table has it.
func (d *bookDecoder) pack(t *input.Table, key string, into *Pack) bool {
	fig, ok := t.Figure(key, units.MassKind, units.VolumeKind)
	if !ok {
		return false
	}
	if !(fig.Dist.Mean >= 0) {
		t.Problem(key, "an amount cannot be negative", key+` = "1 kg"`)
		return false
	}
	*into = Pack{Kind: fig.Kind, Amount: fig.Dist.Mean, Text: fig.Text}
	return true
}

// Shelf returns the strengths of the book's reagents, as plain values that the
// routes are simulated with. A reagent without a strength is left to the
// catalogue.
func (b *Book) Shelf() route.Shelf {
	shelf := route.Shelf{}
	for id, r := range b.reagents {
		if r.Strength > 0 {
			shelf[id] = route.ShelfReagent{Strength: r.Strength}
		}
	}
	return shelf
}
