package main

import (
	"github.com/spf13/cobra"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/econ"
)

// checkJSON is the result of `check --json` for a lot without a fault.
type checkJSON struct {
	SchemaVersion int         `json:"schema_version"`
	Lot           string      `json:"lot"`
	File          string      `json:"file"`
	Errors        []errorJSON `json:"errors"`
	Metals        []metalJSON `json:"metals"`
	Notes         []string    `json:"notes"`
	Deep          *deepJSON   `json:"deep,omitempty"` // with --deep
}

// checkCommand reads a lot file and says what is wrong with it, or what it
// amounts to.
func (p *program) checkCommand() *cobra.Command {
	var asJSON, deep bool
	cmd := &cobra.Command{
		Use:   "check LOT.toml",
		Short: "Read a lot file and say what is wrong with it, or what it holds",
		Long: `Check reads a lot and says what is wrong with it, or what it holds. With --deep
it works out every plan as rank does and proves the figures: no element is lost
or made, the money is the sum of its lines and the lines are those of the
ledger, text and JSON agree, every figure has a source. It notes prices that are
stale or undated, and inputs whose doubt alone would turn the verdict. A proof
that fails ends the program with 1; what is only noted does not.`,
		Example: `  afterpour check strip.toml
  afterpour check --deep strip.toml
  afterpour check --json - < strip.toml`,
		Args: usageArgs(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error { return p.check(cmd, args[0], asJSON, deep) },
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print one JSON object")
	cmd.Flags().BoolVar(&deep, "deep", false, "prove the figures of every plan with the prices in use; takes some seconds")
	return cmd
}

func (p *program) check(cmd *cobra.Command, name string, asJSON, deep bool) error {
	library, err := p.library(cmd)
	if err != nil {
		return p.fail(asJSON, "", err)
	}
	f, err := p.readFile(cmd.Context(), name)
	if err != nil {
		return p.fail(asJSON, name, err)
	}
	figures := library.Figures().Clone()
	residue, err := decodeLot(f, figures)
	if err != nil {
		return p.fail(asJSON, name, err)
	}
	model, err := econ.ModelOf(residue, figures)
	if err != nil {
		return p.fail(asJSON, name, err)
	}
	report := model.Report(figures.Central())
	object := newCheckJSON(name, residue, &report)
	if deep {
		if object.Deep, err = p.deepCheck(cmd, f); err != nil {
			return p.fail(asJSON, name, err)
		}
	}
	if asJSON {
		err = p.printJSON(object)
	} else {
		err = p.printText(checkText(&object, figures, residue, &report))
	}
	if err == nil && deep {
		err = object.Deep.err()
	}
	return err
}

// checkText writes what a lot holds, and the self-check where there is one.
func checkText(object *checkJSON, figures *input.Figures, residue *lot.Lot, report *lot.Report) string {
	var text page
	text.text("", "%s: no fault found", object.File)
	text.inventory(residue.Title, report)
	text.notes(report.Notes)
	text.assumed(figures, report.Assumed)
	if object.Deep != nil {
		text.selfcheck(object.Deep)
	}
	return text.String()
}

func newCheckJSON(name string, residue *lot.Lot, report *lot.Report) checkJSON {
	object := checkJSON{
		SchemaVersion: schemaVersion, Lot: residue.Title, File: name,
		Errors: []errorJSON{}, Metals: []metalJSON{}, Notes: []string{},
	}
	for i := range report.Metals {
		m := &report.Metals[i]
		object.Metals = append(object.Metals, metalJSON{
			Metal: m.Metal, ContainedG: m.Contained.Grams(), SDG: m.SD.Grams(),
			DissolvedG: m.Dissolved.Grams(), SolidG: m.Solid.Grams(),
		})
	}
	for _, n := range report.Notes {
		object.Notes = append(object.Notes, string(n.Kind)+": "+n.Text)
	}
	return object
}

// inventory shows what a lot holds, without prices.
func (p *page) inventory(title string, report *lot.Report) {
	p.heading(title)
	rows := [][]string{{"metal", "contained", "dissolved", "solid"}}
	for i := range report.Metals {
		m := &report.Metals[i]
		rows = append(rows, []string{
			m.Metal, gramsWithDoubt(m.Contained, m.SD),
			gramsWithDoubt(m.Dissolved, m.DissolvedSD), gramsWithDoubt(m.Solid, m.SolidSD),
		})
	}
	p.table("  ", []align{left, right, right, right}, rows)
	for i := range report.Metals {
		p.disagreement(&report.Metals[i])
	}
	p.acid(report)
}
