package input

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// Table is a strict cursor over one table of a document. A method that takes a
// value out of it returns false where the key is absent and where its value is
// of the wrong kind; the latter is noted as a problem, the former is not,
// because only the caller knows which keys are needed (see Require).
type Table struct {
	doc   *Document
	node  *node
	path  string
	known []string // keys that were asked for
}

// Path returns the path of the table; empty for the root.
func (t *Table) Path() string { return t.path }

// Has reports whether the table holds the key.
func (t *Table) Has(key string) bool { return t.lookup(key, false) != nil }

// Keys returns the keys in the order of the file. A table whose keys are names
// of the user's choosing (elements, reagents) is read by going through them.
func (t *Table) Keys() []string {
	keys := make([]string, len(t.node.children))
	for i, c := range t.node.children {
		keys[i] = c.name
	}
	return keys
}

// lookup finds a key and remembers that it is a known one. A key that is only
// looked for, but not taken, still counts as unknown to Close.
func (t *Table) lookup(key string, take bool) *node {
	if !slices.Contains(t.known, key) {
		t.known = append(t.known, key)
	}
	n := t.node.child(key)
	if n != nil && take {
		n.asked = true
	}
	return n
}

// Position returns where the value of a key stands, or where the table starts
// if the key is empty or absent.
func (t *Table) Position(key string) Position { return t.doc.position(t.place(key)) }

func (t *Table) place(key string) int {
	if n := t.node.child(key); n != nil {
		return n.place()
	}
	return t.node.place()
}

// Problem notes a problem at a key's value, or at the table where the key is
// empty or absent. Message and hint are cleaned.
func (t *Table) Problem(key, message, hint string) {
	path := t.path
	if key != "" {
		path = joinPath(t.path, key)
	}
	t.doc.note(t.place(key), path, message, hint)
}

// Require reports whether the table holds the key, and notes a problem with the
// hint if it does not.
func (t *Table) Require(key, hint string) bool {
	if t.Has(key) {
		return true
	}
	t.Problem(key, "this key is missing", hint)
	return false
}

// Table returns a table within this one.
func (t *Table) Table(key string) (*Table, bool) {
	n := t.lookup(key, true)
	switch {
	case n == nil:
		return nil, false
	case n.form == tableArray:
		t.Problem(key, "one table is expected, not several", fmt.Sprintf("write the header as [%s], once", t.header(key)))
	case n.form != table:
		t.wrongType(key, n, "a table", fmt.Sprintf("write a header [%s] with keys below it", t.header(key)))
	default:
		return &Table{doc: t.doc, node: n, path: joinPath(t.path, key)}, true
	}
	return nil, false
}

// header returns the name of a table as it stands in a header, where elements
// are not numbered.
func (t *Table) header(key string) string {
	return elementIndex.ReplaceAllString(joinPath(t.path, key), "")
}

var elementIndex = regexp.MustCompile(`\[[0-9]+\]`)

// Tables returns the elements of an array of tables, written as [[headers]] or
// as an array of inline tables.
func (t *Table) Tables(key string) []*Table {
	n := t.lookup(key, true)
	if n == nil {
		return nil
	}
	path := joinPath(t.path, key)
	if n.form == table || n.form == leaf {
		t.wrongType(key, n, "an array of tables", fmt.Sprintf("write the header in double brackets: [[%s]]", t.header(key)))
		return nil
	}
	var list []*Table
	for i, e := range n.children {
		if e.form != table {
			t.doc.note(e.place(), elementPath(path, i), "a table is expected, not "+describe(e), fmt.Sprintf("write the header in double brackets: [[%s]]", t.header(key)))
			continue
		}
		list = append(list, &Table{doc: t.doc, node: e, path: elementPath(path, i)})
	}
	return list
}

// Close notes a problem for every key of the table that nobody took, with the
// nearest known key as its hint.
func (t *Table) Close() {
	for _, n := range t.node.children {
		if n.asked || len(t.doc.problems) >= enough {
			continue
		}
		hint := "no keys are known here"
		if near := Nearest(n.name, t.known); near != "" {
			hint = "did you mean " + near + "?"
		} else if len(t.known) > 0 {
			hint = "known here: " + strings.Join(t.known, ", ")
		}
		t.doc.note(n.key.start, joinPath(t.path, n.name), "unknown key", hint)
	}
}
