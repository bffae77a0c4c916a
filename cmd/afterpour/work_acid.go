package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"afterpour/chem/substance"
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
		Short: "Density and concentration of an acid, a base or peroxide",
		Long: `Acid turns a mass share into density, mol/L and g/L, or a concentration in mol/L
into a mass share, by interpolation in published tables at 20 degC.`,
		Example: `  afterpour work acid "nitric acid" "68 %"
  afterpour work acid "sodium hydroxide" "6 mol/L" --json`,
		Args: usageArgs(cobra.ExactArgs(2)),
		RunE: p.worked(acidWork),
	}
}

func acidWork(args []string) (answer, error) {
	name := args[0]
	kind, dist, err := units.Parse(args[1], units.Fraction, units.ConcentrationKind)
	if err != nil {
		return answer{}, usagef("STRENGTH: %w", err)
	}
	fraction := units.MassFraction(dist.Mean)
	if kind == units.ConcentrationKind {
		if fraction, err = substance.FractionOf(name, units.Concentration(dist.Mean)); err != nil {
			return answer{}, usageError{err}
		}
	}
	density, err := substance.SolutionDensity(name, fraction)
	if err != nil {
		return answer{}, usageError{err}
	}
	molarity, err := substance.MolarityOf(name, fraction)
	if err != nil {
		return answer{}, usageError{err}
	}
	object := acidJSON{
		SchemaVersion: schemaVersion, Density: density.GramsPerMillilitre(), MolL: molarity.MolesPerLitre(),
		GL: density.MassConcentration(fraction).GramsPerLitre(), MassShare: float64(fraction),
	}
	text := fmt.Sprintf("%s, %s: %s g/mL, %s mol/L, %s g/L at 20 degC\n", name, percent(object.MassShare),
		significant(object.Density, 4), significant(object.MolL, 4), significant(object.GL, 4))
	return answer{text, object}, nil
}
