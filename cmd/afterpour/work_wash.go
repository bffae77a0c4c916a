package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"afterpour/chem/thermal"
	"afterpour/chem/units"
)

// washJSON is the result of `work wash --json`.
type washJSON struct {
	SchemaVersion int     `json:"schema_version"`
	LeftShare     float64 `json:"left_share"`
}

func (p *program) workWash() *cobra.Command {
	var heel, fill string
	var times int
	cmd := &cobra.Command{
		Use:   "wash --heel VOLUME --fill VOLUME --times N",
		Short: "Share of a dissolved salt left after washing by decanting",
		Long: `Wash works out what share of the salt in the heel is still there after the given
number of washes. Each wash adds the fill to the heel, mixes it fully and pours
off down to the heel again.`,
		Example: "  afterpour work wash --heel 0.05L --fill 0.5L --times 5",
		Args:    usageArgs(cobra.NoArgs),
		RunE:    p.worked(func([]string) (answer, error) { return washWork(heel, fill, times) }),
	}
	cmd.Flags().StringVar(&heel, "heel", "", "`VOLUME` of liquor left behind by each decanting")
	cmd.Flags().StringVar(&fill, "fill", "", "`VOLUME` of water added to the heel for each wash")
	cmd.Flags().IntVar(&times, "times", 1, "`NUMBER` of washes")
	return cmd
}

func washWork(heelText, fillText string, times int) (answer, error) {
	heel, err := quantity("--heel", heelText, "L", units.VolumeKind)
	if err != nil {
		return answer{}, err
	}
	fill, err := quantity("--fill", fillText, "L", units.VolumeKind)
	if err != nil {
		return answer{}, err
	}
	left, err := thermal.LeftShare(units.Volume(heel), units.Volume(fill), times)
	if err != nil {
		return answer{}, usageError{err}
	}
	text := fmt.Sprintf("%s of the salt in the heel is left after %d washes\n", significant(left, 3), times)
	return answer{text, washJSON{schemaVersion, left}}, nil
}
