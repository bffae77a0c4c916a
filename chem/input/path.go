package input

import (
	"fmt"
	"strconv"
	"strings"
)

// joinPath appends a key to a path, in quotes where it is not a bare key.
func joinPath(path, key string) string {
	if !isBareKey(key) {
		key = strconv.Quote(key)
	}
	if path == "" {
		return key
	}
	return path + "." + key
}

func elementPath(path string, i int) string { return fmt.Sprintf("%s[%d]", path, i) }

func isBareKey(key string) bool {
	for _, c := range []byte(key) {
		if !(c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' || c == '-' || c == '_') {
			return false
		}
	}
	return key != ""
}

// find follows a path from a node; nil if it leads nowhere.
func (n *node) find(path string) *node {
	for path != "" && n != nil {
		step, rest, ok := cutStep(path)
		if !ok {
			return nil
		}
		n = n.follow(step)
		path = rest
	}
	return n
}

// step is one step of a path: a key, or the index of an element.
type step struct {
	key     string
	index   int
	isIndex bool
}

func (n *node) follow(s step) *node {
	switch {
	case !s.isIndex:
		return n.child(s.key)
	case n.form == table, n.form == leaf, s.index < 0, s.index >= len(n.children):
		return nil
	}
	return n.children[s.index]
}

// cutStep takes the first step off a path: a key, a quoted key or an "[index]".
func cutStep(path string) (s step, rest string, ok bool) {
	switch path[0] {
	case '[':
		number, rest, _ := strings.Cut(path[1:], "]")
		i, err := strconv.Atoi(number)
		return step{index: i, isIndex: true}, strings.TrimPrefix(rest, "."), err == nil
	case '"':
		quoted, err := strconv.QuotedPrefix(path)
		if err != nil {
			return step{}, "", false
		}
		key, err := strconv.Unquote(quoted)
		return step{key: key}, strings.TrimPrefix(path[len(quoted):], "."), err == nil
	}
	end := strings.IndexAny(path, ".[")
	if end < 0 {
		end = len(path)
	}
	return step{key: path[:end]}, strings.TrimPrefix(path[end:], "."), end > 0
}
