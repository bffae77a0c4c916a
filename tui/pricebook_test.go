package tui

import (
	"strings"
	"testing"
)

func TestPriceSplicer(t *testing.T) {
	splice := priceSplicer("prices.toml", testDay)
	data, old, err := splice([]byte(testBook), "spot.Ag.price", "31.50 / ozt")
	if err != nil || old != "30.00 / ozt" {
		t.Fatalf("old %q, error %v", old, err)
	}
	want := strings.Replace(testBook, "\"30.00 / ozt\"   # looked up in the morning\ndate  = 2026-11-20", "\"31.50 / ozt\"   # looked up in the morning\ndate  = 2026-11-25", 1)
	if string(data) != want {
		t.Errorf("got\n%s\nwant\n%s", data, want)
	}
}

// TestRenew: a price that is still right gets today's date and keeps its text.
func TestRenew(t *testing.T) {
	splice := priceSplicer("prices.toml", testDay)
	data, old, err := splice([]byte(testBook), "spot.Cu.date", "2026-11-25")
	if err != nil || old != "2026-09-01" {
		t.Fatalf("old %q, error %v", old, err)
	}
	if want := strings.Replace(testBook, "2026-09-01", "2026-11-25", 1); string(data) != want {
		t.Errorf("got\n%s", data)
	}
	for path, text := range map[string]string{"spot.Zn.date": "2026-11-25", "spot.Cu.date": "yesterday"} {
		if _, _, err := splice([]byte(testBook), path, text); err == nil {
			t.Errorf("splice(%s, %s) was made", path, text)
		}
	}
}
