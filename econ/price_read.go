package econ

import (
	"math"
	"strconv"
	"strings"

	"afterpour/chem/units"
)

// Unit says what one counts the price in, for a list: "USD / ozt", "USD / pack
// of 1 kg", "USD / lot" for a fee, a least charge or a freight, and "of
// contained metal" for a payable share.
func (p Price) Unit(currency string) string {
	switch {
	case p.Kind == units.Fraction:
		return "of contained metal"
	case p.Per != "":
		return currency + " / " + p.Per
	case p.pack != "":
		return currency + " / " + p.pack
	}
	return currency + " / lot"
}

// Read says how a text is understood as this price, with the doubt that it gets
// where it states none: "31.20 USD / ozt ± 3.12, doubt assumed". The error is
// that of Check.
func (p Price) Read(text, currency string) (string, error) {
	if err := p.Check(text); err != nil {
		return "", err
	}
	kind, dist, err := units.Parse(text, p.kinds...)
	if err != nil { // Check has read it
		return "", err
	}
	as := p
	as.Kind = kind
	as.Per, as.Size = perUnit(kind, text)
	assumed := ""
	if dist.Shape == units.Exact {
		if dist = p.doubt.applied(dist.Mean); dist.SD > 0 {
			assumed = ", doubt assumed"
		}
	}
	return as.sentence(dist, currency) + assumed, nil
}

// sentence writes a price with its doubt.
func (p Price) sentence(dist units.Dist, currency string) string {
	in := func(v float64) string { return priceText(v * p.Size) }
	of := " " + p.Unit(currency)
	if p.Kind == units.Fraction {
		in = func(v float64) string { return strconv.FormatFloat(100*v, 'g', 4, 64) }
		of = " % of contained metal"
	}
	switch {
	case dist.Shape == units.Uniform:
		// Ends as typed: bounds narrowed since would tell another range.
		half := dist.SD * math.Sqrt(3)
		return in(dist.Mean-half) + " to " + in(dist.Mean+half) + of
	case !(dist.SD > 0):
		return in(dist.Mean) + of
	case p.Kind == units.Fraction:
		return in(dist.Mean) + of + " ± " + in(dist.SD) + " percentage points"
	}
	return in(dist.Mean) + of + " ± " + in(dist.SD)
}

// priceText writes an amount of money for one of something: with two decimals,
// or with three significant digits where that takes more of them.
func priceText(v float64) string {
	a := math.Abs(v)
	if !(a > 0 && a < 0.1) {
		return strconv.FormatFloat(v, 'f', 2, 64)
	}
	text := strconv.FormatFloat(v, 'f', min(2-int(math.Floor(math.Log10(a))), 12), 64)
	for strings.HasSuffix(text, "0") && len(text)-strings.Index(text, ".") > 3 {
		text = strings.TrimSuffix(text, "0")
	}
	return text
}
