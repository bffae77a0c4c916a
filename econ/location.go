package econ

import (
	_ "embed"
	"path/filepath"
)

// BookName is the name that a price book has in the working folder and in the
// configuration folder.
const BookName = "prices.toml"

//go:embed prices.toml
var builtin []byte

// DefaultBook returns the built-in price book: invented round figures, fully
// commented. The caller may change the copy it gets.
func DefaultBook() []byte { return append([]byte(nil), builtin...) }

// Starter returns where in the configuration folder a first price book belongs
// and what it holds: the built-in book with its comments. Writing it is the
// caller's.
func Starter(configDir string) (path string, data []byte) {
	return filepath.Join(configDir, BookName), DefaultBook()
}
