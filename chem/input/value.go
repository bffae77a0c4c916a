package input

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"afterpour/chem/units"
)

// take returns the decoded value of a key, if it is a single one.
func take[T any](t *Table, key, expected, example string) (value T, ok bool) {
	n := t.lookup(key, true)
	if n == nil {
		return value, false
	}
	if value, ok = n.data.(T); !ok {
		t.wrongType(key, n, expected, fmt.Sprintf("write %s = %s", key, example))
	}
	return value, ok
}

func (t *Table) wrongType(key string, n *node, expected, hint string) {
	t.Problem(key, fmt.Sprintf("%s is expected, not %s", expected, describe(n)), hint)
}

// describe says what kind of value a node holds.
func describe(n *node) string {
	switch n.form {
	case table:
		return "a table"
	case array:
		return "an array"
	case tableArray:
		return "an array of tables"
	}
	switch n.data.(type) {
	case string:
		return "text"
	case int64, float64:
		return "a number"
	case bool:
		return "true or false"
	case time.Time:
		return "a date or time"
	}
	return "this"
}

// String returns a text. It is as the user wrote it: see Clean.
func (t *Table) String(key string) (string, bool) {
	return take[string](t, key, "text in quotes", `"…"`)
}

// Strings returns an array of texts.
func (t *Table) Strings(key string) ([]string, bool) {
	const hint = `["…", "…"]`
	n := t.lookup(key, true)
	if n == nil {
		return nil, false
	}
	if n.form != array {
		t.wrongType(key, n, "an array of texts", "write "+key+" = "+hint)
		return nil, false
	}
	list := make([]string, 0, len(n.children))
	for i, e := range n.children {
		s, ok := e.data.(string)
		if !ok {
			t.doc.note(e.place(), elementPath(joinPath(t.path, key), i), "text in quotes is expected, not "+describe(e), "write "+key+" = "+hint)
			continue
		}
		list = append(list, s)
	}
	return list, len(list) == len(n.children)
}

// Int returns a whole number.
func (t *Table) Int(key string) (int64, bool) {
	return take[int64](t, key, "a whole number without quotes", "1")
}

// Float returns a finite number.
func (t *Table) Float(key string) (float64, bool) {
	n := t.lookup(key, true)
	if n == nil {
		return 0, false
	}
	v, ok := floatOf(n)
	switch {
	case !ok:
		t.wrongType(key, n, "a number without quotes", fmt.Sprintf("write %s = 1.5", key))
	case math.IsNaN(v) || math.IsInf(v, 0):
		t.Problem(key, "a finite number is expected", fmt.Sprintf("write %s = 1.5", key))
		return 0, false
	}
	return v, ok
}

func floatOf(n *node) (float64, bool) {
	switch v := n.data.(type) {
	case int64:
		return float64(v), true
	case float64:
		return v, true
	}
	return 0, false
}

// Bool returns true or false.
func (t *Table) Bool(key string) (value, ok bool) {
	return take[bool](t, key, "true or false without quotes", "true")
}

// Date returns a date without time as midnight UTC.
func (t *Table) Date(key string) (time.Time, bool) {
	const hint = "write it without quotes and without time: %s = 2026-11-20"
	n := t.lookup(key, true)
	if n == nil {
		return time.Time{}, false
	}
	v, ok := n.data.(time.Time)
	if !ok {
		t.wrongType(key, n, "a date", fmt.Sprintf(hint, key))
		return time.Time{}, false
	}
	// The decoder marks a date without time by the name of its zone.
	if v.Location().String() != "date-local" {
		t.Problem(key, "a date without time is expected", fmt.Sprintf(hint, key))
		return time.Time{}, false
	}
	year, month, day := v.Date()
	return time.Date(year, month, day, 0, 0, 0, 0, time.UTC), true
}

// Figure reads a quantity: a string with unit and doubt as units.Parse reads it
// or, where one of the kinds is a plain number, a share or a count, a bare
// number. The ID of the figure is the path of the key, its origin Typed.
func (t *Table) Figure(key string, kinds ...units.Kind) (Figure, bool) {
	n := t.lookup(key, true)
	if n == nil {
		return Figure{}, false
	}
	text, isText := n.data.(string)
	if v, ok := floatOf(n); ok {
		text = strconv.FormatFloat(v, 'g', -1, 64)
	} else if !isText {
		t.wrongType(key, n, "a quantity in quotes", fmt.Sprintf("write %s = %q", key, example(kinds)))
		return Figure{}, false
	}
	kind, dist, err := units.Parse(text, kinds...)
	if err != nil {
		message, hint := unitsProblem(err)
		t.Problem(key, message, hint)
		return Figure{}, false
	}
	return Figure{
		ID: joinPath(t.path, key), Kind: kind, Dist: dist, Text: cleanQuantity(text),
		Origin: Typed, File: t.doc.name, Position: t.doc.position(n.place()),
	}, true
}

func example(kinds []units.Kind) string {
	if len(kinds) == 0 {
		return units.MassKind.Example()
	}
	return kinds[0].Example()
}

func unitsProblem(err error) (message, hint string) {
	if p, ok := err.(*units.ParseError); ok {
		return p.Message, p.Hint
	}
	return err.Error(), ""
}

var plainSpaces = strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ", "\t", " ")

// cleanQuantity cleans the text of a quantity, in which spaces of other kinds
// are legal.
func cleanQuantity(s string) string {
	return Clean(plainSpaces.Replace(s), 0)
}
