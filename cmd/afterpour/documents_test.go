package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func readText(t *testing.T, path ...string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(append([]string{moduleRoot(t)}, path...)...))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// TestPackageMap compares the package map of DEVELOPERS.md with the tree.
func TestPackageMap(t *testing.T) {
	cmd := exec.Command("go", "list", "./...")
	cmd.Dir = moduleRoot(t)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var tree []string
	for _, path := range strings.Fields(string(out)) {
		tree = append(tree, strings.TrimPrefix(path, "afterpour/"))
	}
	var mapped []string
	row := regexp.MustCompile("(?m)^\\| `([a-z/]+)` \\|")
	for _, match := range row.FindAllStringSubmatch(section(t, readText(t, "DEVELOPERS.md"), "Package map"), -1) {
		mapped = append(mapped, match[1])
	}
	sort.Strings(tree)
	sort.Strings(mapped)
	if diff := cmp.Diff(tree, mapped); diff != "" {
		t.Errorf("DEVELOPERS.md, package map (-tree +map):\n%s", diff)
	}
}

// TestRouteFileKeys compares the tables of keys in DEVELOPERS.md with the route
// files and with the kinds of step that the code knows.
func TestRouteFileKeys(t *testing.T) {
	told := section(t, readText(t, "DEVELOPERS.md"), "Route files")
	used := map[string]bool{}
	files, err := filepath.Glob(filepath.Join(moduleRoot(t), "chem/route/routes/*.toml"))
	if err != nil || len(files) < 6 {
		t.Fatalf("%d route files: %v", len(files), err)
	}
	for _, path := range files {
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		for _, match := range regexp.MustCompile(`(?m)^([a-z_]+) *=`).FindAllSubmatch(text, -1) {
			used[string(match[1])] = true
		}
	}
	kind := regexp.MustCompile(`"([a-z-]+)": +[a-zA-Z]+Kind,`)
	for _, match := range kind.FindAllStringSubmatch(readText(t, "chem", "route", "kinds.go"), -1) {
		used[match[1]] = true
	}
	for word := range used {
		if !strings.Contains(told, "`"+word+"`") {
			t.Errorf("DEVELOPERS.md, route files: `%s` is not explained", word)
		}
	}
}

// section cuts the text under a heading out of a document.
func section(t *testing.T, document, heading string) string {
	t.Helper()
	_, after, found := strings.Cut(document, "\n## "+heading+"\n")
	if !found {
		t.Fatalf("no section %q", heading)
	}
	text, _, _ := strings.Cut(after, "\n## ")
	return text
}

// TestReadmeOpening watches what the first lines of README.md promise: the job
// first, then the two commands.
func TestReadmeOpening(t *testing.T) {
	readme := readText(t, "README.md")
	run := strings.Index(readme, "go run ./cmd/afterpour\n")
	tests := strings.Index(readme, "go test ./...\n")
	second := strings.Index(readme, "\n## ")
	if run < 0 || tests < run || second < tests {
		t.Errorf("the two commands stand at %d and %d, the first section at %d", run, tests, second)
	}
}

// TestReadmeScope compares what README.md says about the limits of the figures
// with what the program prints.
func TestReadmeScope(t *testing.T) {
	readme := strings.Join(strings.Fields(readText(t, "README.md")), " ")
	for _, sentence := range notModelled {
		if !strings.Contains(readme, sentence) {
			t.Errorf("README.md does not say: %s", sentence)
		}
	}
}

// TestReadmeCommands runs every command of README.md that calls the program,
// in a copy of the folder that it is written for.
func TestReadmeCommands(t *testing.T) {
	calls := readmeCalls(t)
	if len(calls) < 6 {
		t.Fatalf("README.md shows %d calls of the program, want at least 6", len(calls))
	}
	copyWorkFolder(t)
	for _, args := range calls {
		t.Run(strings.Join(args, " "), func(t *testing.T) {
			call(t, args...).want(t, exitDone)
		})
	}
}

// readmeCalls finds the lines of README.md's code blocks that call the program
// and splits them as a shell would.
func readmeCalls(t *testing.T) [][]string {
	t.Helper()
	var calls [][]string
	inBlock := false
	for _, line := range strings.Split(readText(t, "README.md"), "\n") {
		if strings.HasPrefix(line, "```") {
			inBlock = !inBlock
			continue
		}
		rest, ok := strings.CutPrefix(line, "afterpour")
		if !ok {
			rest, ok = strings.CutPrefix(line, "go run ./cmd/afterpour")
		}
		if inBlock && ok {
			calls = append(calls, shellWords(t, rest))
		}
	}
	return calls
}

// shellWords splits a line at spaces outside double quotes; a # begins a
// comment.
func shellWords(t *testing.T, line string) []string {
	t.Helper()
	line, _, _ = strings.Cut(line, " #")
	words := []string{}
	word := regexp.MustCompile(`"[^"]*"|[^ ]+`)
	for _, w := range word.FindAllString(line, -1) {
		if strings.ContainsAny(w, "|>$`") && !strings.HasPrefix(w, `"`) {
			t.Fatalf("this test runs no shell: %q", line)
		}
		words = append(words, strings.Trim(w, `"`))
	}
	return words
}

// copyWorkFolder makes a copy of the price book and the sample lots the
// working folder, so that a command that writes does not touch the originals.
func copyWorkFolder(t *testing.T) {
	t.Helper()
	root, work := moduleRoot(t), t.TempDir()
	if err := os.CopyFS(filepath.Join(work, "testdata"), os.DirFS(filepath.Join(root, "testdata"))); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(root, "prices.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(work, "prices.toml"), data, 0o600); err != nil {
		t.Fatal(err)
	}
	t.Chdir(work)
}

// TestOnlyTheSaverTouchesFiles looks for file access outside the one package
// that guards it.
func TestOnlyTheSaverTouchesFiles(t *testing.T) {
	access := regexp.MustCompile(`\bos\.(ReadFile|WriteFile|Open|OpenFile|Create|CreateTemp|Rename|Remove|RemoveAll|Mkdir|MkdirAll|Truncate)\(`)
	root := moduleRoot(t)
	err := filepath.WalkDir(root, func(path string, entry os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && (entry.Name() == ".git" || entry.Name() == "store") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return nil
		}
		data, err := os.ReadFile(path)
		if found := access.Find(data); found != nil {
			t.Errorf("%s calls %s: files are read and saved through chem/store", path, found)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}
