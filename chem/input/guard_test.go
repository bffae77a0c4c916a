package input

import (
	"errors"
	"fmt"
	"runtime"
	"strings"
	"testing"
	"time"
	"unicode/utf16"
)

func asUTF16(s string, swap, mark bool) []byte {
	units := utf16.Encode([]rune(s))
	if mark {
		units = append([]uint16{0xfeff}, units...)
	}
	var out []byte
	for _, u := range units {
		if swap {
			out = append(out, byte(u>>8), byte(u))
		} else {
			out = append(out, byte(u), byte(u>>8))
		}
	}
	return out
}

func TestEncodings(t *testing.T) {
	const text = "title = \"Contact strip\"\n"
	png := "\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x00\x01"
	tests := map[string]struct {
		data []byte
		line int
		says string
	}{
		"empty":                    {nil, 1, "empty"},
		"one line feed":            {[]byte("\n"), 1, "empty"},
		"byte order mark only":     {[]byte("\xef\xbb\xbf"), 1, "empty"},
		"UTF-16 little endian":     {asUTF16(text, false, true), 1, "UTF-16"},
		"UTF-16 big endian":        {asUTF16(text, true, true), 1, "UTF-16"},
		"UTF-16 without mark":      {asUTF16(text, false, false), 1, "UTF-16"},
		"NUL":                      {[]byte("title = \"x\"\na = \"\x00\"\n"), 2, "NUL"},
		"binary":                   {[]byte(png), 3, "NUL"},
		"Latin-1":                  {[]byte("title = \"x\"\nby = \"S\xe4ure\"\n"), 2, "0xE4"},
		"cut in a character":       {[]byte("title = \"x \xe2\x82"), 1, "UTF-8"},
		"too large by one":         {[]byte("a=1 #" + strings.Repeat("x", MaxBytes-4)), 0, "1 MiB"},
		"only comments":            {[]byte("# a\n# b\n"), 1, "comments"},
		"lone carriage return":     {[]byte("a = 1\rb = 2\r"), 1, "carriage return"},
		"unfinished escape at end": {[]byte("a = \"\\"), 1, ""},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			_, err := Parse("lot.toml", test.data)
			if err == nil {
				t.Fatal("no problem was found")
			}
			checkProblems(t, err)
			var problems Problems
			errors.As(err, &problems)
			if p := problems[0]; p.Position.Line != test.line || !strings.Contains(err.Error(), test.says) {
				t.Errorf("got %q on line %d, want %q on line %d", err, p.Position.Line, test.says, test.line)
			}
		})
	}
	if _, err := Parse("lot.toml", []byte("a=1 #"+strings.Repeat("x", MaxBytes-5))); err != nil {
		t.Errorf("a file of the largest size: %v", err)
	}
}

// bomb is a file, and what must be said of it; nothing if it is to be read.
type bomb struct{ text, says string }

func bombs() map[string]bomb {
	many := func(n int, line string) string {
		var b strings.Builder
		for i := range n {
			fmt.Fprintf(&b, line, i)
		}
		return b.String()
	}
	repeat := strings.Repeat
	return map[string]bomb{
		"40 KB of inline tables":   {"a=" + repeat("{a=", 10000) + "1" + repeat("}", 10000), "nested"},
		"1 MB of inline tables":    {"a=" + repeat("{a=", 340_000), "nested"},
		"17 levels":                {"a=" + repeat("[", 17) + repeat("]", 17), "nested"},
		"1 MB of brackets":         {"a=" + repeat("[", 1_000_000), "nested"},
		"1 MB dotted key":          {repeat("a.", 500_000) + "a=1", "parts"},
		"1 MB dotted header":       {"[" + repeat("a.", 500_000) + "a]", "parts"},
		"9 parts":                  {"a.b.c.d.e.f.g.h.i=1", "parts"},
		"dotted in inline table":   {"a={" + repeat("b.", 100_000) + "c=1}", "parts"},
		"100,000 tables":           {many(100_000, "[t%d]\n"), "keys and values"},
		"100,000 elements":         {repeat("[[a]]\n", 100_000), "keys and values"},
		"500,000 numbers":          {"a=[" + repeat("1,", 500_000) + "]", "keys and values"},
		"100,000 keys on one line": {"a={" + many(70_000, "k%d=1,") + "}", "keys and values"},
		"200,000 broken lines":     {repeat("a b\n", 200_000), "expected"},
		"19,000 repeated keys":     {repeat("a=1\n", 19_000), "further problems"},

		"16 levels":             {"a=" + repeat("[", 16) + repeat("]", 16), ""},
		"8 parts":               {"a.b.c.d.e.f.g.h=1", ""},
		"19,000 keys":           {many(19_000, "k%d=\"1\"\n"), ""},
		"19,000 on one line":    {"a={" + many(19_000, "k%d=1,") + "}", ""},
		"2,400 deep tables":     {many(2_400, "[a.b.c.d.e.f.g.k%d]\n"), ""},
		"9,000 inline tables":   {"a=[" + repeat("{b=1},", 9_000) + "]", ""},
		"9,000 nested elements": {"[[a]]\n" + repeat("[[a.b]]\nx=1\n", 9_000), ""},
		"1 MB text":             {`a="` + repeat(`\u00e9`, 170_000) + `"`, ""},
		"1 MB of comments":      {repeat("# x\n", 250_000) + "a=1", ""},
	}
}

// TestBombs reads files that keep a decoder without limits busy for seconds or
// kill the process. The limit of time here is generous, because the machine may
// be busy; the figures of one run stand in the log.
func TestBombs(t *testing.T) {
	for name, test := range bombs() {
		t.Run(name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			start := time.Now()
			err := problemsOf("bomb.toml", []byte(test.text))
			took := time.Since(start)
			runtime.ReadMemStats(&after)
			mib := (after.TotalAlloc - before.TotalAlloc) >> 20
			t.Logf("%d bytes: %v, %d MiB allocated", len(test.text), took.Round(time.Millisecond), mib)
			if took > 3*time.Second && !raceDetector {
				t.Errorf("reading took %v", took)
			}
			if mib > 256 {
				t.Errorf("reading allocated %d MiB in all", mib)
			}
			if err == nil {
				t.Fatal("no problem was found") // these keys are unknown to everybody
			}
			if _, perr := Parse("bomb.toml", []byte(test.text)); (perr == nil) != (test.says == "") {
				t.Errorf("Parse: %.200v", perr)
			}
			if !strings.Contains(err.Error(), test.says) {
				t.Errorf("%.300q does not say %q", err, test.says)
			}
		})
	}
}
