package econ

import (
	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// The forms in which metal is sold. A liquor and a sludge may also be sold as
// they stand; "own use" is what the practitioner would otherwise have to buy.
const (
	formLiquor = "liquor"
	formSludge = "sludge"
	formOwnUse = "own use"
)

var saleForms = []string{"bar", "cement", "cathode", "salt", formSludge, formLiquor, formOwnUse}

// pure is the fineness of pure metal, in parts in a thousand.
const pure = 1000

// sale reads [sale.id].
func (d *bookDecoder) sale(t *input.Table, name string) {
	s := Sale{ID: name, FinenessTo: pure, Date: date(t)}
	if t.Require("metal", `metal = "Ag"`) {
		if symbol, ok := t.String("metal"); ok {
			s.Metal = d.element(t, "metal", symbol)
		}
	}
	if t.Require("form", `form = "bar"`) {
		s.Form = d.choice(t, "form", saleForms...)
	}
	if t.Has("compound") {
		s.Compound = d.formula(t, "compound")
	}
	terms := d.terms(t, &s)
	d.charges(t, &s)
	d.acceptance(t, &s)
	if terms {
		d.book.sales[name] = s
	}
}

// formula reads a formula in its canonical spelling.
func (d *bookDecoder) formula(t *input.Table, key string) string {
	text, ok := t.String(key)
	if !ok {
		return ""
	}
	f, err := substance.ParseFormula(text)
	if err != nil {
		t.Problem(key, err.Error(), `a formula such as "CuSO4·5H2O"`)
		return ""
	}
	return f.String()
}

// terms reads how the product itself is paid: a share of the contained metal at
// spot, or money for each kilogram.
func (d *bookDecoder) terms(t *input.Table, s *Sale) bool {
	key := priceKey{group: "sale", name: words(s.ID), date: s.Date}
	payable, byMass := t.Has("payable"), t.Has("price")
	if payable && byMass {
		t.Problem("price", "a sale is paid by contained metal or by its own mass, not both", "keep either payable or price")
	}
	if byMass {
		key.key, key.id, key.doubt = "price", "sale."+s.ID, termsDoubt
		kinds := []units.Kind{units.PerMassKind}
		if s.Form == formLiquor {
			kinds = append(kinds, units.PerVolumeKind)
		}
		s.Price = d.optional(t, key, kinds...)
	}
	switch {
	case payable:
		key.key, key.id, key.doubt = "payable", "sale."+s.ID, payableDoubt
		s.Payable = d.optional(t, key, units.Fraction)
	case !byMass:
		t.Problem("", "the sale does not say what is paid", `payable = "94 %" of the contained metal at spot, or price = "6.00 / kg"`)
	}
	return (s.Payable == nil) != (s.Price == nil)
}

// charges reads what the buyer and the carrier deduct for each lot.
func (d *bookDecoder) charges(t *input.Table, s *Sale) {
	charge := func(key, what string) *Price {
		return d.optional(t, priceKey{key: key, id: "sale." + s.ID + "." + key, group: "sale", name: words(s.ID) + ", " + what, doubt: feeDoubt, date: s.Date}, units.Number)
	}
	s.Fee = charge("fee", "fee")
	s.Minimum = charge("minimum", "least charge")
	s.Freight = charge("freight", "freight")
	d.elements(t, "penalties", func(pt *input.Table, symbol, key string) {
		p := d.optional(pt, priceKey{key: key, id: "sale." + s.ID + ".penalties." + key, group: "sale", name: words(s.ID) + ", penalty for " + symbol, doubt: feeDoubt, date: s.Date}, units.PerMassKind)
		if p != nil {
			s.Penalties = append(s.Penalties, Penalty{Element: symbol, Price: *p})
		}
	})
	d.elements(t, "allowed", func(at *input.Table, symbol, key string) {
		share := d.share(at, key)
		for i := range s.Penalties {
			if s.Penalties[i].Element == symbol {
				s.Penalties[i].Allowed = share
				return
			}
		}
		at.Problem(key, "there is no penalty for "+symbol+" to be allowed from", "penalties = { "+symbol+` = "5.00 / kg" }`)
	})
}

// acceptance reads what the buyer takes at all.
func (d *bookDecoder) acceptance(t *input.Table, s *Sale) {
	if t.Has("fineness") {
		s.FinenessFrom, s.FinenessTo = d.fineness(t)
	}
	d.elements(t, "limits", func(lt *input.Table, symbol, key string) {
		s.Limits = append(s.Limits, route.Share{Element: symbol, Share: d.share(lt, key)})
	})
	if t.Has("chloride") {
		s.Limits = append(s.Limits, route.Share{Element: "Cl", Share: d.share(t, "chloride")})
	}
	if t.Has("moisture") {
		share := d.share(t, "moisture")
		s.Moisture = &share
	}
}

// elements runs read on every key of a table of elements.
func (d *bookDecoder) elements(t *input.Table, key string, read func(t *input.Table, symbol, key string)) {
	d.single(t, key, func(inner *input.Table) {
		for _, name := range inner.Keys() {
			if symbol := d.element(inner, name, name); symbol != "" {
				read(inner, symbol, name)
			}
		}
	})
}

// share reads a plain share between nothing and all.
func (d *bookDecoder) share(t *input.Table, key string) units.MassFraction {
	fig, ok := t.Figure(key, units.Fraction)
	if !ok {
		return 0
	}
	if message, hint := rangeFault(units.Fraction, fig.Dist); message != "" {
		t.Problem(key, message, key+` = "`+hint+`"`)
		return 0
	}
	return units.MassFraction(fig.Dist.Mean)
}

// fineness reads the window of fineness that a buyer accepts, in parts in a
// thousand. One figure alone is the least that is accepted.
func (d *bookDecoder) fineness(t *input.Table) (from, to float64) {
	const example = `fineness = "900..1000"`
	fig, ok := t.Figure("fineness", units.Number, units.Fraction)
	if !ok {
		return 0, pure
	}
	from, to = fig.Dist.Mean, pure
	scale := 1.0
	if fig.Kind == units.Fraction {
		scale = pure
	}
	switch fig.Dist.Shape {
	case units.Uniform:
		from, to = fig.Dist.Low*scale, fig.Dist.High*scale
	case units.Exact:
		from *= scale
	default:
		t.Problem("fineness", "what a buyer accepts is a range, without a doubt", example)
		return 0, pure
	}
	switch {
	case !(from >= 0 && from <= to && to <= pure):
		t.Problem("fineness", "fineness runs from 0 to 1000 parts in a thousand", example)
	case to > 0 && to <= 1:
		t.Problem("fineness", "fineness is in parts in a thousand, or in % with the sign", example)
	}
	return from, to
}
