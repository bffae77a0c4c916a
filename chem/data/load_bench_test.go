package data

import "testing"

// BenchmarkDecode is what the first use of the largest tables costs.
func BenchmarkDecode(b *testing.B) {
	for name, f := range map[string]func() error{
		"species":    func() error { _, err := rows[Species]("species.toml"); return err },
		"elements":   func() error { _, err := rows[Element]("elements.toml"); return err },
		"densities":  func() error { _, err := rows[Density]("densities.toml"); return err },
		"dissolving": func() error { _, err := rows[Dissolving]("dissolving.toml"); return err },
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if err := f(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
