package substance

import "testing"

// BenchmarkLoad builds the registry from decoded rows; decoding them is measured in package data.
func BenchmarkLoad(b *testing.B) {
	for b.Loop() {
		if _, err := newRegistry(); err != nil {
			b.Fatal(err)
		}
	}
}
