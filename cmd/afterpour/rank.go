package main

import (
	"context"
	"errors"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/route"
	"afterpour/econ"

	"github.com/spf13/cobra"
)

// ranking is one call of rank: how it prints, and what all its lots share.
type ranking struct {
	json    bool
	view    view
	seed    uint64
	draws   int // most draws for the odds; 0 leaves them out
	library *route.Library
	book    file
	bookErr error // why the book could not be read; each lot reports it
	alone   bool  // earlier outturns are left aside
}

// defaultDraws leaves the odds out unless they are asked for: they take far
// longer than the standings.
const defaultDraws = 0

// newRanking is a call of rank without any flag.
func newRanking() ranking { return ranking{seed: 1, draws: defaultDraws} }

// rankCommand prints the standings of one or more lots.
func (p *program) rankCommand() *cobra.Command {
	r := newRanking()
	cmd := &cobra.Command{
		Use:   "rank LOT.toml...",
		Short: "Rank the plans for one or more lots",
		Long: `Rank works out every plan for a lot and prints them by net value, with what the
best one takes, yields and leaves. "-" reads the lot from standard input.`,
		Example: `  afterpour rank strip.toml
  afterpour rank --json strip.toml sludge.toml
  afterpour rank --prices my-prices.toml - < strip.toml`,
		Args: usageArgs(cobra.MinimumNArgs(1)),
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.rank(cmd, r, args)
		},
	}
	cmd.Flags().BoolVar(&r.json, "json", false, "print one JSON object a lot, one a line")
	cmd.Flags().Uint64Var(&r.seed, "seed", r.seed, "`SEED` of the draws: the same seed gives the same standings")
	cmd.Flags().IntVar(&r.draws, "draws", r.draws, "`NUMBER` of draws for the odds; 0 leaves the odds out")
	cmd.Flags().BoolVar(&r.view.all, "all", false, "list every plan, not only the best and one of each route")
	cmd.Flags().StringVar(&r.view.plan, "plan", "", "`ID` of the plan to show line by line (default: the best)")
	return cmd
}

// standings prints the standings of the named lot, or of the built-in sample.
func (p *program) standings(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return p.rankAll(cmd, newRanking(), []func() (file, error){sampleLot})
	}
	if err := p.misspelt(cmd, args); err != nil {
		return err
	}
	return p.rank(cmd, newRanking(), args)
}

// misspelt refuses the name of a lot that is nearly the name of a command and
// no file.
func (p *program) misspelt(cmd *cobra.Command, args []string) error {
	if len(args) == 0 || p.exists(args[0]) {
		return nil
	}
	if near := cmd.SuggestionsFor(args[0]); len(near) > 0 {
		return usagef("there is no command or lot file %q; did you mean %q?", args[0], near[0])
	}
	return nil
}

func (p *program) exists(name string) bool {
	_, err := p.layer.Stat(name)
	return name == stdinName || err == nil
}

// sampleLot is the built-in lot that the program shows without a file.
func sampleLot() (file, error) {
	names := lot.SampleNames()
	if len(names) == 0 {
		return file{}, errors.New("this build holds no sample lot")
	}
	data, err := lot.Sample(names[0])
	return file{"built-in sample lot " + names[0], data}, err
}

func (p *program) rank(cmd *cobra.Command, r ranking, args []string) error {
	if r.draws < 0 {
		return usagef("--draws %d: the number of draws cannot be negative", r.draws)
	}
	reads := make([]func() (file, error), len(args))
	for i, name := range args {
		reads[i] = func() (file, error) { return p.readFile(cmd.Context(), name) }
	}
	return p.rankAll(cmd, r, reads)
}

// rankAll prints the standings of each lot in turn. A lot that fails is
// reported in its place and the others are still ranked; the first failure
// decides the exit code.
func (p *program) rankAll(cmd *cobra.Command, r ranking, reads []func() (file, error)) error {
	named, _ := cmd.Flags().GetString("prices")
	r.book, r.bookErr = p.readBook(cmd.Context(), named)
	r.alone, _ = cmd.Flags().GetBool(noOutturns)
	var err error
	if r.library, err = p.library(cmd); err != nil {
		return p.fail(r.json, "", err)
	}
	var first error
	for i, read := range reads {
		if i > 0 && !r.json {
			if err := p.printText("\n"); err != nil {
				return err
			}
		}
		if err := p.rankOne(cmd.Context(), &r, read); err != nil && first == nil {
			first = err
		}
		if ctxErr := cmd.Context().Err(); ctxErr != nil {
			return ctxErr
		}
	}
	return first
}

func (p *program) rankOne(ctx context.Context, r *ranking, read func() (file, error)) error {
	f, err := read()
	if err != nil {
		return p.fail(r.json, f.name, err)
	}
	appraisal, err := p.appraise(ctx, r, f)
	if err != nil {
		return p.fail(r.json, f.name, err)
	}
	if r.json {
		return p.printJSON(newStandingsJSON(f.name, r.book.name, appraisal))
	}
	text, err := standingsText(f.name, r.book.name, r.view, appraisal)
	if err != nil {
		return err
	}
	return p.printText(text)
}

// appraise reads a lot and the price book into one register of figures and
// judges the lot. The problems of both files come back together.
func (p *program) appraise(ctx context.Context, r *ranking, f file) (*econ.Appraisal, error) {
	figures := r.library.Figures().Clone()
	residue, lotErr := decodeLot(f, figures)
	book, bookErr := r.decodeBook(figures)
	learning, historyErr := p.learn(r, f, figures)
	if err := together(lotErr, bookErr, historyErr); err != nil {
		return nil, err
	}
	central, err := econ.Appraise(ctx, econ.Request{
		Lot: residue, Figures: figures, Library: r.library, Book: book,
		Today: p.today(), Seed: r.seed, Draws: r.draws, Learning: learning,
	})
	if err != nil || r.draws == 0 {
		return central, err
	}
	return econ.Refine(ctx, central, econ.Effort{Most: r.draws, Fixed: true}, nil)
}

func decodeLot(f file, figures *input.Figures) (*lot.Lot, error) {
	doc, err := f.parse()
	if err != nil {
		return nil, err
	}
	return lot.Decode(doc, figures)
}

func (r *ranking) decodeBook(figures *input.Figures) (*econ.Book, error) {
	if r.bookErr != nil {
		return nil, r.bookErr
	}
	doc, err := r.book.parse()
	if err != nil {
		return nil, err
	}
	return econ.DecodeBook(doc, figures)
}

// together joins the problems of several files; any other error goes first.
func together(errs ...error) error {
	var all input.Problems
	for _, err := range errs {
		var problems input.Problems
		switch {
		case err == nil:
		case errors.As(err, &problems):
			all = append(all, problems...)
		default:
			return err
		}
	}
	if len(all) == 0 {
		return nil
	}
	return all
}

// fail reports a lot that could not be judged: as JSON where the call asked
// for it, for people otherwise. The error it returns only carries the exit
// code.
func (p *program) fail(asJSON bool, lotName string, err error) error {
	if errors.Is(err, context.Canceled) {
		return err
	}
	if !asJSON {
		p.complain(err)
		return shown{err}
	}
	if jsonErr := p.printJSON(newErrorsJSON(lotName, problemsOf(lotName, err))); jsonErr != nil {
		return jsonErr
	}
	return shown{err}
}
