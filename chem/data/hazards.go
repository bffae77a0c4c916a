package data

import "sync"

// Hazard is a row of hazards.toml: a pair or a step that hurts.
type Hazard struct {
	ID       string   `toml:"id"`
	Name     string   `toml:"name"`
	Severity string   `toml:"severity"` // see the Severity constants
	First    string   `toml:"first"`    // the two things that meet, in words
	Second   string   `toml:"second"`
	Effect   string   `toml:"effect"`
	Reaction string   `toml:"reaction"`
	Elements []string `toml:"elements"` // symbols that must really be in the stream
	Declared []string `toml:"declared"` // words by which a person may say that it is there
	Row
}

// How severe a hazard is.
const (
	Refuse = "refuse" // the program must not price it
	Stop   = "stop"   // do not mix
	Warn   = "warn"   // say so with numbers
)

// Hazards returns the table of hazards.
func Hazards() ([]Hazard, error) { return hazards() }

var hazards = sync.OnceValues(func() ([]Hazard, error) {
	return rows[Hazard]("hazards.toml")
})

func (h Hazard) check() error {
	ok := named(h.ID, h.Name, h.First, h.Second, h.Effect)
	switch h.Severity {
	case Refuse, Stop, Warn:
	default:
		ok = false
	}
	return wrong(ok, "hazard %q, severity %q", h.ID, h.Severity)
}
