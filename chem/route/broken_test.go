package route

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"afterpour/chem/input"
)

const writeBroken = "AFTERPOUR_WRITE_BROKEN"

// TestBrokenRoutes compares what is said about each route file in
// testdata/broken with the text beside it. After a deliberate change, write the
// texts anew and read the difference:
//
//	AFTERPOUR_WRITE_BROKEN=1 go test ./chem/route -run TestBrokenRoutes
func TestBrokenRoutes(t *testing.T) {
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
			got := broken(filepath.Base(file), data)
			checkProblems(t, got)
			compareText(t, strings.TrimSuffix(file, ".toml")+".txt", got.Error()+"\n")
		})
	}
}

// broken is what is wrong with a route file.
func broken(name string, data []byte) error {
	doc, err := input.Parse(name, data)
	if err != nil {
		return err
	}
	_, err = DecodeFile(doc, &input.Figures{})
	return err
}

// checkProblems: every problem has its line and a sentence in clean text that
// names no package of the program.
func checkProblems(t *testing.T, err error) {
	t.Helper()
	var problems input.Problems
	if !errors.As(err, &problems) || len(problems) == 0 {
		t.Fatalf("no problems, but %v", err)
	}
	for _, p := range problems {
		if p.Message == "" || p.Position.Line == 0 && p.Key != "" {
			t.Errorf("%+v lacks its message or its line", p)
		}
		for _, prefix := range []string{"route: ", "substance: ", "units: ", "data: "} {
			if strings.Contains(p.Message, prefix) {
				t.Errorf("%q names a package", p.Message)
			}
		}
	}
	for _, line := range strings.Split(err.Error(), "\n") {
		if line != input.Clean(line, 0) {
			t.Errorf("the printed line %q is not clean", line)
		}
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
