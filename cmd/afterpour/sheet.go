package main

import (
	"context"
	"errors"

	"afterpour/econ"

	"github.com/spf13/cobra"
)

// sheetCall is one call of sheet.
type sheetCall struct {
	ranking
	plan, format string
}

// sheetFormats writes a sheet in each of the forms that --format knows.
var sheetFormats = map[string]func(*econ.Sheet) string{
	"text": sheetText, "markdown": sheetMarkdown, "html": sheetHTML,
}

// sheetCommand prints a plan as a sheet to work from.
func (p *program) sheetCommand() *cobra.Command {
	c := sheetCall{ranking: ranking{seed: 1}}
	cmd := &cobra.Command{
		Use:   "sheet LOT.toml",
		Short: "Print a plan as a bench sheet to work from",
		Long: `Sheet prints one plan for a lot as it is worked at the bench: what to buy, what
to set out, numbered steps with amounts rounded to what your balance and
cylinders can measure, cautions before the danger, what to look for, when to
stop, what to weigh, where everything left over goes, and blanks to write on.

Without --plan it is the plan of the verdict if that works the lot up, else the
best one that does. As HTML it is one file, to be kept with "> sheet.html", that
prints on A4 and Letter.`,
		Example: `  afterpour sheet strip.toml
  afterpour sheet strip.toml --plan copper-cementation+dispose
  afterpour sheet strip.toml --format html`,
		Args: usageArgs(cobra.ExactArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error { return p.sheet(cmd, c, args[0]) },
	}
	cmd.Flags().StringVar(&c.plan, "plan", "", "`ID` of the plan, as rank lists it (default: the best that works it up)")
	cmd.Flags().StringVar(&c.format, "format", "text", "`FORM` to print: text, markdown or html")
	cmd.Flags().BoolVar(&c.json, "json", false, "print one JSON object instead")
	return cmd
}

// sheet prints the sheet of one lot.
func (p *program) sheet(cmd *cobra.Command, c sheetCall, name string) error {
	write, ok := sheetFormats[c.format]
	if !ok {
		return usagef("--format %q: a sheet is printed as text, markdown or html", c.format)
	}
	if err := p.prepare(cmd, &c.ranking); err != nil {
		return err
	}
	f, err := p.readFile(cmd.Context(), name)
	if err != nil {
		return p.fail(c.json, name, err)
	}
	s, err := p.sheetOf(cmd.Context(), &c, f)
	switch {
	case errors.Is(err, econ.ErrNoSuchPlan) && c.plan != "":
		return usageError{err}
	case err != nil:
		return p.fail(c.json, f.name, err)
	case c.json:
		return p.printJSON(newSheetJSON(f.name, s))
	}
	return p.printText(write(s))
}

// prepare reads what all lots of a call share: the price book and the routes.
func (p *program) prepare(cmd *cobra.Command, r *ranking) error {
	named, _ := cmd.Flags().GetString("prices")
	r.book, r.bookErr = p.readBook(cmd.Context(), named)
	r.alone, _ = cmd.Flags().GetBool(noOutturns)
	var err error
	r.library, err = p.library(cmd)
	return err
}

func (p *program) sheetOf(ctx context.Context, c *sheetCall, f file) (*econ.Sheet, error) {
	a, err := p.appraise(ctx, &c.ranking, f)
	if err != nil {
		return nil, err
	}
	return econ.BenchSheet(ctx, a, c.plan)
}
