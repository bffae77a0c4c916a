// Package chem is the roof of the chemistry; it holds only this page. Nothing below it knows of money or of screens.
//
// # Packages
//
//	units      quantity types, each in one base unit; reading and writing quantities with their doubt
//	input      strict reading of TOML files, positions of keys, the register of named inputs
//	data       tables of facts with the source of every row, embedded
//	substance  elements, formulas, species, reactions, streams; reagents, alloys, dissolving, strengths, air limits
//	stoich     exact balancing, limiting reactant, extent, yields, dilution, titration, gravimetry
//	electro    Faraday's law, Nernst, cell voltage, limiting current
//	thermal    heat to warm, boil down, calcine and melt; washing; fresh air
//	equil      aqueous equilibrium, and the limiting reactions that stand in for it
//	lot        a lot file and its inventory
//	route      bench steps, route files, the ledger and the simulation of a plan
//	store      reading and saving files
//
// Imports go one way: route → lot → {stoich, equil, electro, thermal} → substance → data → {units, input}. store imports
// only input.
//
// # Conventions
//
//   - Products have positive stoichiometric numbers, reactants negative ones; an extent is in mol of reaction.
//   - Potentials are reduction potentials against the standard hydrogen electrode.
//   - Concentrations are in mol/L of solution; the ionic strength of a stream is in mol/kg of water.
//   - Charge is conserved like an element, and a stream of a real liquor has none.
//   - A solid's mass is dry unless it is named wet. A fineness or a share is by mass.
//   - A volume of liquor is that of water and of what is dissolved; apparent volumes of ions stand on the scale H^+ = 0.
//   - Molar masses come from the abridged standard atomic weights of one year, constants from one CODATA edition.
//   - Kernels take plain float64 and state their units; exported functions take and return quantity types.
//   - A quantity typed by a person has a distribution; the functions here take plain values of it. Doubt comes from
//     calling them again at other values, never from inside.
//   - No NaN or infinity leaves a package, and nothing that a file can cause panics.
//
// # What is not modelled
//
//   - Rates, beyond the bounds that a step states: what runs is taken to its end or to a stated share.
//   - Heats of mixing and of neutralising in the temperature of a stream: mixing takes the mean by mass.
//   - Volumes of liquor away from 20 degC beyond the expansion of water; sulfuric acid above 80 % as a stream.
//   - Hydrolysed and mixed complexes in a stream's list of species: metals stand there as simple ions, and what they turn
//     into in chloride or ammonia is the business of equil.
//   - Cyanide, mercury, chromate, azide, beryllium and radioactive matter: such lots are refused.
package chem
