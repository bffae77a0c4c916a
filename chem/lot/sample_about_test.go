package lot

import (
	"strings"
	"testing"
)

// Every sample says what it is; no two are called the same.
func TestSamples(t *testing.T) {
	list := Samples()
	if len(list) != len(SampleNames()) {
		t.Fatalf("%d samples, want %d", len(list), len(SampleNames()))
	}
	titles := map[string]bool{}
	for i, a := range list {
		if a.Name != SampleNames()[i] || a.Title == a.Name || titles[a.Title] {
			t.Errorf("sample %d: name %q, title %q", i, a.Name, a.Title)
		}
		titles[a.Title] = true
		if len(a.Shows) < 20 || !strings.HasSuffix(a.Shows, ".") || strings.Contains(a.Shows, "#") {
			t.Errorf("%s shows %q", a.Name, a.Shows)
		}
	}
	if headOf("title = 1") != "" || headOf("# a\n#\n# b\n# c.\n\n# d") != "b c." {
		t.Error("the head of a file is not its second paragraph")
	}
}
