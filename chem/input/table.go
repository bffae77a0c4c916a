package input

import (
	"time"

	"afterpour/chem/units"
)

// Table is a strict cursor over one table of a document.
type Table struct{}

// Path returns the path of the table; empty for the root.
func (t *Table) Path() string { return "" }

// Has reports whether the table holds the key.
func (t *Table) Has(key string) bool { return false }

// Keys returns the keys in the order of the file.
func (t *Table) Keys() []string { return nil }

// String returns a string.
func (t *Table) String(key string) (string, bool) { return "", false }

// Strings returns an array of strings.
func (t *Table) Strings(key string) ([]string, bool) { return nil, false }

// Int returns an integer.
func (t *Table) Int(key string) (int64, bool) { return 0, false }

// Float returns a finite number.
func (t *Table) Float(key string) (float64, bool) { return 0, false }

// Bool returns a boolean.
func (t *Table) Bool(key string) (bool, bool) { return false, false }

// Date returns a local date as midnight UTC.
func (t *Table) Date(key string) (time.Time, bool) { return time.Time{}, false }

// Table returns a table within this one.
func (t *Table) Table(key string) (*Table, bool) { return nil, false }

// Tables returns the elements of an array of tables.
func (t *Table) Tables(key string) []*Table { return nil }

// Figure reads a quantity.
func (t *Table) Figure(key string, kinds ...units.Kind) (Figure, bool) { return Figure{}, false }

// Problem notes a problem at a key's value, or at the table where key is empty.
func (t *Table) Problem(key, message, hint string) {}

// Close notes a problem for every key that was not asked for.
func (t *Table) Close() {}
