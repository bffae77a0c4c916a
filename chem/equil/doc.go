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
// Solver is the numerical kernel below Speciation. It works on plain float64
// slices; amounts are mol, concentrations mol per kg of water.
//
// Not modelled: redox (copper stays copper(II), iron iron(III), nitrate and
// ammonia are inert), gases other than carbon dioxide leaving acid in Limiting,
// rates, solid solutions and coprecipitation.
package equil
