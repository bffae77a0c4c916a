package econ

import (
	"bytes"
	"testing"
)

func TestStarterIsTheBookWithItsComments(t *testing.T) {
	path, data := Starter("/home/x/.config/afterpour")
	if path != "/home/x/.config/afterpour/prices.toml" || !bytes.Equal(data, DefaultBook()) || !bytes.HasPrefix(data, []byte("#")) {
		t.Errorf("Starter = %q, %d bytes", path, len(data))
	}
	data[0] = 'x'
	if DefaultBook()[0] == 'x' {
		t.Error("a caller can change the built-in book")
	}
}
