package units

import (
	"math"
	"strconv"
)

// display is a unit in which Format writes, for values from its floor on, in
// the base unit of the kind.
type display struct {
	unit  string
	size  float64 // one of the unit, in the base unit
	floor float64
}

// displays lists the units that people read most easily, the largest first; the
// last also serves whatever is smaller. The notation is that of the input
// files, so that what is shown can be typed back.
var displays = [len(kinds)][]display{
	Fraction:              {{"%", 0.01, 1e-5}, {"ppm", 1e-6, 0}},
	MassKind:              {{"kg", 1, 1}, {"g", 1e-3, 1e-3}, {"mg", 1e-6, 1e-6}, {"ug", 1e-9, 0}},
	VolumeKind:            {{"m3", 1e3, 1e3}, {"L", 1, 1}, {"mL", 1e-3, 1e-3}, {"uL", 1e-6, 0}},
	AmountKind:            {{"mol", 1, 0.1}, {"mmol", 1e-3, 1e-4}, {"umol", 1e-6, 0}},
	ConcentrationKind:     {{"mol/L", 1, 0.1}, {"mmol/L", 1e-3, 1e-4}, {"umol/L", 1e-6, 0}},
	MassConcentrationKind: {{"g/L", 1, 0.1}, {"mg/L", 1e-3, 0}},
	DensityKind:           {{"kg/L", 1, 0}},
	LengthKind:            {{"m", 1, 1}, {"cm", 1e-2, 1e-2}, {"mm", 1e-3, 1e-3}, {"um", 1e-6, 1e-6}, {"nm", 1e-9, 0}},
	AreaKind:              {{"m2", 1, 1}, {"cm2", 1e-4, 0}},
	HoursKind:             {{"d", 24, 48}, {"h", 1, 1}, {"min", 1.0 / 60, 1.0 / 60}, {"s", 1.0 / 3600, 0}},
	CurrentKind:           {{"A", 1, 0.1}, {"mA", 1e-3, 0}},
	PotentialKind:         {{"V", 1, 0.1}, {"mV", 1e-3, 0}},
	PowerKind:             {{"kW", 1e3, 1e3}, {"W", 1, 0}},
	EnergyKind:            {{"kWh", 3.6e6, 3.6e5}, {"kJ", 1e3, 1e3}, {"J", 1, 0}},
	FlowKind:              {{"m3/h", 1, 0.1}, {"L/h", 1e-3, 0}},
	PerHourKind:           {{"/ h", 1, 0.01}, {"/ month", 1 / float64(Month), 0}},
	HoursPerVolumeKind:    {{"h/L", 1, 1}, {"min/L", 1.0 / 60, 0}},
	HoursPerMassKind:      {{"h/kg", 1, 1}, {"min/kg", 1.0 / 60, 0}},
	MolarMassKind:         {{"g/mol", 1, 0}},
	PerMassKind:           {{"/ g", 1e3, 1e3}, {"/ kg", 1, 0}},
	PerVolumeKind:         {{"/ L", 1, 0}},
	PerEnergyKind:         {{"/ kWh", 1, 0}},
	PerCountKind:          {{"/ piece", 1, 0}},
	ChargeKind:            {{"Ah", 3600, 360}, {"C", 1, 0}},
}

// significant is the number of digits that Format shows of a measured value.
// Plain numbers, which may be sums of money, keep plainDigits.
const (
	significant = 4
	plainDigits = 12
)

// Format writes a value of kind k, given in its base unit, for people: rounded
// to four significant digits, a time to two or three, and in a unit of sensible
// size. Parse reads it back. A value that is not finite is written "n/a".
func Format(k Kind, value float64) string {
	u := displayUnit(k, value)
	return u.join(u.number(k, value, u.digits(k, value)))
}

// digits is how many significant digits Format shows. Of a time, which nobody
// at a bench plans to the minute, there are three where the first is a 1 or a 2
// and else two: never off by more than one part in fifty.
func (u display) digits(k Kind, value float64) int {
	switch {
	case u.unit == "":
		return plainDigits
	case k != HoursKind:
		return significant
	}
	shown := math.Abs(u.shown(k, value))
	if first := shown / math.Pow(10, math.Floor(math.Log10(shown))); first >= 3 {
		return 2
	}
	return 3
}

// FormatDist writes a value with its doubt as Format does: "410 g ± 2 g",
// "20..30 g/L". Of a doubt two digits are shown, and of the value as many as
// the doubt leaves meaning. A lognormal or triangular distribution is written
// by its mean and standard deviation.
func FormatDist(k Kind, d Dist) string {
	u := displayUnit(k, d.Mean)
	switch {
	case d.Shape == Exact || d.SD == 0 || !finite(d.Mean, d.SD):
		return Format(k, d.Mean)
	case d.Shape == Uniform && finite(d.Low, d.High):
		return u.within(k, d.Low, d.SD) + ".." + u.join(u.within(k, d.High, d.SD))
	}
	return u.join(u.within(k, d.Mean, d.SD)) + " ± " + u.join(number(d.SD/u.size, 2))
}

// within writes a value with as many digits as reach to the second digit of its
// standard deviation.
func (u display) within(k Kind, value, sd float64) string {
	digits := math.Min(float64(u.digits(k, value)), significant)
	if shown := math.Abs(u.shown(k, value)); shown > 0 {
		digits = math.Max(digits, 2+math.Floor(math.Log10(shown))-math.Floor(math.Log10(sd/u.size)))
	}
	return u.number(k, value, int(math.Min(digits, plainDigits)))
}

func displayUnit(k Kind, value float64) display {
	switch {
	case k == TemperatureKind:
		return display{"degC", 1, 0}
	case int(k) >= len(displays) || len(displays[k]) == 0:
		return display{"", 1, 0}
	case value == 0:
		return zeroUnit(displays[k])
	}
	for _, u := range displays[k] {
		// The margin lets 0.999 96 L be written 1 L and not 1000 mL.
		if math.Abs(value) >= u.floor*(1-5e-5) {
			return u
		}
	}
	return displays[k][len(displays[k])-1]
}

// zeroUnit returns the unit in which nothing is written: the base unit where
// there is a choice.
func zeroUnit(units []display) display {
	for _, u := range units {
		if u.size == 1 {
			return u
		}
	}
	return units[0]
}

// shown returns the number to write before the unit.
func (u display) shown(k Kind, value float64) float64 {
	if k == TemperatureKind {
		return Temperature(value).Celsius()
	}
	return value / u.size
}

func (u display) number(k Kind, value float64, digits int) string {
	return number(u.shown(k, value), digits)
}

func (u display) join(number string) string {
	if u.unit == "" || number == "n/a" {
		return number
	}
	return number + " " + u.unit
}

// number writes v rounded to the given significant digits, without exponent
// where it can be read without.
func number(v float64, digits int) string {
	if !finite(v) {
		return "n/a"
	}
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', digits-1, 64), 64)
	if err != nil {
		rounded = v
	}
	if a := math.Abs(rounded); a != 0 && (a < 1e-5 || a >= 1e12) {
		return strconv.FormatFloat(rounded, 'e', -1, 64)
	}
	return strconv.FormatFloat(rounded+0, 'f', -1, 64)
}
