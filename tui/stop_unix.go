//go:build unix

package tui

import (
	"os"
	"os/signal"
	"syscall"

	tea "github.com/charmbracelet/bubbletea"
	"golang.org/x/sys/unix"
)

// handleStops lets a stop from outside (kill -TSTP) do what ctrl+z does: the
// terminal is given back before the program stops, and the screen is painted anew
// when it goes on. The toolkit does so only for a message of its own, at the end of
// which it sends the stop on. So of two stops in a row the first is turned into
// that message, and the second, the toolkit's, stops the program: with SIGSTOP,
// since a stop that was once caught no longer stops a Go program.
func handleStops(p *tea.Program) (end func()) {
	if !hasShell() {
		return func() {}
	}
	stops, over := make(chan os.Signal, 1), make(chan struct{})
	signal.Notify(stops, syscall.SIGTSTP)
	go func() {
		for released := false; ; released = !released {
			select {
			case <-over:
				return
			case <-stops:
			}
			if released {
				_ = syscall.Kill(os.Getpid(), syscall.SIGSTOP)
			} else {
				p.Send(tea.SuspendMsg{})
			}
		}
	}()
	return func() {
		signal.Stop(stops)
		close(over)
	}
}

// stopSelf is the command of ctrl+z.
func stopSelf() tea.Msg {
	if !hasShell() {
		return cannotStopMsg{}
	}
	_ = syscall.Kill(os.Getpid(), syscall.SIGTSTP)
	return nil
}

// hasShell reports that somebody is there who can let the program go on: where it
// is the first process of its session, as in a container or a window of its own,
// the system does not stop it, and waiting to go on would be for ever.
func hasShell() bool {
	own, err := unix.Getsid(0)
	if err != nil || own == os.Getpid() {
		return false
	}
	parents, err := unix.Getsid(os.Getppid())
	return err == nil && parents == own
}
