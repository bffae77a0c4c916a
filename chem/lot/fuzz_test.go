package lot

import (
	"errors"
	"io"
	"testing"

	"afterpour/chem/input"
)

// FuzzDecode: any bytes give a sound lot or problems that can be printed.
func FuzzDecode(f *testing.F) {
	for _, name := range SampleNames() {
		text, err := Sample(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Add([]byte(everyKey))
	f.Add([]byte("title = \"x\"\n[[titrated]]\nof = \"acid\"\nsample = \"1e-300 L\"\ntitrant = \"60 mol/L\"\nused = \"1e6 L\"\n[vessel]\nliquid = \"1e6 L\"\nph = -2\n"))
	f.Add([]byte("title = \"x\"\n[vessel]\nliquid = \"1e-12 L ± 1e5 L\"\n[[dissolved]]\nmass = \"1e5 kg\"\ngrade = \"sterling\"\n[[measured]]\nmetal = \"Ag\"\nvalue = \"1e4 g/L ± 1e4 g/L\"\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		doc, err := input.Parse("lot.toml", data)
		if err != nil {
			return
		}
		figs := &input.Figures{}
		l, err := Decode(doc, figs)
		if err != nil {
			var problems input.Problems
			if !errors.As(err, &problems) {
				t.Fatalf("error is %T", err)
			}
			_, _ = io.WriteString(io.Discard, problems.Error())
			return
		}
		m, err := l.Model(figs)
		if err != nil {
			t.Fatalf("a lot that decodes has no model: %v", err)
		}
		b := built{lot: l, figs: figs, model: m, values: figs.Central()}
		b.report, b.inv = m.Report(b.values), m.Inventory(b.values)
		checkSound(t, b)
	})
}
