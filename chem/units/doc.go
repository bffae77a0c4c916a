// Package units holds the quantities of the bench: one defined float64 type
// for each physical quantity, kept in one base unit, and the parser that reads
// a quantity with its unit and its doubt from text.
//
// A value enters through a unit constant or a constructor (5*units.Gram,
// units.Celsius(25)) and leaves through an accessor (m.Grams()). Arithmetic
// between quantities is a named method (m.Amount(molarMass)), because Go would
// happily multiply two masses. Three habits keep the types honest: never
// multiply two quantities, never pass a bare number where a quantity is meant,
// and convert to float64 only at the edge of a numerical kernel.
//
// # Doubt
//
// Parse reads the notation of the input files:
//
//	3.2 L ± 5 %        normal, standard deviation 5 % of the value
//	410 g ± 2 g        normal, standard deviation 2 g
//	8.0 % ± 1 %        the value is in percent, so the doubt is percentage points
//	20..30 g/L         uniform between the ends
//	30.00 / ozt        a price: the reciprocal of a mass
//
// What follows ± is a standard uncertainty, one standard deviation (JCGM
// 100:2008, 2.3.1). The decimal comma is accepted; a single comma followed by
// exactly three digits could be either a decimal comma or a thousands
// separator, and is refused with both readings shown.
//
// # Conventions
//
// A month is a twelfth of a Julian year of 365.25 days. An ounce (oz) and a
// pound (lb) are avoirdupois; the troy ounce is ozt. Gallon, quart, pint and
// fluid ounce are those of the United States; the imperial gallon is impgal.
// ppm is a mass fraction.
package units
