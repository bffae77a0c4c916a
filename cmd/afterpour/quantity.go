package main

import (
	"strconv"
	"strings"

	"afterpour/chem/units"
)

// quantity reads one argument as a plain value in the base unit of kind. A
// bare number is taken in the unit that the argument's name promises.
func quantity(name, text, unit string, kind units.Kind) (float64, error) {
	if text == "" {
		return 0, usagef("%s is missing: give %s, such as %q", name, kind, kind.Example())
	}
	if _, err := strconv.ParseFloat(strings.TrimSpace(text), 64); err == nil {
		text = text + " " + unit
	}
	_, dist, err := units.Parse(text, kind)
	if err != nil {
		return 0, usagef("%s: %w", name, err)
	}
	return dist.Mean, nil
}

// share reads one argument as a share of 0 to 1: "0.2" or "20 %".
func share(name, text string) (float64, error) {
	_, dist, err := units.Parse(text, units.Fraction)
	if err != nil {
		return 0, usagef("%s: %w", name, err)
	}
	if !(dist.Mean > 0 && dist.Mean <= 1) {
		return 0, usagef("%s: %s is not a share above 0 and up to 1, such as 0.9 or 90 %%", name, text)
	}
	return dist.Mean, nil
}
