package units

import (
	"fmt"
	"strings"
)

// maxText is the longest quantity that Parse looks at, in bytes.
const maxText = 200

// Parse reads a quantity with its unit and doubt, in the notation described at
// the head of the package. It returns the first of the kinds that the unit
// fits (any kind if none is given) and the value in the base unit of that kind.
//
// The value of every kind but Number and PotentialKind must not be negative,
// and a temperature not below 0 K; the distribution is bounded accordingly. A
// share may exceed 1. An error is a *ParseError.
func Parse(text string, kinds ...Kind) (Kind, Dist, error) {
	q, err := takeApart(text)
	if err == nil {
		var k Kind
		var d Dist
		if k, d, err = q.resolve(kinds); err == nil {
			return k, d, nil
		}
	}
	if p, ok := err.(*ParseError); ok && p.Hint == "" {
		p.Hint = examples(kinds)
	}
	return 0, Dist{}, err
}

// term is a number with the unit written behind it.
type term struct {
	value float64
	unit  unit
}

// quantity is the text of a quantity taken apart.
type quantity struct {
	text  string
	value term
	upper *term // the end of a range
	doubt *term
}

// spelling unifies the ways to write a space, a minus, a range and ±.
var spelling = strings.NewReplacer(
	"\u00a0", " ", "\u202f", " ", "\u2009", " ", "\t", " ",
	"−", "-", "…", "..", "+/-", "±", "+-", "±",
)

// takeApart takes a quantity apart into value, end of a range, and doubt.
func takeApart(text string) (*quantity, error) {
	if len(text) > maxText {
		return nil, fail(ErrSyntax, fmt.Sprintf("%s is too long for a quantity", quote(text)), "")
	}
	s := strings.TrimSpace(spelling.Replace(text))
	if s == "" {
		return nil, fail(ErrSyntax, "the quantity is empty", "")
	}
	q := &quantity{text: text}
	main, doubt, hasDoubt := strings.Cut(s, "±")
	shared, main, doubt := sharedUnit(main, doubt, hasDoubt)
	low, high, isRange := strings.Cut(main, "..")
	var err error
	if q.value, err = parseTerm(text, low, shared); err != nil {
		return nil, err
	}
	if isRange {
		q.upper, err = optionalTerm(text, high, shared)
	}
	if hasDoubt && err == nil {
		q.doubt, err = optionalTerm(text, doubt, shared)
	}
	return q, err
}

// sharedUnit recognises "(8.0 ± 1) %", where one unit stands for both.
func sharedUnit(main, doubt string, hasDoubt bool) (shared, value, sd string) {
	inner, opened := strings.CutPrefix(main, "(")
	number, unit, closed := strings.Cut(doubt, ")")
	if !hasDoubt || !opened || !closed {
		return "", main, doubt
	}
	return unit, inner, number
}

func optionalTerm(text, s, shared string) (*term, error) {
	t, err := parseTerm(text, s, shared)
	return &t, err
}

func parseTerm(text, s, shared string) (term, error) {
	s = strings.TrimSpace(s)
	value, rest, found, err := scanNumber(s)
	if err != nil {
		return term{}, err
	}
	if strings.ContainsAny(s, "$€£¥") {
		return term{}, fail(ErrSyntax, fmt.Sprintf("%s names a currency", quote(text)), "write the number without it, such as 30.00 / ozt; the currency is stated once for all prices")
	}
	if !found {
		return term{}, fail(ErrSyntax, fmt.Sprintf("%s: a number was expected at %s", quote(text), quote(s)), "")
	}
	u, err := parseUnit(strings.TrimSpace(rest) + shared)
	return term{value, u}, err
}
