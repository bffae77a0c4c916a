package route

import (
	"context"
	"fmt"
	"maps"
	"math"
	"slices"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/units"
)

// roomy is a bench on which neither space, nor air, nor current is short, so
// that every route that chemistry allows can be followed to its end.
var roomy = Bench{
	LargestVessel: 100, Heater: 2000, SupplyVolts: 12, SupplyAmps: 10, CathodeArea: 0.02,
	Extraction: 1e6, RoomM3: 50, AirChanges: 10, Melting: "furnace", Balance: units.Mass(1e-5), Separation: "decant",
}

// modest is the bench of the shipped price book: no extraction, a torch.
var modest = Bench{
	LargestVessel: 5, Heater: 800, SupplyVolts: 12, SupplyAmps: 5, CathodeArea: 0.01,
	RoomM3: 30, AirChanges: 2, Melting: "torch", Balance: units.Mass(1e-5), Separation: "decant",
}

// sampleJob reads an embedded sample lot and returns a job on it.
func sampleJob(t testing.TB, name string, bench Bench) (*Library, Job, *input.Figures) {
	t.Helper()
	text, err := lot.Sample(name)
	if err != nil {
		t.Fatal(err)
	}
	return jobOf(t, name, text, bench)
}

func jobOf(t testing.TB, name string, text []byte, bench Bench) (*Library, Job, *input.Figures) {
	t.Helper()
	lib, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	doc, err := input.Parse(name, text)
	if err != nil {
		t.Fatal(err)
	}
	figs := lib.Figures().Clone()
	l, err := lot.Decode(doc, figs)
	if err != nil {
		t.Fatal(err)
	}
	m, err := l.Model(figs)
	if err != nil {
		t.Fatal(err)
	}
	v := figs.Central()
	return lib, Job{
		Inventory: m.Inventory(v), Values: v, Bench: bench, Trace: true, Declared: l.Declared, Acknowledged: l.Acknowledged,
	}, figs
}

// exploration is a tree that several tests look at.
type exploration struct {
	Exploration
	job Job
}

var explorations = map[string]exploration{}

// explored carries the whole tree of a sample lot out, once for all tests: none
// of them may change it.
func explored(t testing.TB, name string, bench Bench) (Exploration, Job) {
	t.Helper()
	key := fmt.Sprint(name, bench)
	if done, ok := explorations[key]; ok {
		return done.Exploration, done.job
	}
	lib, job, _ := sampleJob(t, name, bench)
	e, err := lib.Explore(context.Background(), job)
	if err != nil {
		t.Fatal(err)
	}
	explorations[key] = exploration{e, job}
	return e, job
}

// TestConservation follows every plan of every sample lot and holds what left
// against what entered: each element within 1e-9 of the moles of it that
// entered, and the charge within 1e-9 of the moles of everything charged. With
// -v it prints the worst of each lot, element by element.
func TestConservation(t *testing.T) {
	for _, name := range lot.SampleNames() {
		worst := map[string]float64{}
		charge, balanced := 0.0, 0
		for _, bench := range []Bench{roomy, modest} {
			e, _ := explored(t, name, bench)
			for i := range e.Outcomes {
				o := &e.Outcomes[i]
				if o.Blocked != nil {
					continue
				}
				checkBalance(t, name, o)
				balanced++
				total := 0.0
				for _, e := range o.Balance.Elements {
					total += e.In
					worst[e.Element] = max(worst[e.Element], math.Abs(e.In-e.Out)/e.In)
				}
				charge = max(charge, math.Abs(o.Balance.ChargeIn-o.Balance.ChargeOut)/total)
			}
		}
		if balanced == 0 {
			t.Errorf("%s: no plan was balanced", name)
		}
		t.Log(balanceTable(name, balanced, worst, charge))
	}
}

