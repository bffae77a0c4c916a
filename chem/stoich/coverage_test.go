package stoich

import (
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"
)

// uncovered lists the worked examples that no package computes yet, with what they wait for. An example that a test
// names must leave this list.
var uncovered = map[string]string{}

// TestEveryWorkedExampleIsCovered reads every test of the program and says which package holds which worked example.
func TestEveryWorkedExampleIsCovered(t *testing.T) {
	texts := testTexts(t, "../..")
	byPackage := map[string][]string{}
	for id := range workedExamples(t) {
		where := packageNaming(texts, id)
		reason, waits := uncovered[id]
		switch {
		case where == "" && !waits:
			t.Errorf("no test names the worked example %s", id)
		case where != "" && waits:
			t.Errorf("%s is covered by %s: take it off the list that says it %s", id, where, reason)
		case where != "":
			byPackage[where] = append(byPackage[where], id)
		}
	}
	for id := range uncovered {
		if _, ok := workedExamples(t)[id]; !ok {
			t.Errorf("there is no worked example %s", id)
		}
	}
	for name, ids := range byPackage {
		sort.Strings(ids)
		t.Logf("%s: %s", name, strings.Join(ids, " "))
	}
}

// testTexts returns the text of every test file but this one, by folder below root.
func testTexts(t *testing.T, root string) map[string]string {
	t.Helper()
	texts := map[string]string{}
	err := filepath.WalkDir(root, func(path string, entry fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case entry.IsDir() && path != root && strings.HasPrefix(entry.Name(), "."):
			return fs.SkipDir
		}
		if !strings.HasSuffix(path, "_test.go") || filepath.Base(path) == "coverage_test.go" {
			return nil
		}
		text, err := os.ReadFile(path)
		folder, _ := filepath.Rel(root, filepath.Dir(path))
		texts[folder] += string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return texts
}

func packageNaming(texts map[string]string, id string) string {
	var names []string
	for name, text := range texts {
		if strings.Contains(text, `"`+id+`"`) {
			names = append(names, name)
		}
	}
	sort.Strings(names)
	return strings.Join(names, ", ")
}
