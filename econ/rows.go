package econ

import (
	"sort"
	"time"

	"afterpour/chem/input"
)

// Row is one price as a list shows it.
type Row struct {
	Price
	Text     string  // as typed, with its doubt
	Value    float64 // for the price's own unit
	Position input.Position
	AgeDays  int  // days from its date to the day asked about, negative for a date to come; 0 when undated
	Stale    bool // older than the book's stale_after
}

// Rows lists all prices of the book in the order of the file, as they stand on
// the day that today is in its own time zone.
func (b *Book) Rows(today time.Time) []Row {
	rows := make([]Row, 0, len(b.prices))
	for _, p := range b.prices {
		fig := b.figures.Get(p.Ref)
		r := Row{Price: p, Text: fig.Text, Value: fig.Dist.Mean * p.Size, Position: fig.Position}
		r.AgeDays, r.Stale = b.age(p.Date, today)
		rows = append(rows, r)
	}
	return rows
}

// age returns how many days old a price of that date is, and whether that is
// older than the book lets pass. A price without a date has no age.
func (b *Book) age(date, today time.Time) (days int, stale bool) {
	if date.IsZero() {
		return 0, false
	}
	days = daysBetween(date, today)
	return days, days > b.StaleAfter
}

// daysBetween counts the midnights from one calendar day to another. Each day
// is read in its own zone, and counted on a calendar without clock changes.
func daysBetween(from, to time.Time) int {
	return int(calendarDay(to).Sub(calendarDay(from)) / (24 * time.Hour))
}

// calendarDay is midnight UTC of the day that t is in its own zone.
func calendarDay(t time.Time) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC)
}

// sortByFile puts the prices in the order of the file.
func (b *Book) sortByFile(doc *input.Document) {
	start := func(p Price) int {
		span, _ := doc.Span(p.Path)
		return span.Start
	}
	sort.SliceStable(b.prices, func(i, j int) bool { return start(b.prices[i]) < start(b.prices[j]) })
}