func balanceTable(name string, plans int, worst map[string]float64, charge float64) string {
	text := fmt.Sprintf("%-18s %3d plans", name, plans)
	for _, symbol := range slices.Sorted(maps.Keys(worst)) {
		text += fmt.Sprintf("  %s %.0e", symbol, worst[symbol])
	}
	return text + fmt.Sprintf("  charge %.0e", charge)
}

func checkBalance(t *testing.T, name string, o *Outcome) {
	t.Helper()
	if o.Blocked != nil {
		return
	}
	total := 0.0
	for _, e := range o.Balance.Elements {
		total += e.In
		if off := math.Abs(e.In - e.Out); off > 1e-9*e.In {
			t.Errorf("%s %s: %s in %.12g mol, out %.12g mol", name, o.Plan.ID, e.Element, e.In, e.Out)
		}
	}
	if len(o.Balance.Elements) == 0 || total <= 0 {
		t.Errorf("%s %s: nothing was balanced", name, o.Plan.ID)
	}
	if off := math.Abs(o.Balance.ChargeIn - o.Balance.ChargeOut); off > 1e-9*total {
		t.Errorf("%s %s: charge in %.6g mol, out %.6g mol", name, o.Plan.ID, o.Balance.ChargeIn, o.Balance.ChargeOut)
	}
}

// TestLedgersAreFinite looks at every figure of every plan.
func TestLedgersAreFinite(t *testing.T) {
	for _, name := range lot.SampleNames() {
		e, job := explored(t, name, roomy)
		open := 0
		for _, o := range e.Outcomes {
			if o.Blocked == nil && len(o.Plan.Routes) > 0 {
				open++
			}
			for _, s := range o.Steps {
				for _, e := range s.Entries {
					if !(e.Amount > 0) || math.IsInf(e.Amount, 0) {
						t.Errorf("%s %s/%s: %v %s %g", name, o.Plan.ID, s.Step, e.Kind, e.Item, e.Amount)
					}
				}
			}
			for _, p := range o.Products {
				if !(p.Mass > 0) || !(p.MetalMass > 0) || p.MetalMass > p.Mass || p.Fineness > 1000*(1+1e-9) {
					t.Errorf("%s %s: product %+v", name, o.Plan.ID, p)
				}
			}
		}
		if open == 0 && len(job.Declared) == 0 {
			t.Errorf("%s: no plan with a route is open on a roomy bench", name)
		}
	}
}

// TestShow prints the plans of the sample lots for a reader: go test -v -run Show.
func TestShow(t *testing.T) {
	if !testing.Verbose() {
		t.Skip("prints for a reader only")
	}
	for _, name := range lot.SampleNames() {
		e, _ := explored(t, name, roomy)
		for _, o := range e.Outcomes {
			if o.Plan.Ending == "dispose" {
				t.Log(name, describe(&o))
			}
		}
	}
}

func describe(o *Outcome) string {
	text := "\n== " + o.Plan.ID
	if o.Blocked != nil {
		return text + "\n   blocked: " + o.Blocked.Route + "/" + o.Blocked.Step + ": " + o.Blocked.Reason
	}
	for _, s := range o.Steps {
		text += fmt.Sprintf("\n   %s (%s)", s.Step, s.Kind)
		for _, e := range s.Entries {
			text += fmt.Sprintf("\n      %-12s %-20s %12.4g %s %s", e.Kind, e.Item, e.Amount, e.Kind.Unit(), e.Detail)
		}
		for _, n := range s.Notes {
			text += "\n      · " + n
		}
	}
	for _, p := range o.Products {
		text += fmt.Sprintf("\n   -> %s %s %.4g g, %.4g g %s, fineness %.1f, %v", p.Form, p.Sale, p.Mass.Grams(), p.MetalMass.Grams(), p.Metal, p.Fineness, p.Composition)
	}
	for _, w := range o.Waste {
		text += fmt.Sprintf("\n   waste %s %.3g L %.3g kg pH %.1f", w.Class, float64(w.Volume), float64(w.Mass), w.PH)
	}
	return text
}
