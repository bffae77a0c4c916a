package econ

import "testing"

// TestFold: the better of two ways with the rest is shown, the other folded
// into it; endings of the untouched lot are left alone.
func TestFold(t *testing.T) {
	plans := []PricedPlan{
		{ID: "a+neutralise+dispose", Routes: []string{"a", "neutralise"}},
		{ID: "dispose"},
		{ID: "a+dispose", Routes: []string{"a"}},
		{ID: "neutralise+dispose", Routes: []string{"neutralise"}},
		{ID: "b+a+dispose", Routes: []string{"b", "a"}},
	}
	fold(plans, []string{"neutralise"})
	want := []string{"", "", "a+neutralise+dispose", "", ""}
	for i, p := range plans {
		if p.FoldedInto != want[i] {
			t.Errorf("%s is folded into %q, want %q", p.ID, p.FoldedInto, want[i])
		}
	}
}
