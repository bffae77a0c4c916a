package main

import (
	"os"
	"testing"
)

// The fault tests are those of the table "Faults" in DEVELOPERS.md. Most have a
// short form, which runs always, and a long one:
//
//	AFTERPOUR_LONG=1 go test -timeout 3h ./chem/... ./econ ./tui ./cmd/afterpour -run 'Fault|Killed|Soak'

// longForm reports that the long form of the fault tests is asked for.
func longForm() bool { return os.Getenv("AFTERPOUR_LONG") != "" }

// rounds is how often something is tried: fewer times in the short form.
func rounds(short, long int) int {
	if longForm() {
		return long
	}
	return short
}

// mustWrite writes a file and makes it look as if it had been left alone.
func mustWrite(t testing.TB, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	settle(t, path)
}

// mustRead reads a file.
func mustRead(t testing.TB, path string) string {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}
