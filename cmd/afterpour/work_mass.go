package main

import (
	"github.com/spf13/cobra"

	"afterpour/chem/substance"
)

// massJSON is the result of `work mass --json`.
type massJSON struct {
	SchemaVersion int                `json:"schema_version"`
	Formula       string             `json:"formula"`
	MolarMass     float64            `json:"molar_mass_g_mol"`
	Shares        map[string]float64 `json:"shares"`
}

func (p *program) workMass() *cobra.Command {
	return &cobra.Command{
		Use:   "mass FORMULA",
		Short: "Molar mass of a formula and the mass share of each element",
		Example: `  afterpour work mass "CuSO4·5H2O"
  afterpour work mass AgCl --json`,
		Args: usageArgs(cobra.ExactArgs(1)),
		RunE: p.worked(massWork),
	}
}

func massWork(args []string) (answer, error) {
	formula, err := substance.ParseFormula(args[0])
	if err != nil {
		return answer{}, usageError{err}
	}
	object := massJSON{
		SchemaVersion: schemaVersion, Formula: formula.String(),
		MolarMass: formula.MolarMass().GramsPerMole(), Shares: map[string]float64{},
	}
	rows := [][]string{}
	for _, symbol := range formula.Elements() {
		share := float64(formula.MassShare(symbol))
		object.Shares[symbol] = share
		rows = append(rows, []string{symbol, significant(100*share, 4) + " %"})
	}
	var text page
	text.text("", "%s: %s g/mol", formula, significant(object.MolarMass, 6))
	text.table("  ", []align{left, right}, rows)
	return answer{text.String(), object}, nil
}
