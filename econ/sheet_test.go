package econ

import (
	"context"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/route"
	"afterpour/chem/units"
)

// TestSheetOfRefusedLot: the sheet of a lot that must not be worked says so first.
func TestSheetOfRefusedLot(t *testing.T) {
	s := sheet(t, "plating-bath.toml", DefaultBook(), "dispose")
	if len(s.Warnings) == 0 || s.Warnings[0].Severity != route.SeverityRefuse || !strings.Contains(s.Warnings[0].Text, "cyanide") {
		t.Errorf("the sheet of a cyanide bath warns of %+v", s.Warnings)
	}
	if s := sheet(t, "chloride-sludge.toml", DefaultBook(), "dispose"); len(s.Warnings) != 0 {
		t.Errorf("the sheet of plain chloride warns of %+v", s.Warnings)
	}
}

// TestSheetDoses holds every dose against the ledger and against what a bench can
// measure: never less than it takes, and on a mark of scale or cylinder.
func TestSheetDoses(t *testing.T) {
	seen := eachSheet(t, func(t *testing.T, s *Sheet, o *route.Outcome) {
		doses := 0
		for i := range s.Steps {
			st := &s.Steps[i]
			for _, d := range st.Doses {
				doses++
				if d.Reagent == "water" {
					if math.Abs(d.Off) > 0.06 && d.Volume > 20*units.Millilitre {
						t.Errorf("step %d: water %s for %v", st.Number, d.Text, d.Volume.Millilitres())
					}
					continue
				}
				if d.Off < -1e-9 {
					t.Errorf("step %d: %s of %s is too little by %.3g", st.Number, d.Text, d.Name, -d.Off)
				}
				if d.Off > noticeable && !strings.Contains(d.Text, "over what it takes") {
					t.Errorf("step %d: %s of %s is %.3g over, and does not say so", st.Number, d.Text, d.Name, d.Off)
				}
				if !saidIn(st.Do, d.Text) {
					t.Errorf("step %d: the dose %q of %s is not in what is done: %q", st.Number, d.Text, d.Name, st.Do)
				}
			}
		}
		if total := doseTotal(s); total > 0 {
			ledger := 0.0
			for i := range o.Steps {
				for _, e := range o.Steps[i].Entries {
					if e.Kind == route.Reagent && o.Steps[i].Kind != "cement" {
						ledger += e.Amount
					}
				}
			}
			if math.Abs(total-ledger) > 1e-6*ledger {
				t.Errorf("the doses come to %.6g g, the ledger to %.6g g", total, ledger)
			}
		}
	})
	for _, r := range []string{"copper-cementation", "chloride-oxide-sugar", "electrolysis-silver", "electrolysis-copper", "calcine-sulfate-salt", "chloride-iron", "chloride-zinc", "chloride-soda-melt", "hydroxide-sulfate-salt", "iron-cementation", "hydroxide", "dissolve-nitric", "neutralise"} {
		if !seen[r] {
			t.Errorf("no sheet of the route %s was looked at", r)
		}
	}
}

// doseTotal adds the exact doses up, but for metal that is lifted out again.
func doseTotal(s *Sheet) float64 {
	total := 0.0
	for _, st := range s.Steps {
		for _, d := range st.Doses {
			if st.Kind != "cement" {
				if d.Reagent == "water" {
					total += d.Volume.Litres() * 1000
				} else {
					total += d.Mass.Grams()
				}
			}
		}
	}
	return total
}

func saidIn(list []string, text string) bool {
	for _, line := range list {
		if strings.Contains(line, text) {
			return true
		}
	}
	return strings.Contains(text, " L") || strings.Contains(text, "mL") // water of several washes is said a wash at a time
}

