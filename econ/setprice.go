package econ

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"time"
	"unicode"

	"afterpour/chem/input"
	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// Change is what setting a price did to the file.
type Change struct {
	Path             string // of the value, "spot.Ag.price"
	Old, New         string // as typed; Old is "" for a price that is new to the file
	OldDate, NewDate string // "2026-11-20"; both "" where the table holds no date
	Appended         bool   // a new table at the end of the file
}

// ErrUnknownPrice means that no price of the book goes by that name.
var ErrUnknownPrice = errors.New("no such price in the book")

// PriceError says why a text is not a price of its kind.
type PriceError struct {
	What    string // name of the price, "spot.Ag"
	Text    string // as typed
	Message string
	Example string // a right one

	advice string // more than the example says
}

// Error tells what is wrong and shows a right price.
func (e *PriceError) Error() string {
	return fmt.Sprintf("%s: %s; %s", e.What, e.Message, e.Hint())
}

// Hint says how the price is written.
func (e *PriceError) Hint() string {
	if e.advice != "" {
		return e.advice
	}
	return "write it as “" + e.Example + "”"
}

// SetPrice replaces the bytes of one price and of its date, and nothing else.
// What names the price: an element ("silver", "Ag"), a path ("sale.silver-bar",
// "reagent.sodium-hydroxide", "disposal.slag.minimum"), a plain id
// ("sodium-hydroxide"), "labour", "electricity", "gas" or "storage". An element
// without a price gets a table of its own at the end of the file. A zero date
// leaves the date as it is.
//
// It returns the new bytes, and the document stays as it was. Errors:
// input.Problems if the book itself is wrong, ErrUnknownPrice, *PriceError.
func SetPrice(doc *input.Document, what, price string, date time.Time) ([]byte, Change, error) {
	doc, err := input.Parse(doc.Name(), doc.Data())
	if err != nil {
		return nil, Change{}, err
	}
	book, err := DecodeBook(doc, &input.Figures{})
	if err != nil {
		return nil, Change{}, err
	}
	text := plainText(price)
	p, err := book.Find(what)
	if symbol, ok := elementNamed(what); err != nil && ok {
		return appendSpot(doc, symbol, text, date)
	}
	if err != nil {
		return nil, Change{}, err
	}
	if err := p.Check(text); err != nil {
		return nil, Change{}, err
	}
	return book.splice(doc, p, text, date)
}

