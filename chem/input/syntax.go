package input

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"afterpour/chem/units"
)

// explain turns the message of the TOML parser about a line into one that says
// what to write instead, for the slips that people make in files like these.
func explain(line, message string) (what, hint string) {
	key, value, found := cutKey(line)
	switch {
	case strings.Contains(message, "nested more than"):
		return tooDeep, readLimit
	case strings.Contains(message, "carriage return"), strings.Contains(line, "\r"):
		return "a carriage return stands alone", "end lines with a line feed, or with carriage return and line feed"
	case !found && strings.HasPrefix(strings.TrimSpace(line), "["):
		return message, "a table starts with a header such as [vessel] or [[dissolved]] on a line of its own"
	case !found && strings.Contains(line, ":"):
		return "there is no = behind the key", `write key = value, with "=" and not ":"`
	case !found:
		return message, `write key = value, such as mass = "410 g"`
	case key == "":
		return "there is no key before the =", `write key = value, such as mass = "410 g"`
	case value == "":
		return "there is no value behind the =", `write a value behind it, such as "410 g" or 2026-11-20`
	case strings.ContainsAny(value[:1], "[{"):
		return message, ""
	case strings.ContainsAny(value[:1], `"'`):
		return message, stringHint(message, value)
	case strings.ContainsAny(value, "“”„‘’«»"):
		return "the quotes are typographic ones", `write straight quotes: ` + key + ` = "…"`
	}
	return explainBare(key, value, message)
}

// cutKey divides a line at its equals sign; value is without the comment.
func cutKey(line string) (key, value string, found bool) {
	key, value, found = strings.Cut(line, "=")
	value = strings.TrimSpace(value)
	if !strings.ContainsAny(value, `"'`) {
		value, _, _ = strings.Cut(value, "#")
	}
	return strings.TrimSpace(key), strings.TrimSpace(value), found
}

// keyOf returns the key of a line that could not be parsed, if it has one.
func keyOf(line string) string {
	key, _, found := cutKey(line)
	if !found || len(key) > 60 || strings.ContainsAny(key, "[]{}#") {
		return ""
	}
	return key
}

func stringHint(message, value string) string {
	switch {
	case strings.Contains(message, "control character"):
		return "take the invisible character out"
	case strings.Contains(message, "escape"), strings.Contains(message, "after \\"):
		return `a backslash starts an escape sequence: write \\ for a backslash, or use single quotes`
	case strings.Contains(message, "new line"), strings.Contains(message, "terminated"):
		return "close the text with " + value[:1] + " on the same line"
	case strings.Contains(message, "expected newline"):
		return "only a comment that starts with # may follow the value"
	}
	return ""
}

// explainBare is for a value without quotes.
func explainBare(key, value, message string) (what, hint string) {
	var perr *units.ParseError
	kind, dist, err := units.Parse(value)
	switch {
	case err == nil && (kind == units.Number || kind == units.CountKind):
		return value + " is not how a number is written here",
			fmt.Sprintf("write %s = %s, without separators", key, strconv.FormatFloat(dist.Mean, 'f', -1, 64))
	case err == nil:
		return "a quantity with a unit stands in quotes", fmt.Sprintf("write %s = %q", key, value)
	case errors.Is(err, units.ErrAmbiguous) && errors.As(err, &perr):
		return perr.Message, perr.Hint
	case strings.ContainsAny(value[:1], "0123456789+-.,"):
		return message, `write a number such as 2400.50, or a quantity in quotes such as "410 g ± 2 g"`
	case strings.EqualFold(value, "true"), strings.EqualFold(value, "false"):
		return message, "write " + strings.ToLower(value) + " in small letters"
	}
	return "text stands in quotes", fmt.Sprintf("write %s = %q", key, value)
}
