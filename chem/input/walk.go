package input

import (
	"bytes"
	"errors"
	"fmt"

	"github.com/pelletier/go-toml/v2/unstable"
)

// walker reads a file with the positions of everything in it and enforces the
// limits. It is the only user of the unstable parser.
type walker struct {
	*source
	parser   unstable.Parser
	base     int // offset of the text that the parser is at
	done     int // offset behind the last expression read
	root     *node
	current  *node // the table that the last header opened
	count    int
	broken   bool // a syntax error was found: the tree is of no use
	stopped  bool // a limit was passed: read no further
	problems Problems
}

// maxSyntaxErrors is how many syntax errors are looked for in one file.
const maxSyntaxErrors = 20

// walk reads the whole file into a tree of nodes without values.
func walk(s *source) (*node, Problems) {
	w := &walker{source: s, root: &node{form: table, header: true}}
	w.current = w.root
	text := s.text[:len(s.text):len(s.text)] // the parser finds offsets by capacity
	if bytes.HasPrefix(text, byteOrderMark) {
		w.base = len(byteOrderMark)
	}
	w.root.tail = w.base
	for w.done = w.base; !w.stopped; {
		w.parser.Reset(text[w.base:])
		for !w.stopped && w.parser.NextExpression() {
			w.expression(w.parser.Expression())
		}
		if w.stopped || w.parser.Error() == nil || !w.recover(w.parser.Error()) {
			break
		}
	}
	return w.root, w.problems
}

func (w *walker) at(r unstable.Range) span {
	start := w.base + int(r.Offset)
	return span{start, start + int(r.Length)}
}

// recover notes a syntax error and moves on to the next line. It returns false
// where the next line may belong to the broken expression.
func (w *walker) recover(err error) bool {
	w.broken = true
	offset := len(w.text)
	var perr *unstable.ParserError
	if errors.As(err, &perr) {
		offset = max(w.base, min(len(w.text), len(w.text)-cap(perr.Highlight)))
	}
	start := min(w.expressionStart(), offset)
	end := bytes.IndexByte(w.text[offset:], '\n')
	oneLine := bytes.IndexByte(w.text[start:offset], '\n') < 0
	line := string(bytes.TrimPrefix(w.line(start), byteOrderMark))
	message, hint := explain(line, err.Error())
	if !oneLine {
		message, hint = err.Error(), fmt.Sprintf("what starts on line %d may not be closed", w.position(start).Line)
	}
	w.problems = append(w.problems, w.problem(offset, keyOf(line), message, hint))
	if end < 0 || !oneLine || len(w.problems) >= maxSyntaxErrors {
		return false
	}
	w.base = offset + end + 1
	w.done = w.base
	return true
}

// expressionStart returns the offset of the first expression not yet read.
func (w *walker) expressionStart() int {
	at := w.done
	for at < len(w.text) {
		line := w.text[at:]
		end := bytes.IndexByte(line, '\n')
		if end < 0 {
			end = len(line) - 1
		}
		if t := bytes.TrimSpace(line[:end+1]); len(t) > 0 && t[0] != '#' {
			return at
		}
		at += end + 1
	}
	return at
}

// expression takes in a header or a key with its value.
func (w *walker) expression(e *unstable.Node) {
	switch e.Kind {
	case unstable.Table, unstable.ArrayTable:
		keys := w.keys(e)
		if len(keys) == 0 {
			return
		}
		w.done = w.endOfLine(keys[len(keys)-1].key.end)
		if !w.broken && w.counted(keys[0].key.start) {
			w.open(keys, e.Kind == unstable.ArrayTable)
			w.current.tail = w.done
		}
	case unstable.KeyValue:
		w.done = w.endOfLine(w.at(e.Raw).end)
		if !w.broken {
			w.keyValue(w.current, e, 0)
			w.current.tail = w.done
		}
	}
}

func (w *walker) endOfLine(offset int) int {
	if i := bytes.IndexByte(w.text[offset:], '\n'); i >= 0 {
		return offset + i + 1
	}
	return len(w.text)
}

