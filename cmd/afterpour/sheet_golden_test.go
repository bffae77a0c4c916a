package main

import (
	"path/filepath"
	"strings"
	"testing"

	"afterpour/econ"

	"github.com/charmbracelet/x/exp/golden"
)

// TestSheetGolden prints the sheet of every sample lot. Whoever changes them reads
// them through as somebody who is about to work from them.
func TestSheetGolden(t *testing.T) {
	paths, err := filepath.Glob(lotPath(t, "*"))
	if err != nil || len(paths) < 4 {
		t.Fatalf("%d sample lots: %v", len(paths), err)
	}
	for _, path := range paths {
		t.Run(strings.TrimSuffix(filepath.Base(path), ".toml"), func(t *testing.T) {
			got := call(t, "sheet", path).want(t, exitDone).stdout
			checkWidth(t, got)
			golden.RequireEqual(t, []byte(got))
		})
	}
}

// TestSheetGoldenPlans prints one plan of each further route, so that every route
// is read as a sheet.
func TestSheetGoldenPlans(t *testing.T) {
	book := hoodBook(t)
	for _, test := range []struct{ lot, plan string }{
		{"nitrate-liquor", "copper-cementation+neutralise+dispose"},
		{"nitrate-liquor", "electrolysis-silver+dispose"},
		{"nitrate-liquor", "calcine-sulfate-salt+dispose"},
		{"nitrate-liquor", "calcine-sulfate-copper+dispose"},
		{"nitrate-liquor", "hydroxide-sulfate-salt+hold"},
		{"chloride-settled", "chloride-oxide-sugar+neutralise+dispose"},
		{"chloride-sludge", "chloride-sugar+dispose"},
		{"chloride-sludge", "chloride-zinc+dispose"},
		{"chloride-sludge", "chloride-soda-melt+dispose"},
		{"chloride-sludge", "chloride-iron+dispose"},
		{"copper-etchant", "electrolysis-copper+neutralise+dispose"},
		{"copper-etchant", "iron-cementation+dispose"},
		{"copper-etchant", "hydroxide+dispose"},
	} {
		t.Run(test.lot+"/"+test.plan, func(t *testing.T) {
			got := call(t, "sheet", "--prices", book, "--plan", test.plan, lotPath(t, test.lot)).want(t, exitDone).stdout
			checkWidth(t, got)
			golden.RequireEqual(t, []byte(got))
		})
	}
}

// hoodBook writes the built-in book with a hood and a large vessel to a file.
func hoodBook(t *testing.T) string {
	t.Helper()
	book := string(econ.DefaultBook())
	for _, edit := range [][2]string{
		{`extraction     = "0 m3/h"`, `extraction     = "2000 m3/h"`},
		{`largest_vessel = "5 L"`, `largest_vessel = "20 L"`},
		{`air_changes    = "2 / h"`, `air_changes    = "12 / h"`},
	} {
		if !strings.Contains(book, edit[0]) {
			t.Fatalf("the built-in book has no %s", edit[0])
		}
		book = strings.ReplaceAll(book, edit[0], edit[1])
	}
	return writeFile(t, "prices.toml", book)
}

func TestSheetFormats(t *testing.T) {
	for _, format := range []string{"markdown", "html"} {
		t.Run(format, func(t *testing.T) {
			got := call(t, "sheet", "--format", format, "--plan", "chloride-iron+dispose", lotPath(t, "chloride-sludge")).want(t, exitDone).stdout
			golden.RequireEqual(t, []byte(got))
		})
	}
}
