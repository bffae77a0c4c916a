package route

import (
	"math"
	"testing"

	"afterpour/chem/substance"
	"afterpour/chem/units"
)

// TestConditionsMeasure: what a condition looks at, worked out by hand.
func TestConditionsMeasure(t *testing.T) {
	s := litre.and(poured{"H^+": 0.5, "NO3^-": 0.7, "Ag^+": 0.1, "Cu^2+": 0.05, "AgCl(s)": 0.2, "Ag(s)": 0.3}).stream(20)
	litres := float64(s.LiquidVolume())
	dry := 0.5*1.008 + 0.7*62.004 + 0.1*107.87 + 0.05*63.546 + 0.2*143.32 + 0.3*107.87 // g
	for text, want := range map[string]float64{
		"H^+ above 1 mol/L":                       0.5 / litres,
		"H^+ + NO3^- above 1 mol/L":               1.2 / litres,
		"Ag above 1 mol":                          0.6,
		"dissolved Ag above 1 mol":                0.1,
		"solid Ag above 1 mol":                    0.5,
		"solid Ag + dissolved Cu above 1 mol":     0.55,
		"Ag(s) above 1 g":                         0.3 * 107.87 / 1000, // kg
		"Ag above 1 g/L":                          0.6 * 107.87 / litres,
		"dissolved Cu above 1 mg/L":               0.05 * 63.546 / litres,
		"NO3^- above 1 %":                         0.7 * 62.004 / dry,
		"AgCl(s) above 1 %":                       0.2 * 143.32 / dry,
		"Hg above 1 mg":                           0,
		"organic matter above 1 g":                0,
		"standing above 1 h":                      0, // no step
		"gas above 1 g":                           0,
		"H^+ below 1 mol/L":                       0.5 / litres,
		"NH4^+ + NH3(aq) above 0.1 mol/L":         0,
		"AgCl(s) + Ag2O(s) + AgNO3(s) above 1 kg": 0.2 * 143.32 / 1000,
	} {
		c, err := parseCondition(text)
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		if got := newProbe(nil, s).value(&c); math.Abs(got-want) > 1e-4*want {
			t.Errorf("%s: measured %.6g, want %.6g", text, got, want)
		}
	}
}

// TestConditionsOfNothing: an empty stream and a dry one give no nonsense.
func TestConditionsOfNothing(t *testing.T) {
	for _, s := range []substance.Stream{substance.NewStream(units.Celsius(20)), poured{"Ag(s)": 1}.stream(20)} {
		for _, text := range []string{"H^+ above 0 mol/L", "NO3^- above 0 %", "Cd above 0 mg/L", "Cd above 0 g"} {
			c, err := parseCondition(text)
			if err != nil {
				t.Fatal(err)
			}
			p := newProbe(nil, s)
			if v := p.value(&c); v != 0 || p.holds(&c) {
				t.Errorf("%s of nothing is %g", text, v)
			}
		}
	}
}

// TestThresholds walks through every level of every rule whose conditions look
// at the stream alone: with all of them one in a thousand past its threshold it
// fires, and with any one of them as far short of it it does not.
func TestThresholds(t *testing.T) {
	list, err := Rules()
	if err != nil {
		t.Fatal(err)
	}
	tried := 0
	for i := range list {
		for j := range list[i].Levels {
			l := &list[i].Levels[j]
			if len(l.When) == 0 || !l.streamOnly() {
				continue
			}
			tried++
			if past := streamAt(t, l, -1); !l.met(newProbe(nil, past)) {
				t.Errorf("%s, level %d, %s: does not fire past its thresholds %v", list[i].ID, j+1, l.Severity, texts(l))
			}
			for k := range l.When {
				if short := streamAt(t, l, k); l.met(newProbe(nil, short)) {
					t.Errorf("%s, level %d, %s: fires although %s is not reached", list[i].ID, j+1, l.Severity, l.When[k].Text)
				}
			}
		}
	}
	if tried < 40 {
		t.Errorf("only %d levels were tried", tried)
	}
}

func (l *Level) streamOnly() bool {
	for _, c := range l.When {
		if c.measure != ofStream {
			return false
		}
	}
	return true
}

func texts(l *Level) []string {
	var list []string
	for _, c := range l.When {
		list = append(list, c.Text)
	}
	return list
}

// streamAt makes a litre that measures each condition at 1.001 of its bound, but
// that of number short at 0.999. Where conditions share a species the later one
// wins, so the first species that no other condition counts is used.
func streamAt(t *testing.T, l *Level, short int) substance.Stream {
	t.Helper()
	s := litre.and(poured{"NaNO3(s)": 0, "SiO2(s)": 2}).stream(20)
	for range 40 { // the conditions move each other a little: volume, dry mass
		for k := range l.When {
			c := &l.When[k]
			aim := 1.001
			if k == short {
				aim = 0.999
			}
			id := l.ownSpecies(k)
			if v := newProbe(nil, s).value(c); v > 0 && s.Mol[id] > 0 {
				// a secant through what the other species count
				h := s.Mol[id] * 1e-3
				s.Mol[id] += h
				slope := (newProbe(nil, s).value(c) - v) / h
				s.Mol[id] = math.Max(1e-12, s.Mol[id]-h+(aim*c.bound-v)/slope)
			} else {
				s.Mol[id] = 1e-3
			}
		}
	}
	return s
}

// ownSpecies is the first species of a condition that no other one counts.
func (l *Level) ownSpecies(k int) substance.SpeciesID {
	for _, p := range l.When[k].parts {
		shared := false
		for other := range l.When {
			for _, q := range l.When[other].parts {
				shared = shared || other != k && q.id == p.id
			}
		}
		if !shared {
			return p.id
		}
	}
	return l.When[k].parts[0].id
}
