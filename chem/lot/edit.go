package lot

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"afterpour/chem/input"
)

// ErrEdit is the kind of error of an edit that a lot file has no place for.
var ErrEdit = errors.New("lot: the file has no place for this")

// Edit writes one value into a lot file and returns the new file, with what
// stood there before ("" if nothing did). A text is what a person types, without
// quotes: "3.2 L ± 5 %"; a list has commas between its entries. A value that is
// there is replaced, a new key goes to the end of its table, a new table to the
// end of the file; every other byte stays.
//
// The path is that of the figure without "lot/": "vessel.liquid",
// "dissolved[0].mass". One past the last entry of a section, "added[2]", takes a
// whole new entry, written as an inline table: { what = "water", amount = "1 L" }.
// The empty path is the whole file.
//
// Errors: input.Problems with everything that is wrong with the file as it would
// be; input.ErrSplice or ErrEdit if the path leads nowhere. The data are not
// changed.
func Edit(name string, data []byte, path, text string) (changed []byte, old string, err error) {
	if path == "" {
		return checked(name, []byte(text), string(data), nil)
	}
	doc, err := input.Parse(name, data)
	if err != nil {
		return nil, "", err
	}
	if old, ok := Typed(doc, path); ok {
		changed, err = doc.Splice(path, rawAs(doc, path, text))
		return checked(name, changed, old, err)
	}
	changed, err = appended(doc, path, text)
	return checked(name, changed, "", err)
}

// checked refuses a file that is not a lot any more.
func checked(name string, changed []byte, old string, err error) ([]byte, string, error) {
	if err == nil {
		err = readable(name, changed)
	}
	if err != nil {
		return nil, old, err
	}
	return changed, old, nil
}

// readable reports all that is wrong with a lot file.
func readable(name string, data []byte) error {
	doc, err := input.Parse(name, data)
	if err != nil {
		return err
	}
	_, err = Decode(doc, new(input.Figures))
	return err
}

// Typed returns the text of a value as Edit takes it; false if there is none at
// the path, or a table.
func Typed(doc *input.Document, path string) (string, bool) {
	raw, ok := rawOf(doc, path)
	if !ok || strings.HasPrefix(raw, "{") {
		return "", false
	}
	value, err := input.Parse(doc.Name(), []byte("value = "+raw+"\n"))
	if err != nil {
		return "", false
	}
	if list, ok := value.Root().StringList("value"); ok {
		return strings.Join(list, ", "), true
	}
	return raw, true
}

// rawOf is a value as the file writes it.
func rawOf(doc *input.Document, path string) (string, bool) {
	span, ok := doc.Span(path)
	if !ok || span.Start >= span.End {
		return "", false
	}
	return strings.TrimSpace(string(doc.Data()[span.Start:span.End])), true
}

// lists are the keys that hold several words.
var lists = map[string]bool{"declared": true, "acknowledged": true}

// rawAs writes a text as TOML, in the manner of the value that it replaces: a
// number stays one as long as it is one.
func rawAs(doc *input.Document, path, text string) string {
	old, found := rawOf(doc, path)
	bare := found && !strings.HasPrefix(old, `"`) && !strings.HasPrefix(old, "'")
	if _, err := strconv.ParseFloat(text, 64); bare && err == nil && !lists[path] {
		if _, err := input.Parse("", []byte("value = "+text+"\n")); err == nil {
			return text
		}
	}
	return raw(path, text)
}

// raw writes a text as the TOML of a key that is new.
func raw(path, text string) string {
	if _, err := time.Parse(time.DateOnly, text); path == "date" && err == nil {
		return text
	}
	if !lists[path] {
		return input.Quote(text)
	}
	var words []string
	for _, w := range strings.Split(text, ",") {
		if w = strings.TrimSpace(w); w != "" {
			words = append(words, input.Quote(w))
		}
	}
	return "[" + strings.Join(words, ", ") + "]"
}

// appended puts a key, or a table with it, where the file has none.
func appended(doc *input.Document, path, text string) ([]byte, error) {
	if section, index, ok := entryOf(path); ok {
		return appendEntry(doc, section, index, text)
	}
	i := strings.LastIndexByte(path, '.')
	if i < 0 {
		return doc.AppendKey("", path, raw(path, text))
	}
	table, key := path[:i], path[i+1:]
	if _, found := doc.Span(table); !found && !strings.ContainsAny(table, "[]") {
		return doc.AppendTable(table, false, []input.Edit{{Path: key, Raw: raw(path, text)}})
	}
	return doc.AppendKey(table, key, raw(path, text))
}

// entryOf takes a path such as "added[2]" apart.
func entryOf(path string) (section string, index int, ok bool) {
	section, rest, found := strings.Cut(path, "[")
	number, end := strings.CutSuffix(rest, "]")
	index, err := strconv.Atoi(number)
	return section, index, found && end && err == nil && section != ""
}

// appendEntry puts a new entry behind the last one of a section.
func appendEntry(doc *input.Document, section string, index int, text string) ([]byte, error) {
	count := len(doc.Root().Tables(section))
	if index != count {
		return nil, fmt.Errorf("%w: the next entry of %s is %s[%d]", ErrEdit, input.Clean(section, 40), input.Clean(section, 40), count)
	}
	entry, err := input.Parse(doc.Name(), []byte("entry = "+text+"\n"))
	if err != nil {
		return nil, fmt.Errorf("%w: an entry is written as { metal = \"Ag\", … }", ErrEdit)
	}
	table, ok := entry.Root().Table("entry")
	if !ok || len(table.Keys()) == 0 || len(entry.Root().Keys()) != 1 {
		return nil, fmt.Errorf("%w: an entry is written as { metal = \"Ag\", … }", ErrEdit)
	}
	var keys []input.Edit
	for _, key := range table.Keys() {
		span, _ := entry.Span("entry." + key)
		keys = append(keys, input.Edit{Path: key, Raw: string(entry.Data()[span.Start:span.End])})
	}
	return doc.AppendTable(section, true, keys)
}
