//go:build !unix

package tui

import tea "github.com/charmbracelet/bubbletea"

// handleStops does nothing: there are no stops on this system.
func handleStops(*tea.Program) (end func()) { return func() {} }

// stopSelf is the command of ctrl+z.
func stopSelf() tea.Msg { return cannotStopMsg{} }
