package input

import "bytes"

// change is an edit with the places of the old and the new value.
type change struct {
	node     *node
	old, new span
	raw      string
}

// comparison checks that two versions of a file differ in the changes only.
type comparison struct {
	before, after []byte
	changes       []change
	grown         *node // a table or array that may have one more child
	met           int   // changes that were met
}

// same compares a node of the old version with one of the new.
func (c *comparison) same(a, b *node) bool {
	for _, change := range c.changes {
		if change.node == a {
			c.met++
			return a.name == b.name && b.value == change.new
		}
	}
	if a.name != b.name || a.form != b.form || len(b.children) != len(a.children)+c.growth(a) {
		return false
	}
	if a.form == leaf && !bytes.Equal(c.before[a.value.start:a.value.end], c.after[b.value.start:b.value.end]) {
		return false
	}
	for i, child := range a.children {
		twin := b.children[i]
		if a.form == table {
			twin = b.child(child.name)
		}
		if twin == nil || !c.same(child, twin) {
			return false
		}
	}
	return true
}

func (c *comparison) growth(n *node) int {
	if n == c.grown {
		return 1
	}
	return 0
}
