// Package equil computes aqueous equilibrium: which species a liquor holds,
// which solids stand in it, its pH and its ionic strength.
//
// Two things move a stream to equilibrium behind one interface, Equilibrator:
//
//   - Limiting runs whole reactions in a fixed order until one reactant is
//     gone. It is exact stoichiometry and knows no constants except the
//     solubility of lead chloride and lead sulfate.
//   - Speciation solves mass action and mass balance together with one of the
//     published sets of constants, each with its own activity model.
//
// Set.Solve answers one question put as a Problem (DecodeProblem reads it from a
// file); curves ask many. Solver is the numerical kernel below them all. It
// works on plain float64 slices; amounts are mol, concentrations mol per kg of
// water. The sets of constants are tables in data, each row with its source; the
// reviewed set says for each row why it was taken.
//
// Not modelled: redox (copper stays copper(II), iron iron(III), nitrate and
// ammonia are inert), gases other than carbon dioxide, rates, solid solutions
// and coprecipitation. Beyond the published ranges of the activity models
// answers carry warnings; how far the sets lie apart is the doubt to carry.
package equil
