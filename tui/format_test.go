package tui

import (
	"slices"
	"testing"

	"afterpour/chem/units"
	"afterpour/econ"
)

func TestFormats(t *testing.T) {
	tests := []struct{ call, got, want string }{
		{"money(12.345)", money(12.345), "12.35"},
		{"money(-0.001)", money(-0.001), "0.00"},
		{"signed(12)", signed(12), "+12.00"},
		{"signed(-12)", signed(-12), "-12.00"},
		{"signed(0)", signed(0), "0.00"},
		{"moneyOrNone(nil)", moneyOrNone(nil), "n/a"},
		{"grams", grams(1234.5 * units.Gram), "1234"},
		{"grams small", grams(0.01234 * units.Gram), "0.012"},
		{"gramsDoubt", gramsDoubt(32.84*units.Gram, 4.13*units.Gram), "32.8 ± 4.1"},
		{"gramsDoubt without", gramsDoubt(32.84*units.Gram, 0), "32.8"},
		{"percent(0.9996)", percent(0.9996), "99.9 %"},
		{"percent(1)", percent(1), "100 %"},
		{"percent(0.064)", percent(0.064), "6.4 %"},
		{"hours", hours(3.14), "3.1"},
		{"hours long", hours(109.2), "109"},
		{"counted whole", counted(3), "3"},
		{"counted", counted(29.05), "29.1"},
		{"price", price(4), "4.00"},
		{"price fine", price(5.078), "5.078"},
		{"price small", price(0.2), "0.20"},
		{"price large", price(964.5), "964.5"},
		{"significant tiny", significant(0.0000949, 3), "9.49e-05"},
		{"plural one", plural(1, "plan", "plans"), "1 plan"},
		{"plural", plural(3, "plan", "plans"), "3 plans"},
	}
	for _, tt := range tests {
		if tt.got != tt.want {
			t.Errorf("%s = %q, want %q", tt.call, tt.got, tt.want)
		}
	}
}

func TestWrap(t *testing.T) {
	tests := map[string]struct {
		text  string
		width int
		want  []string
	}{
		"minus stays":  {"dispose, -60.00 USD", 12, []string{"dispose,", "-60.00 USD"}},
		"spaces":       {"  a   b ", 10, []string{"a b"}},
		"long word":    {"ab chloride-oxide", 6, []string{"ab", "chlori", "de-oxi", "de"}},
		"nothing":      {"", 5, []string{""}},
		"no width":     {"ab", 0, []string{"a", "b"}},
		"exactly":      {"abc def", 7, []string{"abc def"}},
		"wide letters": {"漢漢漢", 4, []string{"漢漢", "漢"}},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			if got := wrap(tt.text, tt.width); !slices.Equal(got, tt.want) {
				t.Errorf("wrap(%q, %d) = %q, want %q", tt.text, tt.width, got, tt.want)
			}
		})
	}
}

func TestMoneyTone(t *testing.T) {
	for m, want := range map[econ.Money]tone{1: gain, -1: loss, 0.001: plain} {
		if got := moneyTone(m); got != want {
			t.Errorf("moneyTone(%v) = %v, want %v", m, got, want)
		}
	}
}
