package tui

import (
	"strings"
	"testing"

	"afterpour/chem/route"
)

// TestBlockedGroups: reasons that differ in their figures alone are one reason.
func TestBlockedGroups(t *testing.T) {
	groups := blockedGroups(testAppraisal())
	if len(groups) != 2 || len(groups[0].plans) != 2 || len(groups[1].plans) != 1 {
		t.Errorf("%d groups: %+v", len(groups), groups)
	}
}

// TestBlockReason: what the user can lift is said with the words to write.
func TestBlockReason(t *testing.T) {
	b := &route.Block{Reason: "too hot", Rule: "hot-acid", Severity: route.SeverityStop, Unreachable: map[string]float64{"Cu": 0.5, "Ag": 1}}
	got := blockReason(b)
	for _, want := range []string{"too hot", "100 % of the Ag, 50 % of the Cu", `acknowledged = ["hot-acid"]`} {
		if !strings.Contains(got, want) {
			t.Errorf("blockReason = %q, want %q in it", got, want)
		}
	}
	b.Severity = route.SeverityRefuse
	if strings.Contains(blockReason(b), "acknowledged") {
		t.Error("a refusal is offered to be acknowledged")
	}
}
