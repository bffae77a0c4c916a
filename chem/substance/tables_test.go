package substance

import "testing"

// TestTables builds every table of this package, which checks that formulas parse and reactions balance.
func TestTables(t *testing.T) {
	build := map[string]func() error{
		"registry":   func() error { _, err := newRegistry(); return err },
		"reagents":   func() error { _, err := newReagentTable(); return err },
		"solutions":  func() error { _, err := newSolutionTable(); return err },
		"alloys":     func() error { _, err := newAlloyTable(); return err },
		"dissolving": func() error { _, err := newDissolvingTable(); return err },
	}
	for name, f := range build {
		t.Run(name, func(t *testing.T) {
			if err := f(); err != nil {
				t.Fatal(err)
			}
		})
	}
}
