// Package data holds the program's tables of facts, embedded as TOML, with the source of every row.
//
// Each table is an array of [[row]]; each row names a key of sources.toml, says on what basis it stands (published,
// derived, from memory, common practice, assumption) and, in where, the page or table, or how it was derived. A table is
// decoded on first use and checked strictly: an unknown key, an unresolved source or an impossible figure is an error,
// and the package's tests load every table. Unknown figures are absent, never 0.
//
// The package knows rows and sources and no chemistry: formulas and reactions are strings here. Package substance reads
// them and checks that they balance.
package data
