package input

import (
	"os"
	"strings"
	"testing"
)

const sample = `title = "Contact strip"   # a comment
"odd key" = 1
a.b = 2

[vessel]
liquid      = "3.2 L ± 5 %"
size = { width = "2 cm", height = "3 cm" }

[[dissolved]]
mass = "410 g"
share = { Ag = "8 %", Cu = "rest" }
[[dissolved.step]]
hours = 1
[[dissolved.step]]
hours = 2

[[dissolved]]
mass = "20 g"
list = ["x", "y",
        "z"]
[[dissolved.step]]
hours = 3

[spot.Ag]
price = "30.00 / ozt"
[spot."x.y"]
price = "1 / g"
`

func parseSample(t *testing.T, text string) *Document {
	t.Helper()
	d, err := Parse("sample.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestSpan(t *testing.T) {
	tests := map[string]struct {
		path string
		text string
		at   Position
	}{
		"root key":        {"title", `"Contact strip"`, Position{1, 9}},
		"quoted key":      {`"odd key"`, "1", Position{2, 13}},
		"dotted key":      {"a.b", "2", Position{3, 7}},
		"in a table":      {"vessel.liquid", `"3.2 L ± 5 %"`, Position{6, 15}},
		"inline table":    {"vessel.size", `{ width = "2 cm", height = "3 cm" }`, Position{7, 8}},
		"in it":           {"vessel.size.height", `"3 cm"`, Position{7, 35}},
		"header":          {"vessel", "vessel", Position{5, 2}},
		"first element":   {"dissolved[0].mass", `"410 g"`, Position{10, 8}},
		"second element":  {"dissolved[1].mass", `"20 g"`, Position{18, 8}},
		"share":           {"dissolved[0].share.Ag", `"8 %"`, Position{11, 16}},
		"element itself":  {"dissolved[1]", "dissolved", Position{17, 3}},
		"array":           {"dissolved[1].list", "[\"x\", \"y\",\n        \"z\"]", Position{19, 8}},
		"third of array":  {"dissolved[1].list[2]", `"z"`, Position{20, 9}},
		"nested elements": {"dissolved[0].step[1].hours", "2", Position{15, 9}},
		"of the second":   {"dissolved[1].step[0].hours", "3", Position{22, 9}},
		"two headers":     {"spot.Ag.price", `"30.00 / ozt"`, Position{25, 9}},
		"dot in a key":    {`spot."x.y".price`, `"1 / g"`, Position{27, 9}},
	}
	for _, ending := range []string{"\n", "\r\n"} {
		for _, mark := range []string{"", "\ufeff"} {
			text := mark + strings.ReplaceAll(sample, "\n", ending)
			d := parseSample(t, text)
			for name, test := range tests {
				want := strings.ReplaceAll(test.text, "\n", ending)
				span, ok := d.Span(test.path)
				if got := string(d.Data()[span.Start:span.End]); !ok || got != want || span.Position != test.at {
					t.Errorf("%s: Span(%q) = %q at %v, %v; want %q at %v", name, test.path, got, span.Position, ok, want, test.at)
				}
			}
		}
	}
	d := parseSample(t, sample)
	for _, path := range []string{"", "none", "vessel.none", "dissolved[2]", "dissolved[-1]", "dissolved[x]", "title.x", "dissolved.mass", "[", `"`, `"a`, "a..b", "vessel[0]"} {
		if span, ok := d.Span(path); ok {
			t.Errorf("Span(%q) = %v, want none", path, span)
		}
	}
}

// TestProblemInRightElement: the position is that of the element that is wrong,
// not that of the last one.
func TestProblemInRightElement(t *testing.T) {
	d := parseSample(t, "title='x'\n[[dissolved]]\nmass='1 g'\n[[dissolved]]\nmass='1 L'\n[[dissolved]]\nmass='3 g'\n")
	err := decodeLotlike(d)
	if err == nil || !strings.HasPrefix(err.Error(), "sample.toml:5:6: dissolved[1].mass: ") || strings.Count(err.Error(), "sample.toml") != 1 {
		t.Errorf("got %v", err)
	}
}

func TestParseKeepsItsOwnCopy(t *testing.T) {
	data := []byte("title = 'x'\n")
	d, err := Parse("a", data)
	if err != nil {
		t.Fatal(err)
	}
	copy(data, "TITLE = 'y'")
	if got := string(d.Data()); got != "title = 'x'\n" || d.Name() != "a" {
		t.Errorf("%s holds %q after the caller's bytes changed", d.Name(), got)
	}
}

// FuzzParse decodes whatever there is; the guard must hold, every message must
// be clean, and every key must be where Span says.
func FuzzParse(f *testing.F) {
	f.Add([]byte(sample))
	for _, s := range []string{"a = \"\\", "a = 2,400.50", "[[a]]\n[a.b]\nc=[{d=1}]", "\xef\xbb\xbfa=1\r\n", "a.b=1\n[a]\nc=2", "a={b=1}\na.c=2", "a=[[1],[{b=2}]]", "a='''\n'''", "x = 5 \x1b[31m"} {
		f.Add([]byte(s))
	}
	files, _ := os.ReadDir("testdata/broken")
	for _, file := range files {
		if data, err := os.ReadFile("testdata/broken/" + file.Name()); err == nil && strings.HasSuffix(file.Name(), ".toml") {
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := Parse("fuzz.toml", data)
		if err == nil {
			checkSpans(t, d, d.Root())
			err = decodeLotlike(d)
		}
		if err != nil {
			checkProblems(t, err)
		}
	})
}

// checkSpans looks up every key of a table and of those below it.
func checkSpans(t *testing.T, d *Document, table *Table) {
	t.Helper()
	for _, key := range table.Keys() {
		path := joinPath(table.Path(), key)
		if span, ok := d.Span(path); !ok || span.Start >= span.End || span.End > len(d.Data()) || span.Position.Line < 1 {
			t.Fatalf("Span(%q) = %+v, %v", path, span, ok)
		}
		if n := table.node.child(key); n.form == tableArray {
			for _, element := range table.Tables(key) {
				checkSpans(t, d, element)
			}
		} else if n.form == table.node.form {
			inner, _ := table.Table(key)
			checkSpans(t, d, inner)
		}
	}
}

// BenchmarkParse reads a lot file of 10 KB.
func BenchmarkParse(b *testing.B) {
	var text strings.Builder
	text.WriteString("title = \"Contact strip\"\n")
	for text.Len() < 10_000 {
		text.WriteString("\n[[dissolved]]   # metal that went into it\nwhat   = \"silver-plated brass contacts\"\nmass   = \"410 g ± 2 g\"\nshare  = { Ag = \"8.0 % ± 1 %\", Cu = \"64 %\" }\nby     = \"nitric acid\"\n")
	}
	data := []byte(text.String())
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := Parse("lot.toml", data); err != nil {
			b.Fatal(err)
		}
	}
}
