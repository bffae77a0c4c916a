package main

import (
	"context"
	"errors"

	"github.com/spf13/cobra"

	"afterpour/chem/equil"
)

// equilibriumJSON is the result of `work equilibrium --json`.
type equilibriumJSON struct {
	SchemaVersion int `json:"schema_version"`
	equil.Result
}

func (p *program) workEquilibrium() *cobra.Command {
	var set string
	cmd := &cobra.Command{
		Use:   "equilibrium FILE.toml",
		Short: "What dissolves and settles in 1 kg of water, and at which pH",
		Long: `Equilibrium reads what is put into 1 kg of water and works out the dissolved
species, the solids and the pH. The file holds:

  temperature_c = 25.0
  control     = "charge"                # or "fixed_pH", with fixed_pH = 8.0
  total       = { Ag = 0.01, NO3 = 0.01, Na = 0.011, Cl = 0.011 }    # mol
  solid_added = { AgCl = 0.001 }        # mol, besides the totals
  allowed     = ["AgCl"]                # the only solids that may form

Totals are those of ions, ammonia is the neutral NH3, and H+ or OH- makes up the
charge. With a fixed pH, NaOH (or HNO3) is added until it is reached.`,
		Example: `  afterpour work equilibrium liquor.toml
  afterpour work equilibrium liquor.toml --set llnl_bdot --json`,
		Args: usageArgs(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error { return p.equilibrium(cmd, args[0], set) },
	}
	cmd.Flags().StringVar(&set, "set", equil.DefaultSet, "`SET` of constants: "+list(equil.SetNames()))
	return cmd
}

// equilibrium prints the answer; one that was not found goes out too, marked
// as not converged, and the call fails.
func (p *program) equilibrium(cmd *cobra.Command, name, setName string) error {
	asJSON, _ := cmd.Flags().GetBool("json")
	set, err := equil.LoadSet(setName)
	if err != nil {
		return p.fail(asJSON, "", usageError{err})
	}
	question, err := p.readQuestion(cmd.Context(), name)
	if err != nil {
		return p.fail(asJSON, "", err)
	}
	result, err := set.Solve(question)
	if err != nil && !errors.Is(err, equil.ErrNotConverged) {
		return p.fail(asJSON, "", problemsOf(name, err))
	}
	if err != nil {
		result.Warnings = append(result.Warnings, "no equilibrium was found; the figures are no answer")
	}
	if asJSON {
		return errors.Join(p.printJSON(equilibriumJSON{schemaVersion, result}), err)
	}
	return errors.Join(p.printText(equilibriumText(result)), err)
}

// readQuestion decodes a file strictly.
func (p *program) readQuestion(ctx context.Context, name string) (equil.Problem, error) {
	f, err := p.readFile(ctx, name)
	if err != nil {
		return equil.Problem{}, err
	}
	doc, err := f.parse()
	if err != nil {
		return equil.Problem{}, err
	}
	return equil.DecodeProblem(doc)
}

func equilibriumText(r equil.Result) string {
	var text page
	text.text("", "pH %s, ionic strength %s mol/kg, in %s kg of water (constants: %s)",
		significant(r.PH, 4), significant(r.IonicStrength, 3), significant(r.WaterKg, 4), r.Set)
	if r.NaOHAddedMol != 0 {
		text.text("", "sodium hydroxide added: %s mol (below 0: nitric acid)", significant(r.NaOHAddedMol, 4))
	}
	text.amounts("Dissolved, mol", r.DissolvedMol)
	text.amounts("Solids, mol", r.SolidsMol)
	text.amounts("Species, mol", r.SpeciesMol)
	for _, w := range r.Warnings {
		text.text("! ", "%s", w)
	}
	return text.String()
}

func (p *page) amounts(heading string, mol map[string]float64) {
	if len(mol) == 0 {
		return
	}
	p.heading(heading)
	var rows [][]string
	for _, name := range sortedKeys(mol) {
		rows = append(rows, []string{name, significant(mol[name], 4)})
	}
	p.table("  ", []align{left, right}, rows)
}
