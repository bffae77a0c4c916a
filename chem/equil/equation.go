package equil

import (
	"fmt"
	"strconv"
	"strings"
)

// equation is a row of a constants table, "Cu+2 + 2 H2O = Cu(OH)2 + 2 H+", in
// the notation of such tables: the charge stands at the end of a name, spaces
// stand around + and =, a number and a space before a name is its coefficient.
type equation struct {
	left, right []equationTerm
}

type equationTerm struct {
	count float64
	name  string
}

func parseEquation(text string) (equation, error) {
	left, right, ok := strings.Cut(text, " = ")
	if !ok || strings.Contains(right, " = ") {
		return equation{}, fmt.Errorf("equil: %q: one \" = \" expected", text)
	}
	var eq equation
	var err error
	if eq.left, err = parseSide(left); err != nil {
		return equation{}, fmt.Errorf("equil: %q: %w", text, err)
	}
	if eq.right, err = parseSide(right); err != nil {
		return equation{}, fmt.Errorf("equil: %q: %w", text, err)
	}
	return eq, nil
}

func parseSide(text string) ([]equationTerm, error) {
	var terms []equationTerm
	for _, part := range strings.Split(text, " + ") {
		fields := strings.Fields(part)
		term := equationTerm{count: 1}
		switch len(fields) {
		case 1:
			term.name = fields[0]
		case 2:
			n, err := strconv.ParseFloat(fields[0], 64)
			if err != nil || !(n > 0) {
				return nil, fmt.Errorf("coefficient %q is not a positive number", fields[0])
			}
			term.count, term.name = n, fields[1]
		default:
			return nil, fmt.Errorf("%q is not a term", part)
		}
		terms = append(terms, term)
	}
	return terms, nil
}

// stoichiometry is how many of each name one unit of the named species or
// solid is made of (positive) and gives off (negative).
func (eq equation) stoichiometry(name string) (map[string]float64, error) {
	own := 0.0
	parts := map[string]float64{}
	tally := func(terms []equationTerm, sign float64) {
		for _, t := range terms {
			if t.name == name {
				own += sign * t.count
			} else {
				parts[t.name] += sign * t.count
			}
		}
	}
	tally(eq.left, 1)
	tally(eq.right, -1)
	if own == 0 {
		return nil, fmt.Errorf("%s does not stand in its own reaction", name)
	}
	for part := range parts {
		parts[part] /= -own
	}
	return parts, nil
}

// chargeOf reads the charge at the end of a name: "Cl-" is -1, "Cu+2" is 2,
// "AgCl3-2" is -2, "AgCl" is 0.
func chargeOf(name string) int {
	i := strings.LastIndexAny(name, "+-")
	if i < 0 {
		return 0
	}
	size := 1
	if digits := name[i+1:]; digits != "" {
		n, err := strconv.Atoi(digits)
		if err != nil {
			return 0
		}
		size = n
	}
	if name[i] == '-' {
		return -size
	}
	return size
}
