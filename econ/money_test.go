package econ

import (
	"math"
	"testing"
)

func TestMoneyText(t *testing.T) {
	for m, want := range map[Money]string{0: "0.00", -0.001: "0.00", -0.006: "-0.01", 1234.5: "1234.50", -60: "-60.00"} {
		if got := m.Text(); got != want {
			t.Errorf("Money(%v).Text() = %q, want %q", m.Float(), got, want)
		}
	}
	for _, m := range []Money{Money(math.NaN()), Money(math.Inf(1)), Money(math.Inf(-1))} {
		if m.IsFinite() {
			t.Errorf("%v counts as finite", m)
		}
	}
}
