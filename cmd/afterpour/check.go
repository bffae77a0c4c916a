package main

import (
	"github.com/spf13/cobra"

	"afterpour/chem/lot"
)

// checkJSON is the result of `check --json` for a lot without a fault.
type checkJSON struct {
	SchemaVersion int         `json:"schema_version"`
	Lot           string      `json:"lot"`
	File          string      `json:"file"`
	Errors        []errorJSON `json:"errors"`
	Metals        []metalJSON `json:"metals"`
	Notes         []string    `json:"notes"`
}

// checkCommand reads a lot file and says what is wrong with it, or what it
// amounts to.
func (p *program) checkCommand() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "check LOT.toml",
		Short: "Read a lot file and say what is wrong with it, or what it holds",
		Example: `  afterpour check strip.toml
  afterpour check --json - < strip.toml`,
		Args: usageArgs(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error { return p.check(cmd, args[0], asJSON) },
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print one JSON object")
	return cmd
}

func (p *program) check(cmd *cobra.Command, name string, asJSON bool) error {
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
	model, err := residue.Model(figures)
	if err != nil {
		return p.fail(asJSON, name, err)
	}
	report := model.Report(figures.Central())
	if asJSON {
		return p.printJSON(newCheckJSON(name, residue, &report))
	}
	var text page
	text.text("", "%s: no fault found", name)
	text.inventory(residue.Title, &report)
	text.notes(report.Notes)
	text.assumed(figures, report.Assumed)
	return p.printText(text.String())
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
