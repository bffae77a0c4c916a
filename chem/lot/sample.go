package lot

import (
	"embed"
	"fmt"
	"slices"
)

//go:embed samples/*.toml
var samples embed.FS

// sampleNames are the built-in lots, the one that the program opens with first.
var sampleNames = []string{
	"sterling-parting", "nitrate-liquor", "chloride-settled", "copper-etchant", "chloride-sludge",
	"silver-filings", "dirty-chloride", "solder-liquor", "plating-bath",
}

// SampleNames returns the names of the built-in sample lots, the one that the
// program opens with first. All are invented.
func SampleNames() []string { return slices.Clone(sampleNames) }

// Sample returns the text of a built-in sample lot. Error: no such sample.
func Sample(name string) ([]byte, error) {
	data, err := samples.ReadFile("samples/" + name + ".toml")
	if err != nil {
		return nil, fmt.Errorf("lot: no sample lot is called %q", name)
	}
	return data, nil
}
