package tui

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"afterpour/chem/input"
	"afterpour/econ"
)

// dateKey ends the path of the day of a price.
const dateKey = ".date"

// priceSplicer writes prices into a price book, each with the day on which it
// was typed. A path that ends in ".date" renews the day alone: the price is
// still what it was.
func priceSplicer(name string, today time.Time) splicer {
	return func(data []byte, path, text string) ([]byte, string, error) {
		doc, err := input.Parse(name, data)
		if err != nil {
			return nil, "", err
		}
		if strings.HasSuffix(path, dateKey) {
			return renew(doc, path, text)
		}
		changed, made, err := econ.SetPrice(doc, path, text, today)
		return changed, made.Old, err
	}
}

// errNoPrice means that a table whose day is to be renewed holds no price.
var errNoPrice = errors.New("the price book has no such price")

// renew sets the day of a price and leaves the price as it is.
func renew(doc *input.Document, path, text string) ([]byte, string, error) {
	date, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return nil, "", fmt.Errorf("“%s” is not a day such as 2026-11-20", text)
	}
	book, err := econ.DecodeBook(doc, new(input.Figures))
	if err != nil {
		return nil, "", err
	}
	table := strings.TrimSuffix(path, dateKey)
	for _, row := range book.Rows(date) {
		if datePath(row.Price) == path {
			changed, made, err := econ.SetPrice(doc, row.Path, row.Text, date)
			return changed, made.OldDate, err
		}
	}
	return nil, "", fmt.Errorf("%s: %w", table, errNoPrice)
}

// datePath is the path of the day of a price. A penalty stands in a table
// within the sale whose day it shares.
func datePath(p econ.Price) string {
	table := p.Path
	if i := strings.LastIndexByte(table, '.'); i >= 0 {
		table = table[:i]
	}
	return strings.TrimSuffix(table, ".penalties") + dateKey
}