// keys returns the parts of a dotted key, or none if there are too many.
func (w *walker) keys(e *unstable.Node) []*node {
	var parts []*node
	for it := e.Key(); it.Next(); {
		k := it.Node()
		if len(parts) == MaxDotted {
			w.stop(w.at(k.Raw).start, fmt.Sprintf("the key has more than %d parts", MaxDotted))
			return nil
		}
		parts = append(parts, &node{name: string(k.Data), form: table, key: w.at(k.Raw)})
	}
	return parts
}

// counted counts one more key or value and stops at the limit.
func (w *walker) counted(offset int) bool {
	if w.count++; w.count > MaxKeys {
		w.stop(offset, fmt.Sprintf("the file holds more than %d keys and values", MaxKeys))
	}
	return !w.stopped
}

func (w *walker) stop(offset int, message string) {
	if w.stopped {
		return
	}
	w.stopped, w.broken = true, true
	w.problems = append(w.problems, w.problem(offset, "", message, readLimit))
}

// descend returns the table that the leading parts of a key lead to.
func (w *walker) descend(from *node, parts []*node) *node {
	for _, p := range parts {
		next := from.child(p.name)
		switch {
		case next == nil:
			next = from.add(p)
		case next.form == tableArray:
			next = next.children[len(next.children)-1]
		case next.form != table:
			w.repeated(next, p)
			return p // a table outside the tree: what follows is not looked at
		}
		from = next
	}
	return from
}

// open makes the table of a header the current one.
func (w *walker) open(keys []*node, many bool) {
	last := keys[len(keys)-1]
	parent := w.descend(w.root, keys[:len(keys)-1])
	old := parent.child(last.name)
	switch {
	case many && (old == nil || old.form == tableArray):
		if old == nil {
			old = parent.add(&node{name: last.name, form: tableArray, key: last.key})
		}
		last.header = true
		w.current = old.add(last)
	case old == nil:
		last.header = true
		w.current = parent.add(last)
	case !many && old.form == table && !old.header && old.value == span{}:
		old.header, old.key = true, last.key
		w.current = old
	default:
		w.repeated(old, last)
		w.current = last
	}
}

// keyValue takes in a key with its value.
func (w *walker) keyValue(into *node, e *unstable.Node, depth int) {
	keys := w.keys(e)
	if len(keys) == 0 || !w.counted(keys[0].key.start) {
		return
	}
	last := keys[len(keys)-1]
	into = w.descend(into, keys[:len(keys)-1])
	if old := into.child(last.name); old != nil {
		w.repeated(old, last)
		return
	}
	last.value = span{w.valueStart(last.key.end), w.at(e.Raw).end}
	w.value(into.add(last), e.Value(), depth)
}

// valueStart returns where the value behind a key begins.
func (w *walker) valueStart(at int) int {
	for at < len(w.text) && (w.text[at] == ' ' || w.text[at] == '\t' || w.text[at] == '=') {
		at++
	}
	return at
}

// value takes in the value of a node whose place is known.
func (w *walker) value(n *node, v *unstable.Node, depth int) {
	n.form = leaf
	if v.Kind != unstable.InlineTable && v.Kind != unstable.Array {
		return
	}
	if depth == MaxDepth {
		w.stop(n.value.start, tooDeep)
		return
	}
	if v.Kind == unstable.Array {
		n.form = array
		for it := v.Children(); it.Next() && w.counted(n.value.start); {
			w.element(n, it.Node(), depth+1)
		}
		return
	}
	n.form = table
	n.header = true // complete in itself: no header may add to it
	for it := v.Children(); it.Next() && !w.stopped; {
		w.keyValue(n, it.Node(), depth+1)
	}
}

// element takes in an element of an array. The parser does not say where an
// array or an inline table within an array ends, so these get the place of
// their first byte only.
func (w *walker) element(n *node, v *unstable.Node, depth int) {
	e := &node{key: n.value, value: n.value, partial: v.Kind == unstable.Array || v.Kind == unstable.InlineTable}
	if at := w.at(v.Raw); v.Kind != unstable.Array {
		e.key, e.value = at, at
	}
	w.value(n.add(e), v, depth)
}

// repeated notes a key that is set a second time.
func (w *walker) repeated(first, again *node) {
	if len(w.problems) >= enough {
		return
	}
	w.problems = append(w.problems, w.problem(again.key.start, again.name,
		"this key is set a second time", fmt.Sprintf("it is set on line %d already: keep one of them", w.position(first.key.start).Line)))
}
