package main

import (
	"github.com/spf13/cobra"

	"afterpour/chem/stoich"
)

// balanceJSON is the result of `work balance --json`.
type balanceJSON struct {
	SchemaVersion int     `json:"schema_version"`
	Coefficients  []int64 `json:"coefficients"`
	Balanced      string  `json:"balanced"`
}

func (p *program) workBalance() *cobra.Command {
	return &cobra.Command{
		Use:   "balance REACTION",
		Short: "Balance a reaction in every element and in charge",
		Example: `  afterpour work balance "Cu + Ag^+ -> Cu^2+ + Ag"
  afterpour work balance "Ag + HNO3 = AgNO3 + NO + H2O" --json`,
		Args: usageArgs(cobra.ExactArgs(1)),
		RunE: p.worked(balanceWork),
	}
}

func balanceWork(args []string) (answer, error) {
	balanced, err := stoich.Balance(args[0])
	if err != nil {
		return answer{}, usageError{err}
	}
	object := balanceJSON{schemaVersion, balanced.Coefficients, balanced.Text}
	return answer{balanced.Text + "\n", object}, nil
}
