package tui

import "testing"

func TestComparisonSigns(t *testing.T) {
	c := comparison{values: []float64{10, 12, 10, 0}, texts: []string{"10", "12", "10", ""}, better: -1}
	if _, sign := c.against(1); sign != "+" {
		t.Errorf("more than A: %q", sign)
	}
	if tone, _ := c.against(1); tone != loss {
		t.Errorf("more of what should be little: tone %v, want loss", tone)
	}
	if _, sign := c.against(2); sign != "=" {
		t.Errorf("as much as A: %q", sign)
	}
	if _, sign := c.against(3); sign != " " {
		t.Errorf("nothing to compare: %q", sign)
	}
	if !c.best(0) || c.best(1) || !c.best(2) || c.best(3) {
		t.Errorf("best: %v %v %v %v", c.best(0), c.best(1), c.best(2), c.best(3))
	}
	c.better = 0
	if c.best(0) {
		t.Error("there is a best where neither is better")
	}
}
