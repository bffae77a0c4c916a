package main

import (
	"context"
	"errors"
	"os"
	"strings"

	"github.com/charmbracelet/x/term"
	"github.com/spf13/cobra"

	"afterpour/chem/store"
	"afterpour/econ"
	"afterpour/tui"
)

// screenFlags are the flags of the program without a subcommand.
type screenFlags struct {
	theme string
	ascii bool
}

func (s *screenFlags) add(cmd *cobra.Command) {
	cmd.Flags().StringVar(&s.theme, "theme", string(tui.Dark), "colours of the screen: `dark`, light or mono")
	cmd.Flags().BoolVar(&s.ascii, "ascii", false, "draw the screen with ASCII characters alone")
}

// open shows the named lot, or the built-in sample: on the screen where the
// call has a terminal, as the standings in print otherwise.
func (p *program) open(cmd *cobra.Command, flags screenFlags, args []string) error {
	theme := tui.Theme(flags.theme)
	if theme != tui.Dark && theme != tui.Light && theme != tui.Mono {
		return usagef("--theme %q: there are dark, light and mono", flags.theme)
	}
	if !p.hasScreen() || len(args) > 0 && args[0] == stdinName {
		return p.standings(cmd, args)
	}
	if err := p.misspelt(cmd, args); err != nil {
		return err
	}
	named, _ := cmd.Flags().GetString("prices")
	options, err := p.screenOptions(named, args)
	if err != nil {
		return err
	}
	if options.Library, err = p.library(cmd); err != nil {
		return err
	}
	options.Theme, options.ASCII = theme, flags.ascii || !speaksUTF8(os.Getenv)
	return screenEnd(cmd.Context(), tui.Run(cmd.Context(), options))
}

// screenOptions says which files the screen opens and where it may write.
func (p *program) screenOptions(named string, args []string) (tui.Options, error) {
	options := tui.Options{
		Seed: 1, Layer: p.layer, Today: p.today, Input: p.stdin, Output: p.stdout,
		NoColor: os.Getenv("NO_COLOR") != "",
	}
	if len(args) > 0 {
		options.Lot = tui.File{Name: args[0], Path: args[0]}
		var err error
		if options.History, err = p.history(args[0]); err != nil {
			return options, err
		}
	} else {
		sample, err := sampleLot()
		if err != nil {
			return options, err
		}
		options.Lot, options.Start = tui.File{Name: sample.name, Data: sample.data}, true
	}
	book, err := p.findBook(named)
	if err != nil {
		return options, err
	}
	options.Book = tui.File{Name: book, Path: book}
	if book == "" {
		options.Book = tui.File{Name: builtinBookName, Data: econ.DefaultBook()}
	}
	if dir, err := p.configDir(); err == nil {
		options.BookHome, _ = econ.Starter(dir)
	}
	if dir, err := store.StateDir(); err == nil {
		options.StateDir = dir
	}
	return options, nil
}

// interrupted is how the program ends after ctrl+c.
type interrupted struct{ error }

// screenEnd keeps an end by ctrl+c, which is no failure to talk about, apart
// from real ones.
func screenEnd(ctx context.Context, err error) error {
	if errors.Is(err, tui.ErrInterrupted) {
		return shown{interrupted{err}}
	}
	if _, ended := signalOf(ctx); ended {
		return nil
	}
	return err
}

// hasScreen reports whether the call can show the screen: both ends are a
// terminal, and not one that can only print.
func (p *program) hasScreen() bool {
	return isTerminal(p.stdin) && isTerminal(p.stdout) && os.Getenv("TERM") != "dumb"
}

func isTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && term.IsTerminal(f.Fd())
}

// speaksUTF8 reports whether the locale allows more than ASCII: not where the
// variable that decides says C or POSIX. Where none is set, UTF-8 is taken.
func speaksUTF8(getenv func(string) string) bool {
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		value := getenv(name)
		if value == "" {
			continue
		}
		language, encoding, _ := strings.Cut(strings.ToUpper(value), ".")
		plainC := language == "C" || language == "POSIX"
		return !plainC || strings.HasPrefix(encoding, "UTF")
	}
	return true
}
