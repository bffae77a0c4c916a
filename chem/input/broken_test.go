package input

import (
	"errors"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"
)

const writeBroken = "AFTERPOUR_WRITE_BROKEN"

// TestBrokenFiles compares what is said about each file in testdata/broken with
// the text beside it. After a deliberate change, write the texts anew and read
// the difference:
//
//	AFTERPOUR_WRITE_BROKEN=1 go test ./chem/input -run TestBrokenFiles
func TestBrokenFiles(t *testing.T) {
	files, err := filepath.Glob("testdata/broken/*.toml")
	if err != nil || len(files) < 40 {
		t.Fatalf("found %d broken files, %v; want 40 or more", len(files), err)
	}
	for _, file := range files {
		t.Run(strings.TrimSuffix(filepath.Base(file), ".toml"), func(t *testing.T) {
			data, err := os.ReadFile(file)
			if err != nil {
				t.Fatal(err)
			}
			got := problemsOf(filepath.Base(file), data)
			if got == nil {
				t.Fatal("no problem was found")
			}
			checkProblems(t, got)
			compareText(t, strings.TrimSuffix(file, ".toml")+".txt", got.Error()+"\n")
		})
	}
}

func compareText(t *testing.T, path, got string) {
	t.Helper()
	if os.Getenv(writeBroken) != "" {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s differs; got:\n%s\nwant:\n%s", path, got, want)
	}
}

// checkProblems checks what holds for the problems of any file: each has a file
// and a message, they are in the order of the file, and all text is clean.
func checkProblems(t *testing.T, err error) {
	t.Helper()
	var problems Problems
	if !errors.As(err, &problems) || len(problems) == 0 {
		t.Fatalf("%T is not a list of problems", err)
	}
	if !sort.SliceIsSorted(problems, func(i, j int) bool {
		a, b := problems[i].Position, problems[j].Position
		return a.Line < b.Line || a.Line == b.Line && a.Column < b.Column
	}) && len(problems) <= maxProblems {
		t.Errorf("the problems are not in the order of the file:\n%v", err)
	}
	for _, p := range problems {
		if p.File == "" || p.Message == "" {
			t.Errorf("%+v lacks file or message", p)
		}
		for _, s := range []string{p.File, p.Key, p.Message, p.Hint, p.Excerpt} {
			if s != Clean(s, 0) {
				t.Errorf("%q is not clean", s)
			}
		}
	}
	for _, line := range strings.Split(err.Error(), "\n") {
		if line != Clean(line, 0) {
			t.Errorf("the printed line %q is not clean", line)
		}
	}
}
