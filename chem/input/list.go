package input

// StringList returns one text, or an array of texts, as a list.
func (t *Table) StringList(key string) ([]string, bool) {
	n := t.lookup(key, true)
	if n == nil {
		return nil, false
	}
	if s, ok := n.data.(string); ok {
		return []string{s}, true
	}
	return t.Strings(key)
}