// Find looks a price up by any of the names that SetPrice takes.
func (b *Book) Find(what string) (Price, error) {
	what = strings.TrimSpace(strings.TrimPrefix(what, "price/"))
	if symbol, ok := elementNamed(what); ok {
		what = "spot." + symbol
	}
	id := strings.ReplaceAll(what, " ", "-")
	var found []Price
	for _, p := range b.prices {
		short := strings.TrimPrefix(p.ID, "price/")
		if short == what || p.Path == what {
			return p, nil
		}
		if _, name, _ := strings.Cut(short, "."); name == id {
			found = append(found, p)
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		return Price{}, b.unknown(what)
	}
	return Price{}, fmt.Errorf("econ: “%s” may be %s: %w", input.Clean(what, 60), quotedList(shortIDs(found)), ErrUnknownPrice)
}

func (b *Book) unknown(what string) error {
	near := input.Nearest(what, shortIDs(b.prices))
	if near == "" {
		return fmt.Errorf("econ: %w: “%s”", ErrUnknownPrice, input.Clean(what, 60))
	}
	return fmt.Errorf("econ: %w: “%s”; the nearest is “%s”", ErrUnknownPrice, input.Clean(what, 60), near)
}

func shortIDs(prices []Price) []string {
	ids := make([]string, 0, len(prices))
	for _, p := range prices {
		ids = append(ids, strings.TrimPrefix(p.ID, "price/"))
	}
	return ids
}

// elementNamed returns the symbol of an element named by symbol or in English,
// however it is capitalised.
func elementNamed(what string) (string, bool) {
	what = strings.TrimSpace(what)
	for _, spelling := range []string{what, strings.ToLower(what), capitalised(what)} {
		if e, err := substance.ElementBySymbol(spelling); err == nil {
			return e.Symbol, true
		}
	}
	return "", false
}

func capitalised(s string) string {
	r := []rune(strings.ToLower(s))
	if len(r) > 0 {
		r[0] = unicode.ToUpper(r[0])
	}
	return string(r)
}

// Check says whether a text may stand for this price: its unit is of the right
// kind and its size within reason. The error is a *PriceError.
func (p Price) Check(text string) error {
	name := strings.TrimPrefix(p.ID, "price/")
	kind, dist, err := units.Parse(text, p.kinds...)
	if err != nil {
		return parseFault(name, text, exampleOf(p.kinds[0]), err)
	}
	if message, example := rangeFault(kind, dist); message != "" {
		return &PriceError{What: name, Text: text, Message: message, Example: example}
	}
	return nil
}

// parseFault turns what package units says of a text into a price's error.
func parseFault(name, text, example string, err error) *PriceError {
	e := &PriceError{What: name, Text: text, Message: input.Clean(err.Error(), 0), Example: example}
	var p *units.ParseError
	if errors.As(err, &p) {
		e.Message, e.advice = p.Message, p.Hint
	}
	return e
}

// splice replaces the price, and the date where its table holds one.
func (b *Book) splice(doc *input.Document, p Price, text string, date time.Time) ([]byte, Change, error) {
	change := Change{Path: p.Path, Old: b.figures.Get(p.Ref).Text, New: text}
	edits := []input.Edit{{Path: p.Path, Raw: quoted(text, raw(doc, p.Path))}}
	if datePath := tableOf(p.Path) + ".date"; !date.IsZero() && !p.Date.IsZero() {
		change.OldDate, change.NewDate = p.Date.Format(time.DateOnly), date.Format(time.DateOnly)
		edits = append(edits, input.Edit{Path: datePath, Raw: change.NewDate})
	}
	data, err := doc.SpliceAll(edits)
	if err != nil {
		return nil, Change{}, fmt.Errorf("econ: %s could not be replaced: %w", p.Path, err)
	}
	if err := readable(doc.Name(), data); err != nil {
		return nil, Change{}, err
	}
	return data, change, nil
}

// tableOf returns the path of the table that holds a price's date: penalties
// stand in a table within the sale.
func tableOf(path string) string {
	table := path[:strings.LastIndex(path, ".")]
	return strings.TrimSuffix(table, ".penalties")
}

// readable checks that a changed book is still a book.
func readable(name string, data []byte) error {
	doc, err := input.Parse(name, data)
	if err != nil {
		return err
	}
	_, err = DecodeBook(doc, &input.Figures{})
	return err
}

// spotHeader finds a table header for spot prices. TOML does not let a header
// extend a table that was written in any other way.
var spotHeader = regexp.MustCompile(`(?m)^[ \t]*\[[ \t]*"?spot"?[ \t]*[.\]]`)

// appendSpot adds a table for an element that has no price yet.
func appendSpot(doc *input.Document, symbol, text string, date time.Time) ([]byte, Change, error) {
	p := Price{ID: "price/spot." + symbol, Path: "spot." + symbol + ".price", kinds: []units.Kind{units.PerMassKind}}
	if err := p.Check(text); err != nil {
		return nil, Change{}, err
	}
	change := Change{Path: p.Path, New: text, Appended: true}
	lines := []string{"", "[spot." + symbol + "]", "price = " + quoted(text, "")}
	if !date.IsZero() {
		change.NewDate = date.Format(time.DateOnly)
		lines = append(lines, "date  = "+change.NewDate)
	}
	if doc.Root().Has("spot") && !spotHeader.Match(doc.Data()) {
		return nil, Change{}, fmt.Errorf("econ: no table [spot.%s] can be added: this book has its spot prices in an inline table or in dotted keys; add %s there", symbol, p.Path)
	}
	data := appendLines(doc.Data(), lines)
	if err := readable(doc.Name(), data); err != nil {
		return nil, Change{}, fmt.Errorf("econ: no table for %s could be added to the end of the file: %w", symbol, err)
	}
	return data, change, nil
}

// appendLines adds lines at the end in the file's own line ending.
func appendLines(data []byte, lines []string) []byte {
	end := "\n"
	if bytes.Contains(data, []byte("\r\n")) {
		end = "\r\n"
	}
	out := append([]byte(nil), data...)
	if len(out) > 0 && !bytes.HasSuffix(out, []byte("\n")) {
		out = append(out, end...)
	}
	for _, l := range lines {
		out = append(out, l+end...)
	}
	return out
}

// raw returns the bytes of a value as they stand in the file.
func raw(doc *input.Document, path string) string {
	span, ok := doc.Span(path)
	if !ok || span.End > len(doc.Data()) {
		return ""
	}
	return string(doc.Data()[span.Start:span.End])
}

// quoted writes a text as a TOML string, in single quotes where the old value
// had them.
func quoted(text, old string) string {
	if strings.HasPrefix(old, "'") && !strings.HasPrefix(old, "'''") && !strings.Contains(text, "'") {
		return "'" + text + "'"
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(text) + `"`
}

// plainText trims a typed price and turns every kind of space in it into a
// plain one, so that it can be written and shown.
func plainText(text string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return ' '
		}
		return r
	}, text))
}
