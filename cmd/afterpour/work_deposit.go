package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"afterpour/chem/electro"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// depositJSON is the result of `work deposit --json`.
type depositJSON struct {
	SchemaVersion int     `json:"schema_version"`
	MassG         float64 `json:"mass_g"`
}

func (p *program) workDeposit() *cobra.Command {
	var efficiency string
	cmd := &cobra.Command{
		Use:   "deposit METAL CHARGE AMPS HOURS",
		Short: "Mass of metal that a current deposits",
		Long: `Deposit works out by Faraday's laws what a current lays down. CHARGE is that of
the metal's ion: 1 for silver, 2 for copper.`,
		Example: `  afterpour work deposit Ag 1 10.23 1
  afterpour work deposit Cu 2 3 8 --efficiency 20%`,
		Args: usageArgs(cobra.ExactArgs(4)),
		RunE: p.worked(func(args []string) (answer, error) { return depositWork(args, efficiency) }),
	}
	cmd.Flags().StringVar(&efficiency, "efficiency", "1", "`SHARE` of the charge that lays down metal, such as 20%")
	return cmd
}

func depositWork(args []string, efficiencyText string) (answer, error) {
	element, err := substance.ElementBySymbol(args[0])
	if err != nil {
		return answer{}, usageError{err}
	}
	charge, err := strconv.Atoi(strings.Trim(args[1], "+"))
	if err != nil {
		return answer{}, usagef("CHARGE: %q is not a whole number such as 2", args[1])
	}
	amps, err := quantity("AMPS", args[2], "A", units.CurrentKind)
	if err != nil {
		return answer{}, err
	}
	time, err := quantity("HOURS", args[3], "h", units.HoursKind)
	if err != nil {
		return answer{}, err
	}
	efficiency, err := share("--efficiency", efficiencyText)
	if err != nil {
		return answer{}, err
	}
	passed := units.Current(amps).Charge(units.Hours(time))
	mass, err := electro.Deposit(passed, charge, element.Weight, efficiency)
	if err != nil {
		return answer{}, usageError{err}
	}
	object := depositJSON{schemaVersion, mass.Grams()}
	text := fmt.Sprintf("%s g of %s from %s A h\n", significant(mass.Grams(), 4), element.Symbol, significant(passed.AmpereHours(), 4))
	return answer{text, object}, nil
}
