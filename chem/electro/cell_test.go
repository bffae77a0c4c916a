package electro

import (
	"errors"
	"math"
	"testing"

	"afterpour/chem/units"
)

func TestWinRefuses(t *testing.T) {
	c, l, stop := benchCell(), sulfate(), Stop{Concentration: 0.1}
	bad := map[string]func() error{
		"no stop": func() error { _, err := Win(c, l, "Cu", Stop{}); return err },
		"NaN acid": func() error {
			l := l
			l.Acid = units.Concentration(math.NaN())
			_, err := Win(c, l, "Cu", stop)
			return err
		},
		"no target":      func() error { _, err := Win(c, l, "Ag", stop); return err },
		"cold":           func() error { l := l; l.Temperature = 200; _, err := Win(c, l, "Cu", stop); return err },
		"no area":        func() error { c := c; c.CathodeArea = 0; _, err := Win(c, l, "Cu", stop); return err },
		"leads":          func() error { c := c; c.Leads = math.Inf(1); _, err := Win(c, l, "Cu", stop); return err },
		"all stray":      func() error { c := c; c.Stray = 1; _, err := Win(c, l, "Cu", stop); return err },
		"taper 1":        func() error { c := c; c.Taper = 1; _, err := Win(c, l, "Cu", stop); return err },
		"negative taper": func() error { c := c; c.Taper = -0.1; _, err := Win(c, l, "Cu", stop); return err },
	}
	for name, call := range bad {
		if err := call(); !errors.Is(err, ErrDomain) {
			t.Errorf("%s: %v, want ErrDomain", name, err)
		}
	}
	if _, err := Win(c, l, "Kr", stop); !errors.Is(err, ErrUnknown) {
		t.Errorf("unknown metal: %v", err)
	}
	c.Anode = "butter"
	if _, err := Win(c, l, "Cu", stop); !errors.Is(err, ErrUnknown) {
		t.Errorf("unknown anode: %v", err)
	}
}
