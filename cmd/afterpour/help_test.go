package main

import (
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// commands lists every command with its path.
func commands(cmd *cobra.Command) []*cobra.Command {
	list := []*cobra.Command{cmd}
	for _, sub := range cmd.Commands() {
		list = append(list, commands(sub)...)
	}
	return list
}

// Every command's help says what it does, then gives an example, then the
// rest; every example is a call of that command.
func TestHelp(t *testing.T) {
	root := newProgram(nil, nil, nil).rootCommand()
	for _, cmd := range commands(root) {
		path := strings.Fields(cmd.CommandPath())[1:]
		t.Run(strings.Join(path, " "), func(t *testing.T) {
			help := call(t, append(path, "--help")...).want(t, exitDone).stdout
			example, usage := strings.Index(help, "Example:\n"), strings.Index(help, "Usage:\n")
			if example < 0 || usage < example {
				t.Fatalf("no example before the usage:\n%s", help)
			}
			if !strings.Contains(help, "  "+cmd.CommandPath()) {
				t.Errorf("the example does not call the command:\n%s", help)
			}
			if strings.HasPrefix(cmd.CommandPath(), "afterpour completion") {
				return // the command library words these
			}
			for _, line := range strings.Split(help, "\n") {
				if n := len([]rune(line)); n > 80 {
					t.Errorf("a line of %d characters: %q", n, line)
				}
			}
		})
	}
}

func TestVersion(t *testing.T) {
	if got := call(t, "--version").want(t, exitDone).stdout; !strings.HasPrefix(got, "afterpour ") {
		t.Errorf("got %q", got)
	}
}

// TestExamplesRun runs the examples of the help that need no file.
func TestExamplesRun(t *testing.T) {
	for _, cmd := range commands(newProgram(nil, nil, nil).rootCommand()) {
		for _, line := range strings.Split(cmd.Example, "\n") {
			args := shellWords(t, strings.TrimPrefix(strings.TrimSpace(line), "afterpour"))
			if cmd.Parent() == nil || cmd.Parent().Name() != "work" || cmd.Name() == "equilibrium" {
				continue
			}
			t.Run(line, func(t *testing.T) { call(t, args...).want(t, exitDone) })
		}
	}
}
