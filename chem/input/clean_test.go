package input

import (
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

func TestClean(t *testing.T) {
	tests := map[string]struct {
		in    string
		width int
		want  string
	}{
		"plain":              {"Contact strip", 0, "Contact strip"},
		"letters beyond":     {"é 漢 ✳ ±", 0, "é 漢 ✳ ±"},
		"escape sequence":    {"\x1b[31mred", 0, "\uFFFD[31mred"},
		"OSC 52":             {"\x1b]52;c;aGk=\x07", 0, "\uFFFD]52;c;aGk=\uFFFD"},
		"C1":                 {"\u009b31m", 0, "\uFFFD31m"},
		"CR BS NUL DEL":      {"a\r\b\x00\x7f", 0, "a\uFFFD\uFFFD\uFFFD\uFFFD"},
		"line breaks":        {"a\nb\u2028c\u0085", 0, "a\uFFFDb\uFFFDc\uFFFD"},
		"bidirectional":      {"\u202eabc\u2066", 0, "\uFFFDabc\uFFFD"},
		"zero width":         {"a\u200bb\ufeff", 0, "a\uFFFDb\uFFFD"},
		"no-break space":     {"1\u00a0g", 0, "1\uFFFDg"},
		"broken UTF-8":       {"a\xff\xc3b", 0, "a\uFFFD\uFFFDb"},
		"fits":               {"abcde", 5, "abcde"},
		"cut":                {"abcdef", 5, "abcd…"},
		"cut to one":         {"abc", 1, "…"},
		"wide cut":           {"漢字漢字", 5, "漢字…"},
		"wide at the border": {"漢字漢字", 4, "漢…"},
		"combining":          {"e\u0301e\u0301e\u0301", 3, "e\u0301e\u0301e\u0301"},
	}
	for name, test := range tests {
		if got := Clean(test.in, test.width); got != test.want {
			t.Errorf("%s: Clean(%q, %d) = %q, want %q", name, test.in, test.width, got, test.want)
		}
	}
}

func FuzzClean(f *testing.F) {
	f.Add("\x1b[2J\u202e漢字\xff", 4)
	f.Add("e\u0301\u200d👩", 1)
	f.Fuzz(func(t *testing.T, s string, width int) {
		got := Clean(s, width)
		if i := strings.IndexFunc(got, func(r rune) bool { return !unicode.IsPrint(r) }); i >= 0 || !utf8.ValidString(got) {
			t.Fatalf("Clean(%q, %d) = %q is not printable", s, width, got)
		}
		if width > 0 && columns(got) > width {
			t.Fatalf("Clean(%q, %d) = %q takes %d columns", s, width, got, columns(got))
		}
		if Clean(got, width) != got {
			t.Fatalf("Clean(%q, %d) = %q changes when cleaned again", s, width, got)
		}
	})
}
