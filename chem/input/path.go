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
		if i, err := strconv.Atoi(strings.Trim(step, "[]")); err == nil && strings.HasPrefix(step, "[") {
			if n.form == table || n.form == leaf || i < 0 || i >= len(n.children) {
				return nil
			}
			n = n.children[i]
		} else {
			n = n.child(step)
		}
		path = rest
	}
	return n
}

// cutStep takes the first step off a path: a key, a quoted key or an "[index]".
func cutStep(path string) (step, rest string, ok bool) {
	switch {
	case strings.HasPrefix(path, "["):
		end := strings.IndexByte(path, ']')
		if end < 0 {
			return "", "", false
		}
		step, rest = path[:end+1], path[end+1:]
	case strings.HasPrefix(path, `"`):
		quoted, err := strconv.QuotedPrefix(path)
		if err != nil {
			return "", "", false
		}
		step, err = strconv.Unquote(quoted)
		if err != nil {
			return "", "", false
		}
		rest = path[len(quoted):]
	default:
		end := strings.IndexAny(path, ".[")
		if end < 0 {
			end = len(path)
		}
		step, rest = path[:end], path[end:]
	}
	return step, strings.TrimPrefix(rest, "."), step != ""
}
