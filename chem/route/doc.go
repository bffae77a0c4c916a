// Package route carries plans out on paper: each route is a chain of bench
// steps, each step moves moles from stream to stream by its reactions, and
// enters in a ledger what it took: reagents, heat, power, hours, gas, vessel
// space, losses.
//
// Routes are data: TOML files under routes/, embedded, checked when loaded.
// Step kinds are Go, one file each. Every figure in a route file is a named
// input with a distribution, so a simulation is a pure function of the plain
// values of the inputs: the same values give the same ledger, and doubt comes
// only from calling it at other values.
//
// The package knows no price.
package route
