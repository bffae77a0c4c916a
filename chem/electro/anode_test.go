package electro

import (
	"testing"
)

func TestWinAnode(t *testing.T) {
	l := sulfate()
	r := win(t, benchCell(), l, "Cu", Stop{Concentration: 0.05})
	// 2 mol of acid for a mole of copper won at an oxygen anode.
	near(t, "acid for copper", float64(r.AcidMade/plated(r, "Cu").Plated), 2, 1e-6)
	near(t, "oxygen for copper", float64(r.Oxygen/plated(r, "Cu").Plated), 0.5, 1e-6)
	l.Sulfate, l.Chloride = 0, 2
	r = win(t, benchCell(), l, "Cu", Stop{Concentration: 0.05})
	if r.Anode[ChlorineEvolution] < 9*r.Anode[OxygenEvolution] || r.Chlorine <= 0 {
		t.Errorf("strong chloride: %g C chlorine, %g C oxygen", r.Anode[ChlorineEvolution], r.Anode[OxygenEvolution])
	}
	near(t, "chloride used", float64(2-r.Left.Chloride), 2*float64(r.Chlorine), 1e-6)
	l.Chloride = 0.005
	weak := win(t, benchCell(), l, "Cu", Stop{Concentration: 0.05})
	if weak.Anode[ChlorineEvolution] > weak.Anode[OxygenEvolution]/5 {
		t.Error("a trace of chloride takes most of the anode current")
	}
	l.Metals = append(l.Metals, Dissolved{Metal: "Pb", Concentration: 0.01})
	lead := win(t, benchCell(), l, "Cu", Stop{Concentration: 0.05})
	if lead.LeadDioxide <= 0 || plated(lead, "Pb").Plated > 1e-9 {
		t.Errorf("lead: %g mol of dioxide, %g mol of metal", lead.LeadDioxide, plated(lead, "Pb").Plated)
	}
}
