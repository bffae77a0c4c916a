package econ

import (
	"fmt"
	"math"
	"strconv"

	"afterpour/chem/units"
)

// cylinder is a measuring cylinder: how much it holds and how far its marks are
// apart, in mL.
type cylinder struct{ holds, mark float64 }

// cylinders are the usual ones. ISO 4788, graduated measuring cylinders, tall
// form (from memory; check).
var cylinders = []cylinder{
	{10, 0.2}, {25, 0.5}, {50, 1}, {100, 1}, {250, 2}, {500, 5}, {1000, 10}, {2000, 20},
}

// noticeable is from where on a rounding is said beside the amount: more than
// the few per cent by which doses are in excess anyway.
const noticeable = 0.03

// measurer rounds amounts to what a bench can measure.
type measurer struct {
	balance units.Mass       // resolution; 0: unknown, taken as 0.1 g
	used    map[float64]bool // sizes of the cylinders that were needed, mL
	weighed bool             // something was weighed
	least   units.Mass       // smallest amount weighed
	coarse  []string         // amounts that the balance cannot tell well
}

func newMeasurer(balance units.Mass) *measurer {
	if !(balance > 0) {
		balance = 0.1 * units.Gram
	}
	return &measurer{balance: balance, used: map[float64]bool{}}
}

// weigh rounds a dose up to what the balance shows, and to three digits where
// that is coarser.
func (m *measurer) weigh(exact units.Mass) units.Mass {
	if !(exact > 0) {
		return 0
	}
	m.weighed = true
	if m.least == 0 || exact < m.least {
		m.least = exact
	}
	return units.Mass(upTo(exact.Grams(), m.massStep(exact))) * units.Gram
}

// show rounds a mass that is expected, not dosed, to the nearest.
func (m *measurer) show(exact units.Mass) units.Mass {
	if !(exact > 0) {
		return 0
	}
	step := m.massStep(exact)
	return units.Mass(math.Round(exact.Grams()/step)*step) * units.Gram
}

// massStep is the step of a mass in g: the balance, or the third digit.
func (m *measurer) massStep(exact units.Mass) float64 {
	return math.Max(m.balance.Grams(), thirdDigit(exact.Grams()))
}

func thirdDigit(v float64) float64 { return math.Pow(10, math.Floor(math.Log10(v))-2) }

// pour rounds a dose of a liquid up to the next mark of the smallest cylinder
// that holds it; more than the largest is measured in several fillings.
func (m *measurer) pour(exact units.Volume) units.Volume {
	if !(exact > 0) {
		return 0
	}
	c := cylinderFor(exact.Millilitres())
	m.used[c.holds] = true
	return units.Volume(upTo(exact.Millilitres(), c.mark)) * units.Millilitre
}

// water rounds water to two digits: nothing hangs on more.
func (m *measurer) water(exact units.Volume) units.Volume {
	if !(exact > 0) {
		return 0
	}
	step := 10 * thirdDigit(exact.Millilitres())
	if step < 1 {
		step = 1
	}
	return units.Volume(math.Round(exact.Millilitres()/step)*step) * units.Millilitre
}

func cylinderFor(ml float64) cylinder {
	for _, c := range cylinders {
		if ml <= c.holds*(1+1e-9) {
			return c
		}
	}
	return cylinders[len(cylinders)-1]
}

// upTo rounds up to a multiple of step; what lies a hair over one counts as it.
func upTo(v, step float64) float64 { return math.Ceil(v/step*(1-1e-9)) * step }

// off is how far a rounded amount lies from the exact one.
func off(rounded, exact float64) float64 {
	if !(exact > 0) {
		return 0
	}
	return rounded/exact - 1
}

// massText writes a mass as the balance shows it.
func (m *measurer) massText(v units.Mass) string {
	if v >= units.Kilogram {
		return strconv.FormatFloat(v.Kilograms(), 'f', 2, 64) + " kg"
	}
	step := m.balance.Grams()
	if v > 0 {
		step = m.massStep(v)
	}
	return strconv.FormatFloat(v.Grams(), 'f', decimalsOf(step), 64) + " g"
}

// about writes an expected mass: rounded to the nearest.
func (m *measurer) about(v units.Mass) string { return m.massText(m.show(v)) }

// decimalsOf is how many decimals a step of a scale needs.
func decimalsOf(step float64) int {
	return max(0, int(math.Ceil(-math.Log10(step)-1e-9)))
}

// volumeText writes a volume of a measured or expected liquid.
func volumeText(v units.Volume) string {
	if v >= units.Litre {
		return strconv.FormatFloat(v.Litres(), 'f', 2, 64) + " L"
	}
	ml := v.Millilitres()
	places := 0
	if ml < 25 {
		places = 1
	}
	return trimZeros(strconv.FormatFloat(ml, 'f', places, 64)) + " mL"
}

// roughly writes a volume to two digits.
func roughly(v units.Volume) string {
	ml := v.Millilitres()
	if !(ml > 0) {
		return "0 mL"
	}
	step := 10 * thirdDigit(ml)
	ml = math.Round(ml/step) * step
	if ml >= 1000 {
		return trimZeros(strconv.FormatFloat(ml/1000, 'f', 2, 64)) + " L"
	}
	return trimZeros(strconv.FormatFloat(ml, 'f', max(0, decimalsOf(step)), 64)) + " mL"
}

func trimZeros(text string) string {
	for len(text) > 1 && text[len(text)-1] == '0' && hasPoint(text) {
		text = text[:len(text)-1]
	}
	if text[len(text)-1] == '.' {
		text = text[:len(text)-1]
	}
	return text
}

func hasPoint(text string) bool {
	for _, r := range text {
		if r == '.' {
			return true
		}
	}
	return false
}

// hoursText writes a duration as people say it.
func hoursText(h float64) string {
	switch minutes := h * 60; {
	case !(h > 0):
		return "no time"
	case minutes < 1:
		return "a minute"
	case minutes < 90:
		step := 5.0
		if minutes < 20 {
			step = 1
		}
		return strconv.FormatFloat(math.Round(minutes/step)*step, 'f', 0, 64) + " min"
	case h < 10:
		return trimZeros(strconv.FormatFloat(math.Round(2*h)/2, 'f', 1, 64)) + " h"
	case h < 48:
		return strconv.FormatFloat(math.Round(h), 'f', 0, 64) + " h"
	default:
		return strconv.FormatFloat(math.Round(h/24), 'f', 0, 64) + " days"
	}
}

// celsius writes a temperature that somebody sets: to 5 degrees from 40 on.
func celsius(t units.Temperature) string {
	c := t.Celsius()
	if c >= 40 {
		c = 5 * math.Round(c/5)
	}
	return strconv.FormatFloat(math.Round(c), 'f', 0, 64) + " °C"
}

// rules says how the amounts of the sheet were rounded.
func (m *measurer) rules() []string {
	list := []string{fmt.Sprintf("Amounts to weigh are rounded up to the next %s of your balance, or to three digits where that is coarser; acids and other measured liquids up to the next mark of the smallest cylinder that holds them (10 mL by 0.2, 25 by 0.5, 100 by 1, 250 by 2, 500 by 5, 1 L by 10, 2 L by 20). Water is rounded to two digits. Masses to expect are rounded to the nearest.", m.massText(m.balance))}
	list = append(list, "A dose is rounded up so that it is never too little. So caustic and acid come out a little over: they go in by the test or the pH paper that the step names, not by the amount, and what is left of them is not needed.")
	return append(list, m.coarse...)
}
