package input

// span is a range of bytes.
type span struct{ start, end int }

// form is what a node of a document is.
type form uint8

const (
	leaf       form = iota // a single value
	table                  // a table, however it is written
	array                  // an array of values
	tableArray             // an array of tables written as [[headers]]
)

// node is a value of a document with its place in the file.
type node struct {
	name     string
	form     form
	header   bool // a table that is complete: it has a header of its own, or braces
	partial  bool // value is the place of the value, but not all of it
	key      span // the last part of the key, or of the header
	value    span // the value; empty for what has no single value, such as a header's table
	tail     int  // of a table written in lines: the offset behind the last of them
	children []*node
	index    map[string]*node // children of a table by name
	data     any              // the decoded value of a leaf or an array
	asked    bool             // somebody asked for it
}

func (n *node) child(name string) *node { return n.index[name] }

func (n *node) add(c *node) *node {
	n.children = append(n.children, c)
	if n.form == table {
		if n.index == nil {
			n.index = make(map[string]*node)
		}
		n.index[c.name] = c
	}
	return c
}

// place returns the offset at which a problem with the node is shown.
func (n *node) place() int {
	if n.value.end > n.value.start {
		return n.value.start
	}
	return n.key.start
}
