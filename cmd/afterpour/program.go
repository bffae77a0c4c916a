package main

import (
	"io"
	"runtime/debug"
	"time"

	"afterpour/chem/store"

	"github.com/spf13/cobra"
)

// program is one call: its streams and the world around it. Everything that a
// test may want to replace is a field.
type program struct {
	stdin          io.Reader
	stdout, stderr io.Writer
	layer          store.Layer
	configDir      func() (string, error)
	today          func() time.Time
}

func newProgram(stdin io.Reader, stdout, stderr io.Writer) *program {
	return &program{
		stdin: stdin, stdout: stdout, stderr: stderr,
		layer:     store.OS,
		configDir: store.ConfigDir,
		today:     time.Now,
	}
}

// rootCommand is the program without a subcommand: the screen, or the standings.
func (p *program) rootCommand() *cobra.Command {
	var flags screenFlags
	root := &cobra.Command{
		Use:   "afterpour [LOT.toml]",
		Short: "Is this residue worth working up, by which route, and what will it take?",
		Long: `Afterpour reads what you know of a jar of spent liquor, sludge or filings and
what you pay and are paid for things, works out every route it knows step by
step, and ranks the plans by what is left over.

In a terminal it opens a screen; otherwise it prints the standings, as rank
does. Without a lot file it uses its built-in sample lot.`,
		Example: `  afterpour
  afterpour strip.toml
  afterpour rank strip.toml --json`,
		Version:       version(),
		SilenceErrors: true,
		SilenceUsage:  true,
		Args:          usageArgs(cobra.MaximumNArgs(1)),
		RunE:          func(cmd *cobra.Command, args []string) error { return p.open(cmd, flags, args) },
	}
	flags.add(root)
	explain(root)
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usageError{err} })
	root.PersistentFlags().String("prices", "", "take prices from `FILE` (default: ./prices.toml, else that of the configuration folder, else the built-in one)")
	addRoutesFlag(root)
	root.PersistentFlags().Bool(noOutturns, false, "leave aside what earlier outturns beside the lot have taught")
	root.AddCommand(p.rankCommand(), p.sheetCommand(), p.outturnCommand(), p.checkCommand(), p.pricesCommand(), p.routesCommand(), p.workCommand())
	for _, cmd := range append(root.Commands(), root) {
		cmd.SuggestionsMinimumDistance = 2
	}
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd()
	giveExamples(root)
	return root
}

// giveExamples adds an example to the commands that the command library
// brings, so that no help is without one.
func giveExamples(root *cobra.Command) {
	for _, cmd := range root.Commands() {
		switch cmd.Name() {
		case "help":
			cmd.Example = "  afterpour help rank"
			cmd.Long = "Help explains any command: the same text as its --help."
		case "completion":
			cmd.Example = "  afterpour completion bash"
			for _, shell := range cmd.Commands() {
				shell.Example = "  afterpour completion " + shell.Name()
			}
		}
	}
}

// usageArgs makes a wrong number of arguments an error of usage.
func usageArgs(check cobra.PositionalArgs) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if err := check(cmd, args); err != nil {
			return usageError{err}
		}
		return nil
	}
}

// version is the version of the module that the program was built from.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" || info.Main.Version == "(devel)" {
		return "development build"
	}
	return info.Main.Version
}

// printText writes a text that has passed the cleaner to standard output.
func (p *program) printText(text string) error {
	_, err := io.WriteString(p.stdout, text)
	return err
}
