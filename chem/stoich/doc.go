// Package stoich balances reactions exactly and runs them: smallest whole coefficients, limiting reactant, extent, what is
// made and what is left. Balance and YieldOf take any formulas; Extent and Run work on the registry species of a stream.
package stoich
