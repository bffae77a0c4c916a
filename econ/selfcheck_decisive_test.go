package econ

import (
	"context"
	"strings"
	"testing"
)

// vagueLot holds silver of which nobody knows how much: at the low figure it is
// not worth its hours, at the high one it is. Invented.
const vagueLot = `title = "A jar with some silver in it"
[vessel]
liquid = "2 L"
[[measured]]
metal = "Ag"
in    = "liquid"
value = "SILVER"
by    = "guess"
[[added]]
what     = "nitric acid"
strength = "68 %"
amount   = "200 mL"
`

func decisiveOf(t *testing.T, silver string) Proof {
	t.Helper()
	req := request(t, "vague.toml", []byte(strings.Replace(vagueLot, "SILVER", silver, 1)), DefaultBook())
	a := appraised(t, req)
	s, err := newSubject(a, req)
	if err != nil {
		t.Fatal(err)
	}
	p, err := s.decisive(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%s: %s: %s %s: %q", silver, a.Verdict.Action, p.Result, p.Text, p.Found)
	return p
}

// An input that turns the verdict within its doubt is named, with both verdicts
// and what would settle it; the same input without that doubt is not.
func TestDecisive(t *testing.T) {
	p := decisiveOf(t, "5..120 g/L")
	found := strings.Join(p.Found, "\n")
	if p.Result != Noted || !strings.Contains(found, "lot/measured[0].value") {
		t.Fatalf("%s: %q", p.Result, p.Found)
	}
	for _, want := range []string{"the verdict is dispose", "work up (", "measure it again"} {
		if !strings.Contains(p.Found[0], want) {
			t.Errorf("%q does not say %q", p.Found[0], want)
		}
	}
	p = decisiveOf(t, "120 g/L ± 1 g/L")
	if strings.Contains(strings.Join(p.Found, "\n"), "lot/measured[0].value") {
		t.Errorf("silver known to 1 %% turns the verdict: %q", p.Found)
	}
}
