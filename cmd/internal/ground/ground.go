// Package ground settles the terminal's background before anything asks for it.
//
// The terminal toolkit used by the screen queries the terminal for its
// background colour in a package initialiser. Where nothing answers (a raw
// pseudo-terminal, some remote relays, an automatic build) every command, even
// --version, then waits about five seconds. Stating the background here first
// makes that query unnecessary.
//
// Go initialises packages in the order of their import paths once their own
// imports are ready. This path ("afterpour/...") sorts before
// "github.com/charmbracelet/bubbletea", and the package imports only lipgloss,
// so its init always runs first. A test watches both facts.
package ground

import "github.com/charmbracelet/lipgloss"

func init() {
	// Dark is only the value that stops the query: the screen picks its theme
	// by itself later.
	lipgloss.SetHasDarkBackground(true)
}
