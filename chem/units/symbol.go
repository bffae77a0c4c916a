package units

import (
	"strings"
	"sync"
)

// symbol is a unit that is not made of others in the notation.
type symbol struct {
	dim    dimension
	scale  scale
	offset float64 // of a temperature scale: its zero in kelvins
}

// The customary units, as fractions of SI units; see the constants of Mass,
// Volume and Length for their source.
var (
	inchScale   = scale{254, 1e4}
	gallonScale = scale{231 * 16.387064, 1e6}
	poundScale  = scale{45359237, 1e8}
	yearScale   = scale{365.25 * 86400, 1}
	percent     = scale{1, 100}
)

// part returns the n-th part of a scale.
func (s scale) part(n float64) scale { return scale{s.num, s.den * n} }

// multiple returns n times a scale.
func (s scale) multiple(n float64) scale { return scale{s.num * n, s.den} }

// entry is a line of the unit table: the names divided by spaces (an underscore
// stands for a space within a name), and the SI prefixes that the first of them
// takes.
type entry struct {
	names, prefixes string
	symbol
}

var entries = []entry{
	// Mass. "gr" is the grain, as in the precious metals trade.
	{"g gram grams gramme grammes", "n u m k", symbol{dimMass, gram, 0}},
	{"kilogram kilograms kilo kilos", "", symbol{dimMass, unity, 0}},
	{"milligram milligrams", "", symbol{dimMass, gram.part(1e3), 0}},
	{"t tonne tonnes", "", symbol{dimMass, scale{1000, 1}, 0}},
	{"lb lbs pound pounds", "", symbol{dimMass, poundScale, 0}},
	{"oz ounce ounces", "", symbol{dimMass, poundScale.part(16), 0}},
	{"gr grain grains", "", symbol{dimMass, poundScale.part(7000), 0}},
	{"dwt pennyweight pennyweights", "", symbol{dimMass, poundScale.multiple(24).part(7000), 0}},
	{"ozt oz_t oz_tr t_oz troy_oz troy_ounce troy_ounces toz", "", symbol{dimMass, poundScale.multiple(480).part(7000), 0}},

	// Volume.
	{"L liter liters litre litres", "u m c d", symbol{dimVolume, litre, 0}},
	{"l", "u m c d", symbol{dimVolume, litre, 0}},
	{"millilitre millilitres milliliter milliliters", "", symbol{dimVolume, litre.part(1e3), 0}},
	{"cc", "", symbol{dimVolume, litre.part(1e3), 0}},
	{"gal gallon gallons us_gal US_gal usgal", "", symbol{dimVolume, gallonScale, 0}},
	{"qt quart quarts", "", symbol{dimVolume, gallonScale.part(4), 0}},
	{"pt pint pints", "", symbol{dimVolume, gallonScale.part(8), 0}},
	{"floz fl_oz fluid_ounce fluid_ounces", "", symbol{dimVolume, gallonScale.part(128), 0}},
	{"impgal imp_gal imperial_gallon imperial_gallons", "", symbol{dimVolume, scale{454609, 1e8}, 0}},

	// Amount and concentration.
	{"mol mole moles", "n u m k", symbol{dimAmount, unity, 0}},
	{"M molar", "u m", symbol{dimMolarity, unity.times(litre, -1), 0}},

	// Length.
	{"m metre metres meter meters", "n u m c d k", symbol{dimLength, unity, 0}},
	{"micron microns", "", symbol{dimLength, scale{1, 1e6}, 0}},
	{"in inch inches", "", symbol{dimLength, inchScale, 0}},
	{"ft foot feet", "", symbol{dimLength, inchScale.multiple(12), 0}},
	{"mil mils thou", "", symbol{dimLength, inchScale.part(1000), 0}},

	// Time.
	{"s sec second seconds", "m", symbol{dimTime, unity, 0}},
	{"min minute minutes", "", symbol{dimTime, scale{60, 1}, 0}},
	{"h hr hrs hour hours", "", symbol{dimTime, hour, 0}},
	{"d day days", "", symbol{dimTime, scale{86400, 1}, 0}},
	{"week weeks", "", symbol{dimTime, scale{7 * 86400, 1}, 0}},
	{"month months", "", symbol{dimTime, yearScale.part(12), 0}},
	{"year years yr", "", symbol{dimTime, yearScale, 0}},

	// Electricity and energy.
	{"A amp amps ampere amperes", "u m k", symbol{dimCurrent, unity, 0}},
	{"C coulomb coulombs", "m k", symbol{dimCharge, unity, 0}},
	{"Ah", "m", symbol{dimCharge, hour, 0}},
	{"V volt volts", "u m k", symbol{dimPotential, unity, 0}},
	{"W watt watts", "m k M", symbol{dimPower, unity, 0}},
	{"J joule joules", "m k M", symbol{dimEnergy, unity, 0}},
	{"Wh", "m k M", symbol{dimEnergy, hour, 0}},

	// Temperature.
	{"K kelvin kelvins", "", symbol{dimTemperature, unity, 0}},
	{"degC °C ℃ deg_C ° °_C celsius Celsius", "", symbol{dimTemperature, unity, zeroCelsius}},
	{"degF °F ℉ deg_F °_F fahrenheit Fahrenheit", "", symbol{dimTemperature, scale{5, 9}, 459.67 * 5 / 9}},

	// Flow.
	{"cfm", "", symbol{dimVolume.times(dimTime, -1), scale{1, 60}.times(inchScale.multiple(12), 3), 0}},

	// Shares and pieces.
	{"% percent pct", "", symbol{dimension{}, percent, 0}},
	{"‰ permille permil", "", symbol{dimension{}, scale{1, 1e3}, 0}},
	{"ppm", "", symbol{dimension{}, scale{1, 1e6}, 0}},
	{"ppb", "", symbol{dimension{}, scale{1, 1e9}, 0}},
	{"piece pieces pc pcs each", "", symbol{dimCount, unity, 0}},
}

// prefixes are the SI prefixes that people use at a bench. "u" also stands for
// both forms of the micro sign.
var prefixes = map[string]scale{
	"n": {1, 1e9}, "u": {1, 1e6}, "m": {1, 1e3}, "c": {1, 100}, "d": {1, 10}, "k": {1e3, 1}, "M": {1e6, 1},
}

var symbols = sync.OnceValue(func() map[string]symbol {
	table := make(map[string]symbol, 256)
	for _, e := range entries {
		e.addTo(table)
	}
	return table
})

func (e entry) addTo(table map[string]symbol) {
	names := strings.Fields(e.names)
	for _, name := range names {
		table[strings.ReplaceAll(name, "_", " ")] = e.symbol
	}
	for _, p := range strings.Fields(e.prefixes) {
		s := symbol{e.dim, e.scale.times(prefixes[p], 1), 0}
		table[p+names[0]] = s
		if p == "u" {
			table["µ"+names[0]], table["μ"+names[0]] = s, s
		}
	}
}
