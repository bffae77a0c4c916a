package lot

import "fmt"

// SampleNames returns the names of the built-in sample lots, the one that the
// program opens with first.
func SampleNames() []string { return nil }

// Sample returns the text of a built-in sample lot.
func Sample(name string) ([]byte, error) { return nil, fmt.Errorf("lot: no sample %q", name) }