// TestSheetCautionsBeforeDanger watches that a step carries all its cautions, that
// they are handed over before anything is done, that acid and caustic go into
// water, and that a scrubber stands before the step whose fume it takes.
func TestSheetCautionsBeforeDanger(t *testing.T) {
	eachSheet(t, func(t *testing.T, s *Sheet, o *route.Outcome) {
		for i := range o.Steps {
			rec := &o.Steps[i]
			if rec.Skipped {
				continue
			}
			st := stepOf(s, rec)
			if st == nil {
				t.Fatalf("step %s/%s is not on the sheet", rec.Route, rec.Step)
			}
			if len(st.Cautions) != len(rec.Cautions) {
				t.Errorf("step %d says %d of %d cautions", st.Number, len(st.Cautions), len(rec.Cautions))
			}
			all := strings.Join(st.Do, "\n")
			if strings.Contains(all, "sulfuric acid") && !strings.Contains(all, "never") {
				t.Errorf("step %d does not say what goes into what: %s", st.Number, all)
			}
			if strings.Contains(all, "sodium hydroxide") && rec.Kind != "fuse" && !strings.Contains(all, "never water onto the caustic") {
				t.Errorf("step %d does not say what goes into what: %s", st.Number, all)
			}
			if rec.Kind == "scrub" {
				for j := range o.Steps {
					if other := stepOf(s, &o.Steps[j]); o.Steps[j].Route == rec.Route && o.Steps[j].Kind != "scrub" && contains(o.Steps[j].Out, rec.In) && other.Number < st.Number {
						t.Errorf("step %d gives fume before its scrubber is set up in step %d", other.Number, st.Number)
					}
				}
			}
		}
		w := &orderWriter{t: t}
		s.Write(w)
	})
}

// orderWriter fails where a caution comes after an action of its step.
type orderWriter struct {
	t     *testing.T
	acted bool
	step  int
}

func (w *orderWriter) Title(string)   {}
func (w *orderWriter) Section(string) { w.acted, w.step = false, 0 }
func (w *orderWriter) Step(n int, title, _ string) {
	w.acted, w.step = false, n
	if title == "" {
		w.t.Errorf("step %d has no title", n)
	}
}
func (w *orderWriter) Line(_, text string)       { w.said(text) }
func (w *orderWriter) Point(text string)         { w.said(text) }
func (w *orderWriter) Action(_ string, t string) { w.acted = true; w.said(t) }
func (w *orderWriter) Blank(what, _ string)      { w.said(what) }
func (w *orderWriter) Caution(_, text string) {
	if w.acted && w.step > 0 {
		w.t.Errorf("step %d warns after it has acted: %s", w.step, text)
	}
	w.said(text)
}

// said fails on a text that would look broken on paper.
func (w *orderWriter) said(text string) {
	for _, bad := range []string{"NaN", "Inf", "%!", "  ", "about 0 ", "-0 ", "“”"} {
		if strings.Contains(text, bad) {
			w.t.Errorf("step %d says %q", w.step, text)
		}
	}
}

func stepOf(s *Sheet, rec *route.StepRecord) *SheetStep {
	for i := range s.Steps {
		if s.Steps[i].Route == rec.Route && s.Steps[i].Step == rec.Step {
			return &s.Steps[i]
		}
	}
	return nil
}

// TestSheetStandsAlone watches that no step rests on what is not on the sheet:
// every label that a step works on was filled by an earlier one, every reagent is
// on the shopping list, and every test that is named is explained.
func TestSheetStandsAlone(t *testing.T) {
	eachSheet(t, func(t *testing.T, s *Sheet, o *route.Outcome) {
		filled := map[string]bool{"vessel": true}
		for _, st := range s.Steps {
			if len(st.Do) == 0 {
				t.Errorf("step %d, %s, says nothing to do", st.Number, st.Title)
			}
			for _, line := range st.Do {
				for _, use := range []string{"to the “", "in the “", "with the “", "over the “", "off the “", "Boil the “", "Spread the “", "Bring the “", "Stand the “"} {
					if _, after, ok := strings.Cut(line, use); ok {
						label, _, _ := strings.Cut(after, "”")
						if !filled[label] {
							t.Errorf("step %d uses %q, which nothing has filled: %s", st.Number, label, line)
						}
					}
				}
				for _, label := range labelsIn(line) {
					filled[label] = true
				}
			}
			for _, d := range st.Doses {
				found := false
				for _, item := range s.Shopping {
					found = found || item.ID == d.Reagent
				}
				if !found {
					t.Errorf("step %d takes %s, which is not on the shopping list", st.Number, d.Name)
				}
			}
			for _, word := range []string{"salt water", "ammonia gives", "drop of ammonia", "silver nitrate", "pH paper", "bright copper", "clean nail", "two weighings", "cold glass"} {
				if strings.Contains(st.Stop, word) && len(s.Tests) == 0 {
					t.Errorf("step %d stops by %q, which no test explains", st.Number, st.Stop)
				}
			}
		}
	})
}

