package econ

import (
	"fmt"
	"math"

	"afterpour/chem/route"
	"afterpour/chem/units"
)

// supplies is the shopping list: what the steps dose, less what stands on the
// shelf, in the packs of the price book.
func (k *sheetMaker) supplies() {
	for _, n := range k.needs {
		s := SheetSupply{ID: n.id, Name: reagentName(n.id)}
		if share := k.strength(n.id); share > 0 && n.id != "water" {
			s.Strength = fmt.Sprintf("%s %%", trimZeros(fmt.Sprintf("%.1f", 100*share)))
		}
		s.Need = k.m.massText(k.m.show(n.mass))
		if n.volume > 0 {
			s.Need = volumeText(n.volume)
		}
		if n.id == "water" {
			s.Need, s.Buy = roughly(n.volume), roughly(n.volume)+", unless you make it yourself"
			s.Note = "distilled or deionised"
		} else {
			k.packs(&s, n)
		}
		k.sheet.Shopping = append(k.sheet.Shopping, s)
	}
	for _, c := range needs(k.out, route.Consumable) {
		k.sheet.Shopping = append(k.sheet.Shopping, k.pieces(c))
	}
}

// packs says what is on the shelf and how many packs are lacking.
func (k *sheetMaker) packs(s *SheetSupply, n supply) {
	r, ok := k.req.Book.reagents[n.id]
	if !ok {
		s.Buy, s.Note = "your price book does not list it", "enter it under [reagent."+n.id+"]"
		return
	}
	amount := n.mass.Kilograms()
	if r.Pack.Kind == units.VolumeKind {
		amount = n.volume.Litres()
	}
	if r.OnHand.Amount > 0 {
		s.Have = r.OnHand.Text
	}
	count := math.Ceil((amount - r.OnHand.Amount) / r.Pack.Amount * (1 - wholePackSlack))
	switch {
	case count <= 0:
		s.Buy = "nothing"
	case count == 1:
		s.Buy = "1 pack of " + r.Pack.Text
	default:
		s.Buy = fmt.Sprintf("%.0f packs of %s", count, r.Pack.Text)
	}
}

// pieceNames are consumables as people call them.
var pieceNames = map[string]string{"ph-strip": "pH paper strips", "filter-paper": "filter papers"}

// pieces is a consumable on the shopping list.
func (k *sheetMaker) pieces(n need) SheetSupply {
	s := SheetSupply{ID: n.item, Name: words(n.item), Need: fmt.Sprintf("%.0f", math.Ceil(n.amount-1e-9))}
	if name, ok := pieceNames[n.item]; ok {
		s.Name = name
	}
	if c, ok := k.req.Book.consumables[n.item]; ok && c.Pieces > 1 {
		s.Buy = fmt.Sprintf("a pack of %g, if you have none", c.Pieces)
	} else if ok {
		s.Buy = "one, if you have none"
	}
	if n.amount < 1 {
		s.Note = fmt.Sprintf("this plan takes %.0f %% of its life", 100*n.amount)
	}
	return s
}

// filling is how full a vessel gets.
type filling struct {
	stream string
	litres units.Volume
	what   string
	hot    bool
}

// fill notes how full a step fills its vessel.
func (k *sheetMaker) fill(s *route.StepRecord) {
	if s.Kind == "wash" {
		return // noted with the size of one wash
	}
	_, hot := s.Setting("temperature")
	_, heated := s.Setting(route.SetHeating)
	for _, e := range s.Entries {
		if e.Kind == route.Vessel {
			k.space = append(k.space, filling{k.here(s.Route, s.In), units.Volume(e.Amount), s.Title, hot || heated && s.Kind != "electrolyse"})
		}
	}
}
