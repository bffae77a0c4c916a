package tui

import (
	"math"
	"strconv"
	"strings"
	"time"

	"afterpour/chem/units"
	"afterpour/econ"

	"github.com/charmbracelet/x/ansi"
)

// money writes an amount as every output of the program does.
func money(m econ.Money) string { return m.Text() }

// signed writes a difference of money: always with its sign.
func signed(m econ.Money) string {
	text := money(m)
	if text[0] == '-' || text == "0.00" {
		return text
	}
	return "+" + text
}

// none stands where there is no figure.
const none = "n/a"

func moneyOrNone(m *econ.Money) string {
	if m == nil {
		return none
	}
	return money(*m)
}

// moneyTone says whether an amount is a gain or a loss.
func moneyTone(m econ.Money) tone {
	switch {
	case money(m) == "0.00":
		return plain
	case m < 0:
		return loss
	}
	return gain
}

// decimals is how many decimals show a value to that many significant digits,
// at most most.
func decimals(value float64, digits, most int) int {
	if value == 0 || math.IsNaN(value) || math.IsInf(value, 0) {
		return 0
	}
	places := digits - 1 - int(math.Floor(math.Log10(math.Abs(value))))
	return max(0, min(most, places))
}

// significant writes a number to that many significant digits, with an
// exponent only where people use one.
func significant(value float64, digits int) string {
	size := math.Abs(value)
	if size != 0 && (size < 1e-4 || size >= 1e9) {
		return strconv.FormatFloat(value, 'g', digits, 64)
	}
	return strconv.FormatFloat(value, 'f', decimals(value, digits, 9), 64)
}

// counted writes a quantity: a whole number as one counts, any other to three
// significant digits.
func counted(value float64) string {
	if value == math.Trunc(value) && math.Abs(value) < 1e6 {
		return strconv.FormatFloat(value, 'f', 0, 64)
	}
	return significant(value, 3)
}

// price writes what one of something costs: to four significant digits, but as
// money is written where two decimals say it.
func price(value float64) string {
	text := significant(value, 4)
	if whole, decimals, ok := strings.Cut(text, "."); ok && len(decimals) > 2 && strings.Trim(decimals[2:], "0") == "" {
		return whole + "." + decimals[:2]
	}
	return text
}

// grams writes a mass in grams, without the unit, to three significant digits
// and never finer than a milligram.
func grams(m units.Mass) string {
	return strconv.FormatFloat(m.Grams(), 'f', decimals(m.Grams(), 3, 3), 64)
}

// gramsDoubt writes a mass and its standard uncertainty in grams, both to the
// second significant digit of the uncertainty.
func gramsDoubt(m, sd units.Mass) string {
	if !(sd > 0) {
		return grams(m)
	}
	return doubt(m.Grams(), sd.Grams())
}

// doubt writes a value and its standard uncertainty, both to the second
// significant digit of the uncertainty.
func doubt(value, sd float64) string {
	if !(sd > 0) {
		return significant(value, 3)
	}
	places := decimals(sd, 2, 6)
	return strconv.FormatFloat(value, 'f', places, 64) + " ± " + strconv.FormatFloat(sd, 'f', places, 64)
}

// percent writes a share; it does not round a share short of one up to it.
func percent(share float64) string {
	p := share * 100
	if p > 99 && p < 100 {
		return strconv.FormatFloat(math.Floor(p*10)/10, 'f', 1, 64) + " %"
	}
	return strconv.FormatFloat(p, 'f', decimals(p, 2, 2), 64) + " %"
}

// hours writes a duration in hours, without the unit.
func hours(h float64) string {
	if h >= 100 {
		return strconv.FormatFloat(h, 'f', 0, 64)
	}
	return strconv.FormatFloat(h, 'f', 1, 64)
}

// day writes a date; a missing one is said to be missing.
func day(t time.Time) string {
	if t.IsZero() {
		return "no date"
	}
	return t.Format(time.DateOnly)
}

// plural writes a count with its noun.
func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// wrap breaks a text at spaces into lines of at most width columns, and a word
// that is longer than that wherever it must be. A hyphen is no place to break:
// it may be a minus.
func wrap(text string, width int) []string {
	width = max(1, width)
	var lines []string
	row := ""
	for _, word := range strings.Fields(text) {
		if row != "" && ansi.StringWidth(row)+1+ansi.StringWidth(word) <= width {
			row += " " + word
			continue
		}
		if row != "" {
			lines = append(lines, row)
		}
		parts := strings.Split(ansi.Hardwrap(word, width, false), "\n")
		lines = append(lines, parts[:len(parts)-1]...)
		row = parts[len(parts)-1]
	}
	return append(lines, row)
}

// pad fills a text with spaces up to width columns, on the left or the right.
func pad(text string, width int, right bool) string {
	gap := strings.Repeat(" ", max(0, width-ansi.StringWidth(text)))
	if right {
		return gap + text
	}
	return text + gap
}