func labelsIn(text string) []string {
	var list []string
	for {
		_, after, ok := strings.Cut(text, "“")
		if !ok {
			return list
		}
		label, rest, _ := strings.Cut(after, "”")
		list, text = append(list, label), rest
	}
}

// TestEveryStoppingTestIsExplained reads the stopping tests of all routes: those
// that take a reagent or a tool must be among the tests that a sheet explains.
func TestEveryStoppingTestIsExplained(t *testing.T) {
	lib, err := route.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	takes := []string{"salt water", "ammonia", "silver nitrate", "ph paper", "nitric acid", "bright copper", "nail", "weighings", "glass", "hydrochloric"}
	for _, f := range lib.Routes() {
		for i := range f.Steps {
			stop := strings.ToLower(f.Steps[i].Stop)
			for _, word := range takes {
				if !strings.Contains(stop, word) {
					continue
				}
				k := &sheetMaker{sheet: &Sheet{}, texts: []string{stop}}
				k.tests()
				if len(k.sheet.Tests) == 0 {
					t.Errorf("%s, %s: the sheet does not explain %q", f.ID, f.Steps[i].ID, stop)
				}
			}
		}
	}
}

// TestSheetByHand works some amounts of one sheet out on paper. The silver of the
// nitrate lot is 44.4 g or 0.4115 mol. With 20 % excess 0.494 mol of salt at
// 58.44 g/mol and 99.5 % is 29.0 g; the balance reads 0.01 g and three digits are
// shown, so 29.0 or 29.1 g.
func TestSheetByHand(t *testing.T) {
	s := sheet(t, "nitrate-liquor.toml", DefaultBook(), "chloride-oxide-sugar+dispose")
	salt := s.Steps[0].Doses[0]
	if salt.Reagent != "sodium-chloride" || salt.Text != "29.0 g" && salt.Text != "29.1 g" {
		t.Errorf("the salt is %s of %s, want 29.0 or 29.1 g", salt.Text, salt.Reagent)
	}
	last := s.Steps[len(s.Steps)-1]
	if len(last.Checks) != 1 || !(last.Checks[0].Low < last.Checks[0].Expect && last.Checks[0].Expect < last.Checks[0].High) {
		t.Fatalf("the last step expects %+v", last.Checks)
	}
	if e := last.Checks[0].Expect.Grams(); e < 38 || e > 44.4 {
		t.Errorf("the bar is %.4g g of 44.4 g contained", e)
	}
}

// TestSheetRanges watches that the ranges hold what is expected, and that they
// come out the same twice.
func TestSheetRanges(t *testing.T) {
	one := sheet(t, "chloride-settled.toml", DefaultBook(), "chloride-oxide-sugar+neutralise+dispose")
	checks := 0
	for _, st := range one.Steps {
		for _, c := range st.Checks {
			if c.High > 0 {
				checks++
				if !(c.Low <= c.High) || c.Expect < c.Low/2 || c.Expect > 2*c.High {
					t.Errorf("step %d, %s: %v of %v to %v", st.Number, c.What, c.Expect, c.Low, c.High)
				}
			}
		}
	}
	if checks < 4 {
		t.Errorf("%d check points have a range, want four or more", checks)
	}
	if two := sheet(t, "chloride-settled.toml", DefaultBook(), "chloride-oxide-sugar+neutralise+dispose"); !reflect.DeepEqual(one, two) {
		t.Error("the same request gave two different sheets")
	}
}

