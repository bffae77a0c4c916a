package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"afterpour/chem/thermal"
	"afterpour/chem/units"
)

// boilDownJSON is the result of `work boil-down --json`.
type boilDownJSON struct {
	SchemaVersion int     `json:"schema_version"`
	EnergyKWh     float64 `json:"energy_kwh"`
}

func (p *program) workBoilDown() *cobra.Command {
	var from, to, efficiency string
	cmd := &cobra.Command{
		Use:   "boil-down --from VOLUME --to VOLUME",
		Short: "Heat that boiling a liquor down takes",
		Long: `Boil-down works out the heat that pure water takes from 20 degC and 1 atm. No
heat is lost unless --efficiency says what share of it reaches the water.`,
		Example: `  afterpour work boil-down --from 3L --to 0.2L
  afterpour work boil-down --from 3L --to 0.2L --efficiency 50%`,
		Args: usageArgs(cobra.NoArgs),
		RunE: p.worked(func([]string) (answer, error) { return boilDownWork(from, to, efficiency) }),
	}
	cmd.Flags().StringVar(&from, "from", "", "`VOLUME` at 20 degC to begin with")
	cmd.Flags().StringVar(&to, "to", "", "`VOLUME` to stop at")
	cmd.Flags().StringVar(&efficiency, "efficiency", "1", "`SHARE` of the heat that reaches the water")
	return cmd
}

func boilDownWork(fromText, toText, efficiencyText string) (answer, error) {
	from, err := quantity("--from", fromText, "L", units.VolumeKind)
	if err != nil {
		return answer{}, err
	}
	to, err := quantity("--to", toText, "L", units.VolumeKind)
	if err != nil {
		return answer{}, err
	}
	efficiency, err := share("--efficiency", efficiencyText)
	if err != nil {
		return answer{}, err
	}
	heat, err := thermal.BoilDown(units.Volume(from), units.Volume(to))
	if err != nil {
		return answer{}, usageError{err}
	}
	energy := heat.KilowattHours() / efficiency
	return answer{fmt.Sprintf("%s kWh\n", significant(energy, 4)), boilDownJSON{schemaVersion, energy}}, nil
}
