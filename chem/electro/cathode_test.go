package electro

import (
	"testing"
)

func TestReactionNames(t *testing.T) {
	for r := range cathodeReactions + 1 {
		if r.String() == "" {
			t.Errorf("cathode reaction %d has no name", r)
		}
	}
	for r := range anodeReactions + 1 {
		if r.String() == "" {
			t.Errorf("anode reaction %d has no name", r)
		}
	}
}
