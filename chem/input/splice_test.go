package input

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestSplice(t *testing.T) {
	const book = "# prices\ncurrency = \"USD\"\n\n[spot.Ag]   # silver\nprice = \"30.00 / ozt\"   # an ounce\ndate  = 2026-11-20\nvolume = 2_400.50\n[spot.\"odd.key\"]\nprice = '1 / g'"
	tests := map[string]struct{ path, raw, old string }{
		"text":          {"spot.Ag.price", `"31.20 / ozt"`, `"30.00 / ozt"`},
		"date":          {"spot.Ag.date", "2026-12-01", "2026-11-20"},
		"underscores":   {"spot.Ag.volume", "2_500.00", "2_400.50"},
		"quoted key":    {`spot."odd.key".price`, `"2 / g"`, `'1 / g'`},
		"to a number":   {"spot.Ag.price", "5", `"30.00 / ozt"`},
		"to a table":    {"spot.Ag.price", "{ a = 1 }", `"30.00 / ozt"`},
		"the same":      {"currency", `"USD"`, `"USD"`},
		"several lines": {"currency", "[\n  1,\n  2,\n]", `"USD"`},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			for _, form := range forms(book) {
				d := parseSample(t, form)
				got, err := d.Splice(test.path, test.raw)
				if want := strings.Replace(form, test.old, test.raw, 1); err != nil || string(got) != want {
					t.Errorf("Splice(%q, %q) = %q, %v; want %q", test.path, test.raw, got, err, want)
				}
				if string(d.Data()) != form {
					t.Error("Splice changed the document")
				}
			}
		})
	}
}

// forms returns a text with both line endings, with and without byte order mark
// and final line feed.
func forms(text string) []string {
	crlf := strings.ReplaceAll(text, "\n", "\r\n")
	return []string{text, text + "\n", crlf, crlf + "\r\n", "\ufeff" + text, "\ufeff" + crlf + "\r\n"}
}

func TestSpliceRefuses(t *testing.T) {
	const text = "a = 1\nb = 2\n[t]\nc = [1, [2], { d = 3 }]\n[[e]]\nf = 1\n"
	tests := map[string]Edit{
		"no such key":       {"x", "1"},
		"the root":          {"", "1"},
		"a header's table":  {"t", "1"},
		"an element":        {"e[0]", "1"},
		"array in an array": {"t.c[1]", "[5]"},
		"table in an array": {"t.c[2]", "{}"},
		"no value":          {"a", ""},
		"blank value":       {"a", "  "},
		"a comment":         {"a", "1 # really"},
		"one more key":      {"a", "1\nx = 5"},
		"one more table":    {"b", "2\n[x]"},
		"hides the next":    {"a", `"""`},
		"open quote":        {"a", `"1`},
		"open bracket":      {"a", "["},
		"space around":      {"a", " 1 "},
		"no TOML":           {"a", "1,234"},
		"NUL":               {"a", "\"\x00\""},
		"broken UTF-8":      {"a", "\"\xff\""},
		"too deep":          {"a", strings.Repeat("[", 17) + strings.Repeat("]", 17)},
		"too long":          {"a", `"` + strings.Repeat("x", MaxBytes) + `"`},
		"carriage return":   {"a", "1\r"},
	}
	for name, edit := range tests {
		t.Run(name, func(t *testing.T) {
			d := parseSample(t, text)
			got, err := d.Splice(edit.Path, edit.Raw)
			if !errors.Is(err, ErrSplice) || got != nil {
				t.Errorf("Splice(%q, %q) = %q, %v; want %v", edit.Path, edit.Raw, got, err, ErrSplice)
			}
		})
	}
}

func TestSpliceAll(t *testing.T) {
	d := parseSample(t, "a = 1 # one\nb = { c = 2, d = 3 }\n")
	got, err := d.SpliceAll([]Edit{{"b.d", "33333"}, {"a", "11"}, {"b.c", "2"}})
	if want := "a = 11 # one\nb = { c = 2, d = 33333 }\n"; err != nil || string(got) != want {
		t.Errorf("SpliceAll = %q, %v; want %q", got, err, want)
	}
	for name, edits := range map[string][]Edit{
		"the same twice":     {{"a", "1"}, {"a", "2"}},
		"one within another": {{"b", "5"}, {"b.c", "6"}},
		"one of two is bad":  {{"a", "5"}, {"b.c", "]"}},
		"one is unknown":     {{"a", "5"}, {"b.x", "5"}},
		"across":             {{"a", `"""`}, {"b.c", `"""`}},
	} {
		if got, err := d.SpliceAll(edits); !errors.Is(err, ErrSplice) || got != nil {
			t.Errorf("%s: SpliceAll(%q) = %q, %v; want %v", name, edits, got, err, ErrSplice)
		}
	}
	if got, err := d.SpliceAll(nil); err != nil || string(got) != string(d.Data()) {
		t.Errorf("SpliceAll of nothing = %q, %v", got, err)
	}
}

