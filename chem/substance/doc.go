// Package substance knows elements, formulas, species, reactions and streams of matter, and what reagents, alloys and
// solution strengths mean in moles.
//
// A Species is one substance in one phase; the registry of them comes from package data and numbers them. A Stream is a
// row of amounts by species at one temperature: what stands in a vessel or on a filter. A Reaction is checked for
// balance in every element and in charge when it is read. Charges are in elementary charges, amounts in mol, volumes in
// L, concentrations in mol/L of solution.
package substance
