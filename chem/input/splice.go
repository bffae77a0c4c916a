package input

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
)

// ErrSplice is the kind of error of an edit that was not made.
var ErrSplice = errors.New("input: the value cannot be replaced")

// Edit replaces the value at Path by Raw, which is written as TOML: a text with
// its quotes, a date without.
type Edit struct{ Path, Raw string }

// Splice returns the bytes of the file with the value at a path replaced by
// raw, and every other byte as it was. The result is parsed again; unless it
// differs from the document in just this value, nothing is returned but an
// error that wraps ErrSplice. The document itself does not change.
func (d *Document) Splice(path, raw string) ([]byte, error) {
	return d.SpliceAll([]Edit{{path, raw}})
}

// SpliceAll makes several edits as Splice makes one: all of them or none.
func (d *Document) SpliceAll(edits []Edit) ([]byte, error) {
	changes, err := d.changes(edits)
	if err != nil {
		return nil, err
	}
	var text []byte
	at := 0
	for i, c := range changes {
		text = append(text, d.text[at:c.old.start]...)
		changes[i].new.start = len(text)
		text = append(text, c.raw...)
		changes[i].new.end = len(text)
		at = c.old.end
	}
	text = append(text, d.text[at:]...)
	after, err := Parse(d.name, text)
	if err != nil {
		return nil, fmt.Errorf("%w: the file would no longer be readable: %w", ErrSplice, err)
	}
	c := comparison{before: d.text, after: text, changes: changes}
	if !c.same(d.root, after.root) || c.met != len(changes) {
		return nil, fmt.Errorf("%w: more than that value would change", ErrSplice)
	}
	return text, nil
}

// change is an edit with the places of the old and the new value.
type change struct {
	node     *node
	old, new span
	raw      string
}

// changes finds the places of the edits, in the order of the file.
func (d *Document) changes(edits []Edit) ([]change, error) {
	list := make([]change, 0, len(edits))
	for _, e := range edits {
		n := d.root.find(e.Path)
		switch {
		case n == nil || n == d.root:
			return nil, fmt.Errorf("%w: there is no key %q", ErrSplice, Clean(e.Path, 200))
		case n.value == span{} || n.partial:
			return nil, fmt.Errorf("%w: %q is not a single value", ErrSplice, Clean(e.Path, 200))
		}
		list = append(list, change{node: n, old: n.value, raw: e.Raw})
	}
	slices.SortFunc(list, func(a, b change) int { return a.old.start - b.old.start })
	for i := 1; i < len(list); i++ {
		if list[i].old.start < list[i-1].old.end {
			return nil, fmt.Errorf("%w: two edits overlap", ErrSplice)
		}
	}
	return list, nil
}

// comparison checks that two versions of a file differ in the changes only.
type comparison struct {
	before, after []byte
	changes       []change
	met           int // changes that were met
}

func (c *comparison) same(a, b *node) bool {
	for _, change := range c.changes {
		if change.node == a {
			c.met++
			return a.name == b.name && b.value == change.new
		}
	}
	if a.name != b.name || a.form != b.form || len(a.children) != len(b.children) {
		return false
	}
	if a.form == leaf && !bytes.Equal(c.before[a.value.start:a.value.end], c.after[b.value.start:b.value.end]) {
		return false
	}
	for i := range a.children {
		if !c.same(a.children[i], b.children[i]) {
			return false
		}
	}
	return true
}
