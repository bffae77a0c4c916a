// Package thermal is the heat, the washing and the air of the bench: what it
// takes to warm, boil down, dry, calcine and melt; what is left after washing;
// what a liquor holds at a temperature; and what a gas does to the air of a room.
//
// Conventions. Heat that must be put in is positive, heat given off negative.
// Gas volumes are at the temperature named and 1 atm. Heats at the bench leave
// out losses; divide by an efficiency of FigureByID (HeaterHours does) for the
// energy at the wall. Every exported function returns an error (ErrDomain) for
// an argument outside its range and never a NaN or an infinity.
//
// Not modelled: boiling-point elevation of a strong liquor (its boiling takes
// the same heat within a few per cent), heats of mixing of liquors, superheated
// steam, alloys (melted as a sum of pure metals), and draughts.
package thermal
