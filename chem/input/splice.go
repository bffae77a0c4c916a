package input

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// ErrSplice is the kind of error of an edit that was not made.
var ErrSplice = errors.New("input: the file cannot be changed so")

// Edit gives the key at Path the value Raw, which is written as TOML: a text
// with its quotes (see Quote), a date without.
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
	after, err := d.reparse(text)
	if err != nil {
		return nil, err
	}
	c := comparison{before: d.text, after: text, changes: changes}
	if !c.same(d.root, after.root) || c.met != len(changes) {
		return nil, fmt.Errorf("%w: more than that value would change", ErrSplice)
	}
	return text, nil
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

func (d *Document) reparse(text []byte) (*Document, error) {
	after, err := Parse(d.name, text)
	if err != nil {
		return nil, fmt.Errorf("%w: it would no longer be readable: %w", ErrSplice, err)
	}
	return after, nil
}

// Quote writes a text as a TOML string. Characters that are not printable are
// escaped, and broken UTF-8 becomes U+FFFD.
func Quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case strconv.IsPrint(r):
			b.WriteRune(r)
		case r > 0xffff:
			fmt.Fprintf(&b, `\U%08X`, r)
		default:
			fmt.Fprintf(&b, `\u%04X`, r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
