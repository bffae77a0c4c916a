package input

import (
	"testing"

	"pgregory.net/rapid"
)

// TestPathsAreFound: whatever the keys, the path of a table leads back to it.
func TestPathsAreFound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		root := &node{form: table}
		at, path := root, ""
		for range rapid.IntRange(1, 5).Draw(t, "depth") {
			key := rapid.OneOf(rapid.SampledFrom([]string{"", "a.b", "[0]", `"`, `\`, "a b", "é", "\x00", "plain-key_1"}), rapid.String()).Draw(t, "key")
			path = joinPath(path, key)
			if rapid.Bool().Draw(t, "array") {
				at = at.add(&node{name: key, form: array})
				path = elementPath(path, 0)
				key = ""
			}
			at = at.add(&node{name: key, form: table})
		}
		if got := root.find(path); got != at {
			t.Fatalf("find(%q) = %+v, want %+v", path, got, at)
		}
	})
}
