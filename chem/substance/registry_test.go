package substance

import "testing"

func TestRegistryLoads(t *testing.T) {
	reg, err := newRegistry()
	if err != nil {
		t.Fatal(err)
	}
	if n := len(reg.species); n < 150 {
		t.Errorf("%d species, want at least 150", n)
	}
}
