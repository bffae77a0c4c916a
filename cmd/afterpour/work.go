package main

import (
	"github.com/spf13/cobra"
)

// answer is what a piece of bench arithmetic gives: a text for people and an
// object for --json.
type answer struct {
	text   string
	object any
}

// workCommand groups the bench arithmetic.
func (p *program) workCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "work",
		Short: "Bench arithmetic: formulas, reactions, charge, washes, heat",
		Example: `  afterpour work mass "CuSO4·5H2O"
  afterpour work balance "Cu + Ag^+ -> Cu^2+ + Ag"
  afterpour work acid "nitric acid" "68 %"`,
		Args: noSubcommand,
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	cmd.AddCommand(p.workMass(), p.workBalance(), p.workYield(), p.workDeposit(), p.workAcid(),
		p.workWash(), p.workBoilDown(), p.workEquilibrium())
	for _, sub := range cmd.Commands() {
		sub.Flags().Bool("json", false, "print one JSON object")
	}
	return cmd
}

// noSubcommand refuses arguments of a command that only groups others.
func noSubcommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	if near := cmd.SuggestionsFor(args[0]); len(near) > 0 {
		return usagef("%s has no command %q; did you mean %q?", cmd.CommandPath(), args[0], near[0])
	}
	return usagef("%s has no command %q", cmd.CommandPath(), args[0])
}

// worked makes a command's action of a piece of bench arithmetic.
func (p *program) worked(work func(args []string) (answer, error)) func(*cobra.Command, []string) error {
	return func(cmd *cobra.Command, args []string) error {
		asJSON, _ := cmd.Flags().GetBool("json")
		result, err := work(args)
		if err != nil {
			return p.fail(asJSON, "", err)
		}
		if asJSON {
			return p.printJSON(result.object)
		}
		return p.printText(cleanLines(result.text) + "\n")
	}
}
