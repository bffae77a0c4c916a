package econ

import "testing"

func TestTenths(t *testing.T) {
	list := make([]float64, 100)
	for i := range list {
		list[i] = float64(99 - i)
	}
	if s := tenths(list, 100); s.low != 10 || s.high != 89 {
		t.Errorf("the marks of 0 to 99 are %g and %g, want 10 and 89", s.low, s.high)
	}
	for name, s := range map[string]span{
		"too few":              tenths([]float64{1, 2, 3}, 3),
		"mostly blocked draws": tenths(list[:40], 200),
	} {
		if s != (span{}) {
			t.Errorf("%s: %+v, want none", name, s)
		}
	}
}
