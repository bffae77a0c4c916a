package main

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// floors gives every package its place: an import goes to a lower floor only.
var floors = map[string]int{
	"cmd": 9, "tui": 8, "econ": 7, "chem": 0,
	"chem/route": 6, "chem/lot": 5,
	"chem/stoich": 4, "chem/equil": 4, "chem/electro": 4, "chem/thermal": 4,
	"chem/substance": 3, "chem/data": 2, "chem/store": 2,
	"chem/input": 1, "chem/units": 0,
}

// floorOf finds a package's floor by the longest entry that it lies under.
func floorOf(path string) (int, bool) {
	for at := path; at != ""; {
		if floor, ok := floors[at]; ok && (at == path || at == "cmd" || at == "tui") {
			return floor, true
		}
		at = at[:max(0, strings.LastIndex(at, "/"))]
	}
	return 0, false
}

// imports asks the go command for the packages of this module that each
// package of it depends on directly.
func imports(t *testing.T) map[string][]string {
	t.Helper()
	cmd := exec.Command("go", "list", "-deps", "-f", `{{if not .Standard}}{{.ImportPath}} {{join .Imports " "}}{{end}}`, "./...")
	cmd.Dir = moduleRoot(t)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	graph := map[string][]string{}
	for _, line := range strings.Split(string(out), "\n") {
		words := strings.Fields(line)
		if len(words) > 0 && strings.HasPrefix(words[0], "afterpour/") {
			graph[strings.TrimPrefix(words[0], "afterpour/")] = words[1:]
		}
	}
	return graph
}

func TestImportsGoOneWay(t *testing.T) {
	graph := imports(t)
	if len(graph) < 10 {
		t.Fatalf("go list shows %d packages of this module, want all", len(graph))
	}
	for from, all := range graph {
		floor, ok := floorOf(from)
		if !ok {
			t.Errorf("package %s has no floor in this test", from)
		}
		for _, path := range all {
			to, ours := strings.CutPrefix(path, "afterpour/")
			if !ours || strings.HasPrefix(from, "cmd/") && strings.HasPrefix(to, "cmd/") {
				continue
			}
			if below, ok := floorOf(to); !ok || below >= floor {
				t.Errorf("%s (floor %d) imports %s (floor %d): imports go down only", from, floor, to, below)
			}
		}
	}
}

// Only these may be linked to from a package, besides what TestImportsGoOneWay
// allows.
func TestNarrowPackages(t *testing.T) {
	graph := imports(t)
	for from, allowed := range map[string][]string{
		"chem/units":          {},
		"chem/input":          {"chem/units"},
		"chem/store":          {"chem/input"},
		"cmd/internal/ground": {},
	} {
		for _, path := range graph[from] {
			to, ours := strings.CutPrefix(path, "afterpour/")
			if ours && !slices.Contains(allowed, to) {
				t.Errorf("%s imports %s, want only %v", from, to, allowed)
			}
		}
	}
}

// TestChemKnowsNoScreen watches that no package below the screen links the
// terminal libraries.
func TestChemKnowsNoScreen(t *testing.T) {
	cmd := exec.Command("go", "list", "-deps", "./chem/...", "./econ/...")
	cmd.Dir = moduleRoot(t)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	for _, path := range strings.Fields(string(out)) {
		if strings.Contains(path, "charmbracelet/bubble") || strings.Contains(path, "charmbracelet/lipgloss") || strings.Contains(path, "spf13/cobra") {
			t.Errorf("chem or econ depends on %s", path)
		}
	}
}

// TestGroundStaysSmall watches the two facts that put the cure for the start-up
// stall first: it imports nothing but the styling library, and its path sorts
// before the terminal toolkit's.
func TestGroundStaysSmall(t *testing.T) {
	const cure, toolkit = "afterpour/cmd/internal/ground", "github.com/charmbracelet/bubbletea"
	if cure > toolkit {
		t.Errorf("%s sorts after %s", cure, toolkit)
	}
	got := imports(t)["cmd/internal/ground"]
	if want := []string{"github.com/charmbracelet/lipgloss"}; !slices.Equal(got, want) {
		t.Errorf("%s imports %v, want %v", cure, got, want)
	}
}
