package input

import (
	"bytes"
	"fmt"
	"strings"
)

// AppendKey returns the bytes of the file with a new key behind the last one of
// a table (the root for an empty path), and every other byte as it was. Of an
// inline table, the new key comes before the closing brace. The result is
// checked as that of Splice is.
func (d *Document) AppendKey(tablePath, key, raw string) ([]byte, error) {
	n := d.root.find(tablePath)
	switch {
	case n == nil || n.form != table:
		return nil, fmt.Errorf("%w: there is no table %q", ErrSplice, Clean(tablePath, 200))
	case n.child(key) != nil:
		return nil, fmt.Errorf("%w: there is a key %q already", ErrSplice, Clean(joinPath(tablePath, key), 200))
	}
	line := joinPath("", key) + " = " + raw
	switch {
	case n == d.root || n.tail > 0:
		return d.insert(n, n.tail, d.lines(n.tail, d.indent(n)+line))
	case n.value.end > n.value.start && !n.partial:
		return d.insertInline(n, line)
	}
	return nil, fmt.Errorf("%w: the table %q has no place for a key", ErrSplice, Clean(tablePath, 200))
}

// AppendTable returns the bytes of the file with a new table at its end: [path]
// or, if the path leads to an array of tables or repeated is set, [[path]]. The
// paths of its keys are those within the table.
func (d *Document) AppendTable(path string, repeated bool, keys []Edit) ([]byte, error) {
	old := d.root.find(path)
	parent, owner := d.root, path
	if old != nil {
		parent = old
	} else if i := strings.LastIndexByte(path, '.'); i >= 0 && d.root.find(path[:i]) != nil {
		parent, owner = d.root.find(path[:i]), path[i+1:]
	}
	if owner == "" || old != nil && old.form != tableArray {
		return nil, fmt.Errorf("%w: there is a %q already", ErrSplice, Clean(path, 200))
	}
	header := "[" + path + "]"
	if repeated || old != nil {
		header = "[" + header + "]"
	}
	lines := []string{"", header}
	for _, k := range keys {
		lines = append(lines, joinPath("", k.Path)+" = "+k.Raw)
	}
	return d.insert(parent, len(d.text), d.lines(len(d.text), lines...))
}

// insert puts text at an offset and checks that nothing but a new child of one
// node comes of it.
func (d *Document) insert(grown *node, at int, text string) ([]byte, error) {
	result := append(append(bytes.Clone(d.text[:at]), text...), d.text[at:]...)
	after, err := d.reparse(result)
	if err != nil {
		return nil, err
	}
	c := comparison{before: d.text, after: result, grown: grown}
	if !c.same(d.root, after.root) {
		return nil, fmt.Errorf("%w: more than that key would change", ErrSplice)
	}
	return result, nil
}

// insertInline puts a key behind the last one of an inline table.
func (d *Document) insertInline(n *node, line string) ([]byte, error) {
	if len(n.children) == 0 {
		return d.insert(n, n.value.start+1, " "+line+" ")
	}
	last := n.children[len(n.children)-1]
	if last.value.end <= last.value.start { // the last key is a dotted one
		return nil, fmt.Errorf("%w: write the table %q with a header first", ErrSplice, Clean(n.name, 200))
	}
	return d.insert(n, last.value.end, ", "+line)
}

// lines joins lines in the manner of the file, so that they can stand at an
// offset where a line ends or the file does.
func (d *Document) lines(at int, lines ...string) string {
	end := "\n"
	if i := bytes.IndexByte(d.text, '\n'); i > 0 && d.text[i-1] == '\r' {
		end = "\r\n"
	}
	text := strings.Join(lines, end) + end
	if at > 0 && d.text[at-1] != '\n' && !bytes.Equal(d.text[:at], byteOrderMark) {
		text = end + text
	}
	return text
}

// indent returns the white space before the last key of a table.
func (d *Document) indent(n *node) string {
	for i := len(n.children) - 1; i >= 0; i-- {
		if c := n.children[i]; c.form == leaf {
			line := d.line(c.key.start)
			return string(line[:len(line)-len(bytes.TrimLeft(line, " \t"))])
		}
	}
	return ""
}
