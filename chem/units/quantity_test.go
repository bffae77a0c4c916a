package units

import (
	"fmt"
	"testing"
)

// TestCrossQuantities checks the arithmetic between quantities on figures that
// can be followed by hand.
func TestCrossQuantities(t *testing.T) {
	const silver MolarMass = 107.87
	tests := map[string]struct{ got, want float64 }{
		"m/M":        {(107.87 * Gram).Amount(silver).Moles(), 1},
		"n·M":        {Amount(2).Mass(silver).Grams(), 215.74},
		"m/ρ":        {(1 * Kilogram).Volume(1.25 * KilogramPerLitre).Litres(), 0.8},
		"ρ·V":        {(500 * Millilitre).Mass(1.4 * GramPerMillilitre).Grams(), 700},
		"m/V":        {(4.9 * Gram).Concentration(1 * Litre).GramsPerLitre(), 4.9},
		"c·V":        {(0.1 * MolePerLitre).Amount(4.55 * Millilitre).Millimoles(), 0.455},
		"n/V":        {(0.455 * Millimole).Concentration(10 * Millilitre).MolesPerLitre(), 0.0455},
		"c·M":        {(0.0455 * MolePerLitre).MassConcentration(silver).GramsPerLitre(), 4.908085},
		"γ/M":        {MassConcentration(4.908085).Concentration(silver).MolesPerLitre(), 0.0455},
		"γ·V":        {(4.9 * GramPerLitre).Mass(3.2 * Litre).Grams(), 15.68},
		"w·ρ":        {(1.4 * KilogramPerLitre).MassConcentration(68 * Percent).GramsPerLitre(), 952},
		"w·m":        {(8 * Percent).Of(410 * Gram).Grams(), 32.8},
		"m/m":        {(32.8 * Gram).Fraction(410 * Gram).Percent(), 8},
		"permille":   {(92.5 * Percent).Permille(), 925},
		"I·t":        {(5 * Ampere).Charge(2 * Hour).Coulombs(), 36000},
		"Q/I":        {(10 * AmpereHour).Time(5 * Ampere).Hours(), 2},
		"Q·U":        {(10 * AmpereHour).Energy(2 * Volt).KilowattHours(), 0.02},
		"U·I":        {(5 * Ampere).Power(12 * Volt).Watts(), 60},
		"P·t":        {(800 * Watt).Energy(30 * Minute).KilowattHours(), 0.4},
		"E/P":        {(0.4 * KilowattHour).Time(800 * Watt).Minutes(), 30},
		"A·t":        {(850 * SquareCentimetre).Volume(37 * Micrometre).Millilitres(), 3.145},
		"flow·time":  {(60 * CubicMetrePerHour).Volume(30 * Minute).CubicMetres(), 30},
		"troy":       {(1 * Kilogram).TroyOunces(), 32.150746568627980},
		"celsius":    {Celsius(20).Kelvins(), 293.15},
		"fahrenheit": {Fahrenheit(212).Celsius(), 100},
		"days":       {(1 * Month).Days(), 30.4375},
		"area":       {(100 * SquareCentimetre).SquareDecimetres(), 1},
		"length":     {(1 * Inch).Micrometres(), 25400},
		"none":       {Mass(1).Amount(0).Moles() + Mass(1).Volume(0).Litres() + Charge(1).Time(0).Hours(), 0},
	}
	for name, test := range tests {
		if !near(test.got, test.want, 1e-12) {
			t.Errorf("%s = %.15g, want %.15g", name, test.got, test.want)
		}
	}
}

func ExampleParse() {
	k, d, err := Parse("8.0 % ± 1 %", Fraction)
	fmt.Printf("%v: %g, standard deviation %g, %v\n", k, d.Mean, d.SD, err)
	_, _, err = Parse("1,234 g", MassKind)
	fmt.Println(err)
	// Output:
	// share: 0.08, standard deviation 0.01, <nil>
	// units: "1,234" can be read as 1.234 or as 1234; write 1.234 (decimal) or 1234 (thousands)
}
