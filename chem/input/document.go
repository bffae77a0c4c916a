package input

import "bytes"

// Span is a range of bytes in a document and the place where it starts.
type Span struct {
	Start, End int // byte offsets
	Position   Position
}

// Document is a parsed file. It notes the problems that its tables find, so it
// must be used by one goroutine at a time.
type Document struct {
	*source
	root     *node
	problems Problems
}

// Parse reads a document: it checks encoding, size and nesting, decodes the
// values and finds the place of each. The name, usually the path of the file,
// is used in problems. An error is of type Problems and holds every syntax
// error that could be found.
func Parse(name string, data []byte) (*Document, error) {
	if len(data) > MaxBytes {
		return nil, (&source{name: name, text: data}).checkEncoding()
	}
	s := newSource(name, bytes.Clone(data))
	if problems := s.checkEncoding(); problems != nil {
		return nil, problems
	}
	root, problems := walk(s)
	if problems == nil {
		problems = decode(s, root)
	}
	if problems != nil {
		return nil, problems.sorted()
	}
	d := &Document{source: s, root: root}
	if len(root.children) == 0 {
		return nil, Problems{s.problem(0, "", "the file sets no key", "all of it is comments")}
	}
	return d, nil
}

// Root returns the top table.
func (d *Document) Root() *Table { return &Table{doc: d, node: d.root} }

// Name returns the name given to Parse.
func (d *Document) Name() string { return d.name }

// Data returns the bytes of the file. They must not be changed.
func (d *Document) Data() []byte { return d.text }

// Span returns where the value at a path stands, such as "spot.Ag.price" or
// "dissolved[0].mass"; a key that is not bare stands in double quotes. Of a
// table under a header, and of an array or table within an array, it is the
// place where it starts.
func (d *Document) Span(path string) (Span, bool) {
	n := d.root.find(path)
	if n == nil || n == d.root {
		return Span{}, false
	}
	s := n.value
	if s == (span{}) {
		s = n.key
	}
	return Span{s.start, s.end, d.position(s.start)}, true
}

// Err returns all problems noted so far as Problems in the order of the file,
// and nil if there are none.
func (d *Document) Err() error {
	if len(d.problems) == 0 {
		return nil
	}
	return d.problems.sorted()
}

// enough is how many problems of one file are noted at all; nobody reads so
// many, and a file made to have them must not keep the program busy.
const enough = 10 * maxProblems

func (d *Document) note(offset int, key, message, hint string) {
	if len(d.problems) < enough {
		d.problems = append(d.problems, d.problem(offset, key, message, hint))
	}
}
