package units

import (
	"fmt"
	"strconv"
	"strings"
)

// scanNumber reads the number at the start of s, in any of the ways people
// write one: 1234.5, 1234,5, 1 234,5, 1,234.5, 1.234,5, 1_234.5, 1.2e-3. It
// returns what follows the number. found is false where s starts with no number.
func scanNumber(s string) (value float64, rest string, found bool, err error) {
	body := strings.TrimLeft(s, "+-")
	if len(s)-len(body) > 1 {
		return 0, s, false, nil
	}
	if word, ok := nonFinite(body); ok {
		return 0, s, false, fail(ErrNotFinite, strconv.Quote(word)+" is not a finite number", "")
	}
	n := numberLength(body)
	if n == 0 {
		return 0, s, false, nil
	}
	e := exponentLength(body[n:])
	mantissa, err := normalise(body[:n])
	if err != nil {
		return 0, s, false, err
	}
	written := s[:len(s)-len(body)+n+e]
	value, perr := strconv.ParseFloat(s[:len(s)-len(body)]+mantissa+body[n:n+e], 64)
	if perr != nil {
		return 0, s, false, fail(ErrNotFinite, strconv.Quote(written)+" is too large to compute with", "")
	}
	return value + 0, body[n+e:], true, nil // +0 makes a zero of a negative zero
}

func nonFinite(s string) (word string, ok bool) {
	end := strings.IndexFunc(s, func(r rune) bool { return !isLetter(r) && r != '∞' })
	if end < 0 {
		end = len(s)
	}
	switch word = s[:end]; strings.ToLower(word) {
	case "nan", "inf", "infinity", "infinite", "∞":
		return word, true
	}
	return "", false
}

func isDigit(b byte) bool { return b >= '0' && b <= '9' }

// numberLength returns how many bytes of s are digits and their separators. A
// separator belongs to the number only with a digit behind it, a space only
// with exactly three, and a full stop never where it opens a range (20..30).
func numberLength(s string) int {
	n := 0
	decimal := false
	for n < len(s) {
		switch c := s[n]; {
		case isDigit(c):
			n++
			continue
		case n+1 >= len(s) || !isDigit(s[n+1]):
			return n
		case c == '.' || c == ',':
			decimal = true
		case c == '_' && n > 0:
		case c == ' ' && n > 0 && !decimal && threeDigits(s[n+1:]):
		default:
			return n
		}
		n++
	}
	return n
}

// threeDigits reports whether s starts with three digits and no fourth.
func threeDigits(s string) bool {
	return len(s) >= 3 && isDigit(s[0]) && isDigit(s[1]) && isDigit(s[2]) && (len(s) == 3 || !isDigit(s[3]))
}

func exponentLength(s string) int {
	if s == "" || (s[0] != 'e' && s[0] != 'E') {
		return 0
	}
	n := 1
	if n < len(s) && (s[n] == '+' || s[n] == '-') {
		n++
	}
	digits := n
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	if n == digits {
		return 0
	}
	return n
}

var ungroup = strings.NewReplacer(" ", "", "_", "")

// normalise turns a number as people write it into one that strconv reads.
func normalise(s string) (string, error) {
	commas, points := strings.Count(s, ","), strings.Count(s, ".")
	spaced := strings.Contains(s, " ")
	grouped := spaced || strings.Contains(s, "_")
	if spaced && !grouping(integerPart(s), " ") {
		return "", malformed(s)
	}
	if grouped {
		s = ungroup.Replace(s)
	}
	switch {
	case commas+points == 0, commas == 0 && points == 1:
		return s, nil
	case commas+points == 1:
		if threeDigits(s[strings.Index(s, ",")+1:]) && !grouped {
			return "", ambiguous(s)
		}
		return strings.Replace(s, ",", ".", 1), nil
	case grouped:
		return "", malformed(s)
	case commas == 0 || points == 0:
		return thousands(s, s[strings.IndexAny(s, ",."):][:1])
	case strings.LastIndex(s, ",") < strings.Index(s, "."):
		return split(s, ",", ".")
	case strings.LastIndex(s, ".") < strings.Index(s, ","):
		return split(s, ".", ",")
	}
	return "", malformed(s)
}

func integerPart(s string) string {
	if i := strings.IndexAny(s, ",."); i >= 0 {
		return s[:i]
	}
	return s
}

// split reads s as groups divided by sep before one decimal mark.
func split(s, sep, mark string) (string, error) {
	whole, fraction, _ := strings.Cut(s, mark)
	if strings.Contains(fraction, mark) {
		return "", malformed(s)
	}
	whole, err := thousands(whole, sep)
	return whole + "." + fraction, err
}

// thousands removes the separator of a whole number written in groups.
func thousands(s, sep string) (string, error) {
	if !grouping(s, sep) {
		return "", malformed(s)
	}
	return strings.ReplaceAll(s, sep, ""), nil
}

// grouping reports whether s is one to three digits followed by groups of three.
func grouping(s, sep string) bool {
	groups := strings.Split(s, sep)
	if len(groups[0]) < 1 || len(groups[0]) > 3 {
		return false
	}
	for _, g := range groups[1:] {
		if len(g) != 3 {
			return false
		}
	}
	return true
}

func ambiguous(s string) error {
	whole, fraction, _ := strings.Cut(s, ",")
	return fail(ErrAmbiguous,
		fmt.Sprintf("%q can be read as %s.%s or as %s%s", s, whole, fraction, whole, fraction),
		fmt.Sprintf("write %s.%s (decimal) or %s%s (thousands)", whole, fraction, whole, fraction))
}

func malformed(s string) error {
	return fail(ErrSyntax, fmt.Sprintf("the digits of %q are not grouped as in 1 234.5 or 1,234.5", s),
		"write the number with a decimal point and no other separator, such as 1234.5")
}
