package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"
)

// helpText explains a command: what it does, then an example, then the rest.
// It is written by hand because the command library's templates make the
// linker keep every exported method of the program.
func helpText(cmd *cobra.Command) string {
	var b strings.Builder
	about := cmd.Long
	if about == "" {
		about = cmd.Short
	}
	part(&b, "", about)
	if cmd.HasExample() {
		part(&b, "Example:", cmd.Example)
	}
	part(&b, "Usage:", usageLines(cmd))
	if cmd.HasAvailableSubCommands() {
		part(&b, "Commands:", commandLines(cmd))
	}
	if flags := cmd.LocalFlags(); flags.HasAvailableFlags() {
		part(&b, "Flags:", flags.FlagUsagesWrapped(pageWidth))
	}
	if flags := cmd.InheritedFlags(); flags.HasAvailableFlags() {
		part(&b, "Flags of every command:", flags.FlagUsagesWrapped(pageWidth))
	}
	return b.String()
}

// part adds a part of the help under its heading, a line apart from the last.
func part(b *strings.Builder, heading, text string) {
	if b.Len() > 0 {
		b.WriteString("\n")
	}
	if heading != "" {
		b.WriteString(heading + "\n")
	}
	b.WriteString(strings.TrimRight(text, " \n") + "\n")
}

func usageLines(cmd *cobra.Command) string {
	var lines []string
	if cmd.Runnable() {
		lines = append(lines, "  "+cmd.UseLine())
	}
	if cmd.HasAvailableSubCommands() {
		lines = append(lines, "  "+cmd.CommandPath()+" COMMAND")
	}
	return strings.Join(lines, "\n")
}

func commandLines(cmd *cobra.Command) string {
	var lines []string
	for _, sub := range cmd.Commands() {
		if sub.IsAvailableCommand() {
			lines = append(lines, fmt.Sprintf("  %-*s %s", cmd.NamePadding(), sub.Name(), sub.Short))
		}
	}
	return strings.Join(lines, "\n")
}

// explain makes a command and those below it print this help.
func explain(root *cobra.Command) {
	root.SetHelpFunc(func(cmd *cobra.Command, _ []string) {
		_, _ = io.WriteString(cmd.OutOrStdout(), helpText(cmd)) // a closed pipe ends the process
	})
	root.SetUsageFunc(func(cmd *cobra.Command) error {
		_, err := io.WriteString(cmd.OutOrStderr(), helpText(cmd))
		return err
	})
}
