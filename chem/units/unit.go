package units

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// unit is a unit as written in a quantity; the zero value stands for none.
type unit struct {
	text   string
	dim    dimension
	scale  scale
	offset float64 // of a temperature scale that stands alone: its zero in kelvins
}

func (u unit) plain() bool     { return u.text == "" }
func (u unit) isPercent() bool { return u.isShare() && u.scale == percent }

// isShare reports whether the unit is a bare ratio, such as percent or ppm.
func (u unit) isShare() bool { return !u.plain() && u.dim == dimension{} }

// value returns the value v in the base unit of kind k.
func (u unit) value(v float64, k Kind) float64 { return u.difference(v, k) + u.offset }

// difference returns the difference v, to which the zero of a temperature scale
// does not matter, in the base unit of kind k.
func (u unit) difference(v float64, k Kind) float64 {
	return u.scale.times(k.info().base, -1).convert(v)
}

// unitScanner reads a unit such as g, mol/L, kg m-3, 1/h or "/ ozt".
type unitScanner struct {
	text, rest string
	unit       unit
	factors    int
}

func parseUnit(text string) (unit, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return unit{scale: unity}, nil
	}
	u := unitScanner{text: text, rest: text, unit: unit{text: text, scale: unity}}
	if strings.HasPrefix(text, "1/") || strings.HasPrefix(text, "1 /") {
		u.rest = text[1:]
	}
	for u.rest != "" {
		if err := u.factor(); err != nil {
			return unit{}, err
		}
	}
	return u.unit, nil
}

// factor reads an operator, if one is there, and a symbol with its exponent.
func (u *unitScanner) factor() error {
	power := u.operator()
	s, name, err := u.symbol()
	if err != nil {
		return err
	}
	exponent, err := u.exponent()
	if err != nil {
		return err
	}
	power *= exponent
	if s.offset != 0 && u.factors == 0 && power == 1 && u.rest == "" && name == u.text {
		u.unit.offset = s.offset
	}
	u.factors++
	if u.factors > 6 {
		return fail(ErrSyntax, fmt.Sprintf("%s has too many factors for a unit", quote(u.text)), "")
	}
	u.unit.dim = u.unit.dim.times(s.dim, power)
	u.unit.scale = u.unit.scale.times(s.scale, power)
	u.rest = strings.TrimLeft(u.rest, " ")
	return nil
}

// operator reads "/", "per", "*" or "·" and returns the sign of the exponent of
// what follows. As in "g/L", everything behind a solidus up to the next operator
// is divided by; a second solidus divides again.
func (u *unitScanner) operator() int8 {
	for _, op := range []string{"/", "per ", "*", "·", "⋅"} {
		if after, ok := strings.CutPrefix(u.rest, op); ok {
			u.rest = strings.TrimLeft(after, " ")
			if op == "/" || op == "per " {
				return -1
			}
			return 1
		}
	}
	return 1
}

// symbol reads the longest name of the unit table, of one word or of two.
func (u *unitScanner) symbol() (symbol, string, error) {
	word := leadingWord(u.rest)
	if after, ok := strings.CutPrefix(u.rest[len(word):], " "); ok && word != "" {
		two := word + " " + leadingWord(after)
		if s, ok := symbols()[two]; ok {
			u.rest = u.rest[len(two):]
			return s, two, nil
		}
	}
	if s, ok := symbols()[word]; ok {
		u.rest = u.rest[len(word):]
		return s, word, nil
	}
	return symbol{}, "", u.unknown(word)
}

func leadingWord(s string) string {
	end := strings.IndexFunc(s, func(r rune) bool { return !isLetter(r) && !strings.ContainsRune("%‰°℃℉", r) })
	if end < 0 {
		return s
	}
	return s[:end]
}

func isLetter(r rune) bool { return unicode.IsLetter(r) }

// exponent reads 2, ^2, -1, ², ⁻¹; without one the exponent is 1.
func (u *unitScanner) exponent() (int8, error) {
	const super = "⁰¹²³⁴⁵⁶⁷⁸⁹"
	s := strings.TrimPrefix(u.rest, "^")
	sign := int8(1)
	if after, ok := strings.CutPrefix(s, "-"); ok {
		s, sign = after, -1
	} else if after, ok := strings.CutPrefix(s, "⁻"); ok {
		s, sign = after, -1
	}
	for i, r := range []rune(super) {
		digit := strconv.Itoa(i)
		after, ok := strings.CutPrefix(s, digit)
		if !ok {
			after, ok = strings.CutPrefix(s, string(r))
		}
		if !ok {
			continue
		}
		if i == 0 || i > 4 || (after != "" && isDigit(after[0])) {
			break
		}
		u.rest = after
		return sign * int8(i), nil
	}
	if len(s) != len(u.rest) || (s != "" && isDigit(s[0])) {
		return 0, fail(ErrSyntax, fmt.Sprintf("%s is not a unit: an exponent from 1 to 4 was expected", quote(u.text)), "")
	}
	return 1, nil
}

// unknown is the error for a word that is no unit.
func (u *unitScanner) unknown(word string) error {
	if word == "" {
		return fail(ErrSyntax, fmt.Sprintf("%s is not a unit: a unit was expected at %s", quote(u.text), quote(u.rest)), "")
	}
	hint := ""
	if near := nearUnit(word); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	}
	return fail(ErrUnknownUnit, fmt.Sprintf("unknown unit %s", quote(word)), hint)
}

// nearUnit returns the unit that differs from word only in capitals, or a
// written-out one that shares its beginning.
func nearUnit(word string) string {
	if near, ok := map[string]string{"F": "degF", "ton": "t", "tons": "t", "litr": "L", "grm": "g", "grms": "g"}[word]; ok {
		return near
	}
	var found []string
	for name := range symbols() {
		if strings.EqualFold(name, word) {
			found = append(found, name)
		}
	}
	if len(found) == 0 {
		return ""
	}
	return slices.Min(found)
}

// quote shows a piece of foreign text: shortened, in quotes, and with every
// character that is not printable escaped.
func quote(s string) string {
	const most = 40
	if r := []rune(s); len(r) > most {
		s = string(r[:most-1]) + "…"
	}
	return strconv.Quote(s)
}
