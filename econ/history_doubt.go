package econ

import (
	"fmt"
	"math"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/units"
)

// When a history is long enough to say how far a price moves: so many prices of
// different days, over so long. Assumptions: from six steps the spread of the
// steps is known to about a third, and a quarter of a year sees more than one
// mood of a market.
const (
	leastPast  = 7
	leastSpan  = 90 * 24 * time.Hour
	settleDays = 30.0 // between deciding and being paid: assumption
)

// Apply gives the prices of a book whose doubt is assumed the one that their
// history shows, and says so in the figures' sources. It returns the ids of
// those prices. A price moves like a random walk: the sum of the squares of its
// steps (of its logarithm; of a share, of itself) over the days they took is its
// variance a day, and the days from its date to today and on to the settling are
// those that count.
func (h *History) Apply(b *Book, figs *input.Figures, today time.Time) []string {
	var applied []string
	for i := range b.prices {
		p := &b.prices[i]
		fig := figs.Get(p.Ref)
		if !p.assumed || !(fig.Dist.Mean > 0) {
			continue
		}
		m, ok := h.movement(p)
		if !ok {
			continue
		}
		days := settleDays
		if age := today.Sub(p.Date).Hours() / 24; !p.Date.IsZero() && age > 0 {
			days += age
		}
		fig.Dist = m.doubt(fig.Dist.Mean, days)
		fig.Source = fmt.Sprintf("price book; doubt from your own %d prices since %s", m.steps+1, m.since.Format(time.DateOnly))
		figs.Add(fig)
		applied = append(applied, p.ID)
	}
	return applied
}

// movement is how far a price moves.
type movement struct {
	share    bool    // of itself, not of its logarithm
	variance float64 // a day
	steps    int
	since    time.Time
}

// movement works out how a price has moved; false where too little is known.
func (h *History) movement(p *Price) (movement, bool) {
	m := movement{share: p.Kind == units.Fraction}
	days, values := h.days(&m, p)
	if len(days) < leastPast || days[len(days)-1].Sub(days[0]) < leastSpan {
		return m, false
	}
	squares := 0.0
	for i := 1; i < len(values); i++ {
		squares += square(values[i] - values[i-1])
	}
	m.steps, m.since = len(days)-1, days[0]
	m.variance = squares / (days[len(days)-1].Sub(days[0]).Hours() / 24)
	return m, true
}

// days lists the days of a price's history with its value on each: of several of
// one day the last, which mended the others.
func (h *History) days(m *movement, p *Price) (days []time.Time, values []float64) {
	for _, past := range h.Past {
		value, ok := m.value(past.Text, p)
		switch {
		case past.Path != p.Path || !ok:
		case len(days) > 0 && past.Date.Equal(days[len(days)-1]):
			values[len(values)-1] = value
		default:
			days, values = append(days, past.Date), append(values, value)
		}
	}
	return days, values
}

// value reads a past price: its logarithm, or of a share itself.
func (m *movement) value(text string, p *Price) (float64, bool) {
	_, dist, err := units.Parse(text, p.kinds...)
	switch {
	case err != nil || !(dist.Mean > 0):
		return 0, false
	case m.share:
		return dist.Mean, true
	}
	return math.Log(dist.Mean), true
}

// mostSpread bounds the standard deviation of a logarithm: a price that may be a
// twentieth or twenty times is not known at all.
const mostSpread = 1.5

// doubt is the distribution of a price some days on.
func (m *movement) doubt(mean, days float64) units.Dist {
	sd := math.Sqrt(m.variance * days)
	if m.share {
		return units.NormalDist(mean, sd).Bounded(0, 1)
	}
	return units.LognormalDist(mean, mean*math.Sqrt(math.Expm1(square(math.Min(sd, mostSpread)))))
}
