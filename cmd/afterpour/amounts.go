package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"afterpour/chem/units"
	"afterpour/econ"
)

// money writes an amount with two decimals. Minus zero, which rounding can
// make, is written as zero.
func money(m econ.Money) string {
	text := strconv.FormatFloat(float64(m), 'f', 2, 64)
	if text == "-0.00" {
		return "0.00"
	}
	return text
}

// signed writes an amount with its sign, for a figure that is a difference.
func signed(m econ.Money) string {
	text := money(m)
	if text[0] == '-' || text == "0.00" {
		return text
	}
	return "+" + text
}

// moneyOrDash writes an amount that may be missing.
func moneyOrDash(m *econ.Money) string {
	if m == nil {
		return "-"
	}
	return money(*m)
}

// grams writes a mass in grams to as many decimals as a bench balance would
// show of it: three significant digits, never finer than a milligram.
func grams(m units.Mass) string {
	g := m.Grams()
	return strconv.FormatFloat(g, 'f', decimals(g, 3, 3), 64)
}

// gramsWithDoubt writes a mass and its standard uncertainty, both to the
// second significant digit of the uncertainty.
func gramsWithDoubt(m, sd units.Mass) string {
	if !(sd > 0) {
		return grams(m) + " g"
	}
	places := decimals(sd.Grams(), 2, 3)
	return fmt.Sprintf("%.*f ± %.*f g", places, m.Grams(), places, sd.Grams())
}

// decimals is how many decimals show a value to the given number of
// significant digits, at most most.
func decimals(value float64, digits, most int) int {
	if value == 0 || math.IsNaN(value) || math.IsInf(value, 0) {
		return 0
	}
	places := digits - 1 - int(math.Floor(math.Log10(math.Abs(value))))
	return max(0, min(most, places))
}

// significant writes a number to the given number of significant digits,
// without an exponent where people would not use one.
func significant(value float64, digits int) string {
	size := math.Abs(value)
	if size != 0 && (size < 1e-4 || size >= 1e9) {
		return strconv.FormatFloat(value, 'g', digits, 64)
	}
	return strconv.FormatFloat(value, 'f', decimals(value, digits, 9), 64)
}

// howMuch writes how much of something, a whole number as such.
func howMuch(value float64) string {
	if value == math.Trunc(value) && math.Abs(value) < 1e6 {
		return strconv.FormatFloat(value, 'f', 0, 64)
	}
	return significant(value, 3)
}

// unitPrice writes a price with two decimals, or more where it has more, up to
// four significant digits.
func unitPrice(price float64) string {
	exact := strconv.FormatFloat(price, 'f', -1, 64)
	_, fraction, _ := strings.Cut(exact, ".")
	return strconv.FormatFloat(price, 'f', max(2, min(len(fraction), decimals(price, 4, 6))), 64)
}

// massText writes a mass in grams, or in kilograms from one on.
func massText(m units.Mass) string {
	if m < units.Kilogram {
		return grams(m) + " g"
	}
	return significant(m.Kilograms(), 3) + " kg"
}

// percent writes a share in per cent.
func percent(share float64) string {
	p := share * 100
	if p > 99 && p < 100 {
		return strconv.FormatFloat(p, 'f', 1, 64) + " %"
	}
	return strconv.FormatFloat(p, 'f', decimals(p, 2, 2), 64) + " %"
}

// hours writes a duration.
func hours(h float64) string {
	if h >= 100 {
		return strconv.FormatFloat(h, 'f', 0, 64) + " h"
	}
	return strconv.FormatFloat(h, 'f', 1, 64) + " h"
}

// planTitle writes a plan as people say it: its routes in order, then what
// happens to the rest.
func planTitle(plan *econ.PricedPlan) string {
	if len(plan.Routes) == 0 {
		return untouched(plan.Ending)
	}
	rest := plan.Ending + " the rest"
	switch plan.Ending {
	case "dispose":
		rest = "dispose of the rest"
	case "sell-as-is":
		rest = "sell the rest as it stands"
	}
	return strings.Join(plan.Routes, ", then ") + "; " + rest
}

// untouched writes an ending of the lot as it stands.
func untouched(ending string) string {
	switch ending {
	case "dispose":
		return "dispose of all of it"
	case "sell-as-is":
		return "sell it as it stands"
	case "hold":
		return "hold it on the shelf"
	}
	return ending
}
