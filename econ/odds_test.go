package econ

import (
	"context"
	"testing"
)

func TestRefineSamples(t *testing.T) {
	for _, name := range []string{"chloride-sludge.toml", "copper-etchant.toml"} {
		text := sampleLots(t)[name]
		a := appraised(t, request(t, name, text, DefaultBook()))
		b, err := Refine(context.Background(), a, Effort{Most: 200, Fixed: true}, func(p Progress) {
			t.Logf("%s %d of %d, settled %t, aside %d", name, p.Draws, p.Most, p.Settled, p.Appraisal.SetAside)
		})
		if err != nil {
			t.Fatal(err)
		}
		for i := range b.Plans {
			if p := &b.Plans[i]; p.FoldedInto == "" && p.Odds != nil && i < 14 {
				t.Logf("%.2f %+v %s", p.Net, *p.Odds, p.ID)
			}
		}
		t.Log(b.Verdict, *b.Verdict.PPositive)
	}
}
