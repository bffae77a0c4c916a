package econ

import (
	"testing"
	"time"
)

func TestDaysBetween(t *testing.T) {
	east, west := time.FixedZone("east", 14*3600), time.FixedZone("west", -12*3600)
	for name, c := range map[string]struct {
		from, to time.Time
		want     int
	}{
		"same day":              {day(2026, 11, 20), day(2026, 11, 20), 0},
		"next day":              {day(2026, 11, 20), day(2026, 11, 21), 1},
		"late in the day":       {day(2026, 11, 20), time.Date(2026, 11, 20, 23, 59, 59, 0, time.UTC), 0},
		"across a leap day":     {day(2028, 2, 28), day(2028, 3, 1), 2},
		"across none":           {day(2026, 2, 28), day(2026, 3, 1), 1},
		"not a leap century":    {day(2100, 2, 28), day(2100, 3, 1), 1},
		"a leap year":           {day(2028, 1, 1), day(2029, 1, 1), 366},
		"far east of the line":  {day(2026, 11, 20), time.Date(2026, 12, 20, 1, 0, 0, 0, east), 30},
		"far west of the line":  {day(2026, 11, 20), time.Date(2026, 12, 20, 23, 0, 0, 0, west), 30},
		"a day that is to come": {day(2026, 11, 20), day(2026, 11, 18), -2},
	} {
		if got := daysBetween(c.from, c.to); got != c.want {
			t.Errorf("%s: daysBetween = %d, want %d", name, got, c.want)
		}
	}
}

// A zone that changes its clocks has days of 23 and 25 hours; they count as days.
func TestDaysBetweenWithClockChanges(t *testing.T) {
	zone, err := time.LoadLocation("Europe/Berlin")
	if err != nil {
		t.Skip("no time zone data here:", err)
	}
	from := day(2026, 3, 1)
	for d := 0; d < 400; d++ {
		to := time.Date(2026, 3, 1+d, 0, 30, 0, 0, zone)
		if got := daysBetween(from, to); got != d {
			t.Fatalf("to %v: %d days, want %d", to, got, d)
		}
	}
}

func TestStaleToTheDay(t *testing.T) {
	b, _ := decoded(t, smallBook)
	find := func(today time.Time, id string) Row {
		for _, r := range b.Rows(today) {
			if r.ID == id {
				return r
			}
		}
		t.Fatalf("no row %s", id)
		return Row{}
	}
	// Dated 2026-11-20 and fresh for 30 days: the last fresh day is 2026-12-20.
	if r := find(day(2026, 12, 20), "price/spot.Ag"); r.Stale || r.AgeDays != 30 {
		t.Errorf("on the last day: %+v", r)
	}
	if r := find(day(2026, 12, 21), "price/spot.Ag"); !r.Stale || r.AgeDays != 31 {
		t.Errorf("a day later: %+v", r)
	}
	if r := find(day(2036, 1, 1), "price/labour"); r.Stale || r.AgeDays != 0 {
		t.Errorf("an undated price has an age: %+v", r)
	}
}

func TestRowsFollowTheFile(t *testing.T) {
	b, _ := decoded(t, smallBook)
	rows := b.Rows(day(2026, 11, 20))
	line := 0
	for _, r := range rows {
		if r.Position.Line < line {
			t.Errorf("%s stands on line %d, after line %d", r.ID, r.Position.Line, line)
		}
		line = r.Position.Line
	}
	if first := rows[0]; first.Path != "spot.Ag.price" || first.Text != "30.00 / ozt" || first.Group != "spot" || first.Name != "Ag" {
		t.Errorf("first row %+v", first)
	}
	near(t, "value", rows[0].Value, 30, 1e-9)
}