// TestSpliceKeepsTheRest edits random files and checks that they differ in the
// value only, and that editing back gives the first file again.
func TestSpliceKeepsTheRest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text, paths := drawBook(t)
		d, err := Parse("book.toml", []byte(text))
		if err != nil {
			t.Fatalf("%v in\n%s", err, text)
		}
		path := rapid.SampledFrom(paths).Draw(t, "path")
		raw := rapid.SampledFrom([]string{`"31.20 / ozt"`, "1_000.5", "2026-12-01", "true", "'x'", `"é\u0041"`}).Draw(t, "raw")
		span, _ := d.Span(path)
		got, err := d.Splice(path, raw)
		if err != nil {
			t.Fatalf("Splice(%q, %q): %v in\n%s", path, raw, err, text)
		}
		if !bytes.Equal(got[:span.Start], d.Data()[:span.Start]) || !bytes.Equal(got[span.Start+len(raw):], d.Data()[span.End:]) {
			t.Fatalf("Splice(%q, %q) changed more than the value:\n%s\n%s", path, raw, text, got)
		}
		after, err := Parse("book.toml", got)
		if err != nil {
			t.Fatal(err)
		}
		back, err := after.Splice(path, string(d.Data()[span.Start:span.End]))
		if err != nil || string(back) != text {
			t.Fatalf("editing back gave %q, %v; want %q", back, err, text)
		}
	})
}

// drawBook draws a price book and the paths of its values.
func drawBook(t *rapid.T) (text string, paths []string) {
	end := rapid.SampledFrom([]string{"\n", "\r\n"}).Draw(t, "line end")
	var b strings.Builder
	b.WriteString(rapid.SampledFrom([]string{"", "\ufeff", "# a comment" + end}).Draw(t, "start"))
	value := rapid.SampledFrom([]string{`"30.00 / ozt"`, "'lit'", "2_400.50", "2026-11-20", "[1, 2]", "{ a = 1 }", `"""` + end + `text"""`, "1e3", `"# no comment"`})
	space := rapid.SampledFrom([]string{"", " ", "  ", "\t"})
	comment := rapid.SampledFrom([]string{"", " # comment = 5", "   #", "# [not a table]"})
	for i := range rapid.IntRange(1, 5).Draw(t, "tables") {
		key := rapid.SampledFrom([]string{"spot", `"odd key"`, "reagent.a-b"}).Draw(t, "table") + fmt.Sprintf(".t%d", i)
		header, path := "["+key+"]", key
		if rapid.Bool().Draw(t, "array") {
			key = fmt.Sprintf("list%d", i)
			header, path = "[["+key+"]]", key+"[0]"
		}
		b.WriteString(header + comment.Draw(t, "comment") + end)
		for j := range rapid.IntRange(1, 4).Draw(t, "keys") {
			name := fmt.Sprintf(rapid.SampledFrom([]string{"k%d", `"k.%d"`, "k-%d"}).Draw(t, "key"), j)
			b.WriteString(space.Draw(t, "indent") + name + space.Draw(t, "before") + "=" + space.Draw(t, "after") + value.Draw(t, "value") + comment.Draw(t, "comment") + end)
			paths = append(paths, path+"."+name)
		}
	}
	text = b.String()
	if rapid.Bool().Draw(t, "no final line end") {
		text = strings.TrimSuffix(text, end)
	}
	return text, paths
}

func FuzzSplice(f *testing.F) {
	f.Add([]byte(sample), "spot.Ag.price", `"31 / ozt"`)
	f.Add([]byte("a = 1\nb = 2"), "a", "1\nc = 3")
	f.Add([]byte("a = [[1], {b=2}]"), "a[0]", "\"\"\"")
	f.Fuzz(func(t *testing.T, data []byte, path, raw string) {
		d, err := Parse("fuzz.toml", data)
		if err != nil {
			return
		}
		got, err := d.Splice(path, raw)
		if err != nil {
			if !errors.Is(err, ErrSplice) {
				t.Fatalf("Splice(%q, %q): %v", path, raw, err)
			}
			return
		}
		span, _ := d.Span(path)
		if want := string(data[:span.Start]) + raw + string(data[span.End:]); string(got) != want {
			t.Fatalf("Splice(%q, %q) = %q, want %q", path, raw, got, want)
		}
		after, err := Parse("fuzz.toml", got)
		if err != nil {
			t.Fatalf("Splice(%q, %q) gave a file that cannot be read: %v", path, raw, err)
		}
		checkSpans(t, after, after.Root())
	})
}

func TestQuote(t *testing.T) {
	for _, s := range []string{"", "plain", `back\slash "quoted"`, "line\nbreak\ttab\x00\x1b\x7f", "é 漢 \u202e \u00a0", "\U000e0001", "a\u0085b"} {
		d, err := Parse("q", []byte("a = "+Quote(s)+"\n"))
		if err != nil {
			t.Errorf("Quote(%q) = %s: %v", s, Quote(s), err)
			continue
		}
		if got, _ := d.Root().String("a"); got != s {
			t.Errorf("Quote(%q) = %s is read as %q", s, Quote(s), got)
		}
	}
}