// TestSheetPlan watches which plan a sheet is of.
func TestSheetPlan(t *testing.T) {
	req := request(t, "chloride-sludge.toml", sampleLots(t)["chloride-sludge.toml"], DefaultBook())
	a := appraised(t, req)
	s, err := BenchSheet(context.Background(), a, "")
	if err != nil {
		t.Fatal(err)
	}
	if len(s.Steps) == 0 {
		t.Errorf("the sheet without a plan is of %s, which works nothing up", s.Plan)
	}
	if a.Verdict.Plan != s.Plan && len(s.Standing) < 2 {
		t.Errorf("the sheet of %s does not say that the verdict is %s", s.Plan, a.Verdict.Plan)
	}
	if _, err := BenchSheet(context.Background(), a, "chloride-irom+dispose"); !errors.Is(err, ErrNoSuchPlan) || !strings.Contains(err.Error(), "chloride-iron+dispose") {
		t.Errorf("a misspelt plan gives %v", err)
	}
	if _, err := BenchSheet(context.Background(), a, "copper-cementation+dispose"); !errors.Is(err, ErrPlanBlocked) || !strings.Contains(err.Error(), "locked") {
		t.Errorf("a blocked plan gives %v", err)
	}
	bare, err := BenchSheet(context.Background(), a, "dispose")
	if err != nil || len(bare.Left) == 0 || len(bare.Steps) != 0 {
		t.Errorf("the sheet of disposing has %d steps and %d leavings, %v", len(bare.Steps), len(bare.Left), err)
	}
}

// TestSheetCancelled watches that a cancelled context ends the work.
func TestSheetCancelled(t *testing.T) {
	req := request(t, "chloride-sludge.toml", sampleLots(t)["chloride-sludge.toml"], DefaultBook())
	a := appraised(t, req)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := BenchSheet(ctx, a, "chloride-iron+dispose"); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}

// TestSheetSaysOwnRoute changes a route as a user would and watches that the sheet
// says so at its head and at the steps.
func TestSheetSaysOwnRoute(t *testing.T) {
	req := request(t, "chloride-sludge.toml", sampleLots(t)["chloride-sludge.toml"], DefaultBook())
	a := appraised(t, req)
	p := a.planByID("chloride-iron+dispose")
	again := &replay{study: a.study, plan: route.NewPlan(p.Routes, p.Ending)}
	o, err := again.record(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	o.UserRoutes = []string{"chloride-iron"}
	s := newSheetMaker(a, p, &o, planRange{}).make()
	if len(s.Own) != 1 || !s.Steps[0].Own {
		t.Errorf("the sheet says %q of the user's own route, and step 1 %v", s.Own, s.Steps[0].Own)
	}
}

// TestSheetPacks counts packs against what stands on the shelf.
func TestSheetPacks(t *testing.T) {
	k := &sheetMaker{m: newMeasurer(0)}
	figs := &input.Figures{}
	doc, err := input.Parse("book", []byte(smallBook))
	if err != nil {
		t.Fatal(err)
	}
	if k.req.Book, err = DecodeBook(doc, figs); err != nil {
		t.Fatal(err)
	}
	for _, test := range []struct {
		id        string
		mass      units.Mass
		volume    units.Volume
		buy, have string
	}{
		{"sodium-hydroxide", 40 * units.Gram, 0, "nothing", "50 g"}, // 50 g stand there
		{"sodium-hydroxide", 1.05 * units.Kilogram, 0, "1 pack of 1 kg", "50 g"},
		{"sodium-hydroxide", 1.06 * units.Kilogram, 0, "2 packs of 1 kg", "50 g"},
		{"sulfuric-acid", 0, 1.2 * units.Litre, "2 packs of 1 L", ""},
		{"glucose", 10 * units.Gram, 0, "your price book does not list it", ""},
	} {
		var s SheetSupply
		k.packs(&s, supply{test.id, test.mass, test.volume})
		if s.Buy != test.buy || s.Have != test.have {
			t.Errorf("%s, %v and %v: buy %q, have %q; want %q and %q", test.id, test.mass, test.volume, s.Buy, s.Have, test.buy, test.have)
		}
	}
}
