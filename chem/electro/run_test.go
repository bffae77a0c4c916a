package electro

import (
	"testing"
)

// A supply of too few volts turns the current down.
func TestWinVoltageLimit(t *testing.T) {
	c := benchCell()
	c.Voltage = 2.3
	r := win(t, c, sulfate(), "Cu", Stop{Concentration: 0.3})
	if r.First > 2.3*(1+1e-5) || r.First < 2.25 {
		t.Errorf("starts at %.3f V on a supply of 2.3 V", r.First)
	}
	if full := win(t, benchCell(), sulfate(), "Cu", Stop{Concentration: 0.3}); full.Hours >= r.Hours {
		t.Error("fewer volts are not slower")
	}
	c.Voltage = 0.5 // less than the reversible voltage
	r = win(t, c, sulfate(), "Cu", Stop{Concentration: 0.3, Hours: 10})
	if q := r.Charge.AmpereHours(); q > 1e-3 {
		t.Errorf("half a volt drives %g A h", q)
	}
}
