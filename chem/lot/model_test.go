package lot

import "testing"

// What dissolved the metal follows from what was poured in, where nothing says.
func TestDefaultAgent(t *testing.T) {
	pour := func(names ...string) string {
		text := "title = \"x\"\n[[dissolved]]\nmass = \"1 g\"\nshare = { Cu = \"rest\" }\n"
		for _, n := range names {
			text += "[[added]]\nwhat = \"" + n + "\"\nstrength = \"1 mol/L\"\namount = \"1 L\"\n"
		}
		return text
	}
	for want, text := range map[string]string{
		"nitric acid":                  pour("hydrochloric acid", "nitric acid"),
		"hydrochloric acid + peroxide": pour("hydrogen peroxide", "hydrochloric acid"),
		"sulfuric acid + peroxide":     pour("hydrogen peroxide", "sulfuric acid"),
		"iron(III) chloride":           pour("iron(III) chloride", "hydrochloric acid"),
		"copper(II) chloride":          pour("copper(II) chloride", "hydrochloric acid"),
	} {
		if b := read(t, text); b.model.agent != want || b.model.agentAssumed {
			t.Errorf("agent %q, want %q", b.model.agent, want)
		}
	}
	if b := read(t, pour()); b.model.agent != "nitric acid" || !b.model.agentAssumed || b.note(Assumption) == "" {
		t.Errorf("agent %q without a word", b.model.agent)
	}
}

// The volume comes from the vessel, else from what was poured, dissolved or wet.
func TestVolumeRules(t *testing.T) {
	for text, want := range map[string]float64{
		"[vessel]\nliquid = \"3 L\"\n[[added]]\nwhat = \"water\"\namount = \"1 L\"\n":                      3,
		"[[added]]\nwhat = \"water\"\namount = \"1 L\"\n[[added]]\nwhat = \"water\"\namount = \"500 g\"\n": 1.5,
		"[[dissolved]]\nmass = \"200 g\"\nshare = { Cu = \"rest\" }\nextent = \"50 %\"\n":                  1,
		"[[solid]]\ncompound = \"AgCl\"\nwet_mass = \"100 g\"\nmoisture = \"30 %\"\n":                      0.03,
		"": 0,
	} {
		b := read(t, "title = \"x\"\n"+text)
		near(t, "volume of "+text, float64(b.report.Volume), want, 1e-9)
	}
}
