// Package lot reads a lot file and works out what stands in the vessel: moles
// by species and phase, the free acid, and the doubt of each.
//
// A lot goes through four stages:
//
//	Decode     the file becomes a Lot; every figure in it becomes a named input
//	Model      the statements become estimates; their weights are fixed once,
//	           from the doubts that the file states or the defaults supply
//	Inventory  a pure function of plain values: the same values give the same
//	           vessel, whatever was asked before
//	Report     Inventory at the central values, with doubts by differences
//
// Sources (what was dissolved, plated, added, less what was taken) give one
// estimate of each metal; measurements of the liquid and of the solid give
// another, where each phase was measured or is fixed by other facts.
//
// Not modelled: complexes, partial hydrolysis, evaporation of acid, the ageing
// of solids, and reactions in the vessel after it was described, beyond those
// that chem/equil runs.
package lot
