package main

import (
	"github.com/spf13/cobra"

	"afterpour/chem/units"
)

// acidJSON is the result of `work acid --json`.
type acidJSON struct {
	SchemaVersion int     `json:"schema_version"`
	Density       float64 `json:"density_g_mL"`
	MolL          float64 `json:"mol_L"`
	GL            float64 `json:"g_L"`
	MassShare     float64 `json:"mass_share"`
}

func (p *program) workAcid() *cobra.Command {
	return &cobra.Command{
		Use:   "acid NAME STRENGTH",
		Short: "Density and concentration of an acid, a base or peroxide of a given strength",
		Long: `Acid turns a mass share into density, mol/L and g/L, or a concentration in mol/L
into a mass share, by interpolation in published tables at 20 degC.`,
		Example: `  afterpour work acid "nitric acid" "68 %"
  afterpour work acid "sodium hydroxide" "6 mol/L" --json`,
		Args: usageArgs(cobra.ExactArgs(2)),
		RunE: p.worked(acidWork),
	}
}

func acidWork(args []string) (answer, error) {
	kind, dist, err := units.Parse(args[1], units.Fraction, units.ConcentrationKind)
	if err != nil {
		return answer{}, usagef("STRENGTH: %w", err)
	}
	_ = kind
	_ = dist
	return answer{}, nil
}
