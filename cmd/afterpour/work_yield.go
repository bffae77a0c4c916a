package main

import (
	"strings"

	"github.com/spf13/cobra"

	"afterpour/chem/stoich"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// yieldJSON is the result of `work yield --json`.
type yieldJSON struct {
	SchemaVersion int                `json:"schema_version"`
	Limiting      string             `json:"limiting"`
	ExtentMol     float64            `json:"extent_mol"`
	MadeG         map[string]float64 `json:"made_g"`
	LeftG         map[string]float64 `json:"left_g"`
}

func (p *program) workYield() *cobra.Command {
	return &cobra.Command{
		Use:   "yield REACTION SPECIES=QUANTITY...",
		Short: "What a reaction makes of stated amounts, and what is left",
		Long: `Yield runs a reaction until one of the stated substances is used up. What is not
stated is taken to be there in plenty. The reaction is balanced first.`,
		Example: `  afterpour work yield "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag" Cu=10g Ag^+=0.5mol
  afterpour work yield "AgNO3 + NaCl -> AgCl + NaNO3" AgNO3=17g NaCl=10g --json`,
		Args: usageArgs(cobra.MinimumNArgs(2)),
		RunE: p.worked(yieldWork),
	}
}

func yieldWork(args []string) (answer, error) {
	amounts := map[string]float64{}
	for _, arg := range args[1:] {
		name, mol, err := speciesAmount(arg)
		if err != nil {
			return answer{}, err
		}
		amounts[name] += mol
	}
	yield, err := stoich.YieldOf(args[0], amounts)
	if err != nil {
		return answer{}, usageError{err}
	}
	object := yieldJSON{schemaVersion, yield.Limiting, yield.ExtentMol, yield.MadeG, yield.LeftG}
	var text page
	text.text("", "limited by %s; extent %s mol", yield.Limiting, significant(yield.ExtentMol, 4))
	var rows [][]string
	for _, name := range sortedKeys(yield.MadeG) {
		rows = append(rows, []string{"made", name, significant(yield.MadeG[name], 4) + " g"})
	}
	for _, name := range sortedKeys(yield.LeftG) {
		rows = append(rows, []string{"left", name, significant(yield.LeftG[name], 4) + " g"})
	}
	text.table("  ", []align{left, left, right}, rows)
	return answer{text.String(), object}, nil
}

// speciesAmount reads "Cu=10 g" or "Ag^+=0.5 mol" as an amount in mol.
func speciesAmount(arg string) (name string, mol float64, err error) {
	name, quantity, found := strings.Cut(arg, "=")
	if !found {
		return "", 0, usagef("%q is not SPECIES=QUANTITY, such as Cu=10g", arg)
	}
	formula, err := substance.ParseFormula(name)
	if err != nil {
		return "", 0, usageError{err}
	}
	kind, dist, err := units.Parse(quantity, units.MassKind, units.AmountKind)
	if err != nil {
		return "", 0, usageError{err}
	}
	if kind == units.AmountKind {
		return name, dist.Mean, nil
	}
	if formula.MolarMass() <= 0 {
		return "", 0, usagef("%s has no mass to reckon with: give it in mol", name)
	}
	return name, units.Mass(dist.Mean).Amount(formula.MolarMass()).Moles(), nil
}
