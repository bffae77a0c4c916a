package main

import (
	"errors"
	"fmt"
	"io/fs"
	"time"

	"github.com/spf13/cobra"

	"afterpour/chem/input"
	"afterpour/chem/store"
	"afterpour/econ"
)

// pricesCommand lists the price book; its subcommand changes it.
func (p *program) pricesCommand() *cobra.Command {
	var asJSON bool
	cmd := &cobra.Command{
		Use:   "prices",
		Short: "List the price book, or set a price in it",
		Example: `  afterpour prices
  afterpour prices set silver "31.20 / ozt"
  afterpour prices --prices my-prices.toml`,
		Args: noSubcommand,
		RunE: func(cmd *cobra.Command, _ []string) error { return p.listPrices(cmd, asJSON) },
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print one JSON object")
	cmd.AddCommand(p.setPriceCommand())
	return cmd
}

// pricesJSON is the result of `prices --json`.
type pricesJSON struct {
	SchemaVersion int         `json:"schema_version"`
	File          string      `json:"file"`
	Currency      string      `json:"currency"`
	Prices        []priceJSON `json:"prices"`
}

type priceJSON struct {
	ID    string  `json:"id"`
	Price string  `json:"price"`
	Value float64 `json:"value"`
	Date  *string `json:"date"`
	Stale bool    `json:"stale"`
}

func (p *program) listPrices(cmd *cobra.Command, asJSON bool) error {
	named, _ := cmd.Flags().GetString("prices")
	f, err := p.readBook(cmd.Context(), named)
	if err != nil {
		return p.fail(asJSON, "", err)
	}
	book, err := (&ranking{book: f}).decodeBook(new(input.Figures))
	if err != nil {
		return p.fail(asJSON, "", err)
	}
	rows := book.Rows(p.today())
	if asJSON {
		return p.printJSON(newPricesJSON(f.name, book.Currency, rows))
	}
	return p.printText(p.pricesText(f.name, book.Currency, rows))
}

func newPricesJSON(name, currency string, rows []econ.Row) pricesJSON {
	object := pricesJSON{SchemaVersion: schemaVersion, File: name, Currency: currency, Prices: []priceJSON{}}
	for _, r := range rows {
		object.Prices = append(object.Prices, priceJSON{
			ID: r.Path, Price: r.Text, Value: r.Value, Date: dateOrNull(r.Date), Stale: r.Stale,
		})
	}
	return object
}

func (p *program) pricesText(name, currency string, rows []econ.Row) string {
	var text page
	text.text("", "Prices of %s, in %s", name, currency)
	if name == builtinBookName {
		text.text("", "These are invented round figures. `afterpour prices set` writes a book of your own%s.", p.ownBook())
	}
	table := [][]string{}
	for _, r := range rows {
		day, stale := "", ""
		if !r.Date.IsZero() {
			day = r.Date.Format(time.DateOnly)
		}
		if r.Stale {
			stale = fmt.Sprintf("stale: %d days old", r.AgeDays)
		}
		table = append(table, []string{r.Path, r.Text, day, stale})
	}
	text.table("  ", []align{left, right, left, left}, table)
	return text.String()
}

// ownBook says where a first price book would be written.
func (p *program) ownBook() string {
	dir, err := p.configDir()
	if err != nil {
		return ""
	}
	path, _ := econ.Starter(dir)
	return " to " + path
}

func (p *program) setPriceCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "set WHAT PRICE",
		Short: "Set a price and its date; comments, order and spacing stay",
		Long: `Set replaces one price in the price book, and its date by today's, and nothing
else in the file. WHAT is a metal by name or symbol, or a price as the list
names it. With no book on disk, a commented copy of the built-in one is first
written to your configuration folder.`,
		Example: `  afterpour prices set silver "31.20 / ozt"
  afterpour prices set reagent.sodium-hydroxide 9.50
  afterpour prices set sale.silver-bar "95 %" --prices my-prices.toml`,
		Args: usageArgs(cobra.ExactArgs(2)),
		RunE: p.setPrice,
	}
}

func (p *program) setPrice(cmd *cobra.Command, args []string) error {
	named, _ := cmd.Flags().GetString("prices")
	path, err := p.findBook(named)
	if err != nil {
		return err
	}
	if path == "" {
		if path, err = p.writeStarter(); err != nil {
			return err
		}
	}
	snapshot, err := store.Read(p.layer, path)
	if err != nil {
		return problemsOf(path, err)
	}
	doc, err := input.Parse(path, snapshot.Data)
	if err != nil {
		return err
	}
	data, change, err := econ.SetPrice(doc, args[0], args[1], p.today())
	if err != nil {
		return asUsage(err)
	}
	_, saveErr := store.Save(p.layer, snapshot, data)
	if saveErr != nil && !errors.Is(saveErr, store.ErrNotSynced) {
		return saveErr
	}
	return errors.Join(p.printText(changeText(path, change)), saveErr)
}

// asUsage makes an error about the price a mistake in the call, unless it is
// the book itself that is wrong.
func asUsage(err error) error {
	var problems input.Problems
	if errors.As(err, &problems) {
		return err
	}
	return usageError{err}
}

func changeText(path string, c econ.Change) string {
	var text page
	before := c.Old
	if before == "" {
		before = "not set"
	}
	text.text("", "%s: %s -> %s%s, in %s", c.Path, before, c.New, dateChange(c), path)
	return text.String()
}

func dateChange(c econ.Change) string {
	if c.NewDate == "" {
		return ""
	}
	return fmt.Sprintf(" (%s)", c.NewDate)
}

// writeStarter puts a commented copy of the built-in price book into the
// configuration folder and says so.
func (p *program) writeStarter() (string, error) {
	dir, err := p.configDir()
	if err != nil {
		return "", fmt.Errorf("there is no folder for a price book: %w", err)
	}
	path, data := econ.Starter(dir)
	if _, err := store.Create(p.layer, path, data); err != nil && !errors.Is(err, fs.ErrExist) {
		return "", err
	}
	p.remark("wrote a first price book, with invented figures to replace: %s", path)
	return path, nil
}

// remark prints a line to standard error that is no error.
func (p *program) remark(format string, values ...any) {
	fmt.Fprintln(p.stderr, cleanLines("afterpour: "+fmt.Sprintf(format, values...)))
}
