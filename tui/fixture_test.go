package tui

import (
	"context"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/route"
	"afterpour/chem/units"
	"afterpour/econ"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

func TestMain(m *testing.M) {
	lipgloss.SetColorProfile(termenv.Ascii)
	os.Exit(m.Run())
}

// testDay is the day on which the tests take place.
var testDay = time.Date(2026, 11, 25, 9, 30, 0, 0, time.UTC)

func today() time.Time { return testDay }

// testBook is a small price book: figures invented.
const testBook = `# Invented prices.
currency    = "USD"
stale_after = "30 days"

[spot.Ag]
price = "30.00 / ozt"   # looked up in the morning
date  = 2026-11-20

[spot.Cu]
price = "9.00 / kg"
date  = 2026-09-01

[sale.silver-bar]
metal    = "Ag"
form     = "bar"
payable  = "94 %"
fineness = "900..1000"
fee      = "25.00"
freight  = "12.00"
date     = 2026-11-20

[reagent.sodium-chloride]
formula  = "NaCl"
strength = "99.5 %"
pack     = "1 kg"
price    = "2.00"
date     = 2026-11-20

[labour]
rate = "20.00 / h"
date = 2026-11-20

[disposal.acid-metal-liquor]
price   = "4.00 / L"
minimum = "60.00"
date    = 2026-11-20
`

// figuresOfTest are inputs that the invented appraisal rests on.
func figuresOfTest() *input.Figures {
	figs := new(input.Figures)
	figs.Add(input.Figure{ID: "lot/vessel.liquid", Kind: units.VolumeKind, Dist: units.NormalDist(3.2, 0.16), Text: "3.2 L ± 5 %", Origin: input.Typed, File: "/home/someone/strip.toml", Position: input.Position{Line: 5, Column: 15}})
	figs.Add(input.Figure{ID: "lot/dissolved[0].mass", Kind: units.MassKind, Dist: units.NormalDist(0.41, 0.002), Text: "410 g ± 2 g", Origin: input.Typed, File: "/home/someone/strip.toml", Position: input.Position{Line: 11, Column: 10}})
	figs.Add(input.Figure{ID: "lot/vessel.temperature", Kind: units.TemperatureKind, Dist: units.NormalDist(293.15, 1), Origin: input.Assumed, Source: "a bench thermometer is good to a degree (assumption)"})
	figs.Add(input.Figure{ID: "route/chloride-oxide-sugar/salt out.excess", Kind: units.Fraction, Dist: units.UniformDist(0.1, 0.3), Text: "10..30 %", Origin: input.RouteFile, Source: "common practice"})
	figs.Add(input.Figure{ID: "price/spot.Ag", Kind: units.PerMassKind, Dist: units.LognormalDist(964.5, 96), Text: "30.00 / ozt", Origin: input.PriceBook, Source: "price book; doubt by assumption"})
	return figs
}

func reachOf(r, metal string, share float64, reason string) []route.Reach {
	return []route.Reach{{Route: r, Metal: metal, Share: share, Reason: reason}}
}

func moneyOf(v float64) *econ.Money { m := econ.Money(v); return &m }

// testAppraisal is a lot judged by hand: every figure invented, and as many
// cases of the screens in it as fit.
func testAppraisal() *econ.Appraisal {
	a := &econ.Appraisal{
		Lot: "Contact strip, jars 3 and 4", Currency: "USD", PricesAsOf: time.Date(2026, 9, 1, 0, 0, 0, 0, time.UTC),
		Baseline: "dispose", BaselineNet: -60, Figures: figuresOfTest(), Stale: []string{"price/spot.Cu"},
		Verdict: econ.Verdict{
			Action: econ.WorkUp, Plan: "chloride-oxide-sugar+dispose", Gain: 74.3,
			Why: "the silver pays for the carrier and leaves 14.30 USD; the chloride keeps copper from reaching it",
		},
		Notes: []string{"the price book has no buyer of copper cement"},
	}
	a.Metals = []econ.MetalWorth{
		{Metal: "Ag", Contained: 32.8 * units.Gram, SD: 4.13 * units.Gram, Dissolved: 2.1 * units.Gram, Solid: 30.7 * units.Gram, SpotValue: moneyOf(31.64), PriceID: "price/spot.Ag"},
		{Metal: "Cu", Contained: 262.4 * units.Gram, SD: 5.3 * units.Gram, Dissolved: 262.4 * units.Gram, SpotValue: moneyOf(2.36)},
		{Metal: "Ni", Contained: 1.25 * units.Gram, SD: 0.31 * units.Gram, Dissolved: 1.25 * units.Gram},
	}
	a.Report = testReport()
	a.Plans = testPlans()
	return a
}

func testReport() lot.Report {
	return lot.Report{
		Title: "Contact strip, jars 3 and 4", Volume: 3.2, VolumeSD: 0.16, PH: 0.3,
		Metals: []lot.MetalReport{
			{
				Metal: "Ag", Contained: 32.8 * units.Gram, SD: 4.13 * units.Gram, Dissolved: 2.1 * units.Gram, DissolvedSD: 0.31 * units.Gram,
				Solid: 30.7 * units.Gram, SolidSD: 4.1 * units.Gram, Disagree: true, P: 0.012, Formula: "sources and measurements, weighted",
				SolidForms: []lot.SolidForm{{Species: "AgCl(s)", Mass: 40.8 * units.Gram, Metal: 30.7 * units.Gram}},
				Estimates: []lot.Estimate{
					{Label: "sources", Of: "total", Mass: 32.8 * units.Gram, SD: 4.1 * units.Gram, Weight: 0.9, Formula: "mass · share", Source: "weighed", Disagree: true},
					{Label: "liquid and solid", Of: "total", Mass: 46.2 * units.Gram, SD: 2.2 * units.Gram, Weight: 0.1, Formula: "liquid + solid", Disagree: true},
				},
				Inputs: []input.Ref{0, 1},
			},
			{Metal: "Cu", Contained: 262.4 * units.Gram, SD: 5.3 * units.Gram, Dissolved: 262.4 * units.Gram, DissolvedSD: 5.3 * units.Gram, P: 1, Inputs: []input.Ref{1}},
			{Metal: "Ni", Contained: 1.25 * units.Gram, SD: 0.31 * units.Gram, Dissolved: 1.25 * units.Gram, DissolvedSD: 0.31 * units.Gram, P: 1},
		},
		Acid: lot.AcidReport{
			FreeMol: 1.62, SD: 0.78, Concentration: 0.506, ConcentrationSD: 0.25, LowMol: 0.4, HighMol: 3.1, P: 1, Inputs: []input.Ref{0},
			Estimates: []lot.AcidEstimate{{Label: "measured pH", Mol: 1.6, SD: 0.8, Weight: 1, Formula: "10^(-pH)/γ · volume"}},
		},
		Notes: []lot.Note{
			{Kind: lot.Conflict, Text: "the assay of the liquid and what went in differ by more than their doubts", Inputs: []input.Ref{0, 1}},
			{Kind: lot.Missing, Text: "a titration of the acid would narrow the copper that a cementation eats"},
		},
		Assumed: []input.Ref{2},
	}
}

func testPlans() []econ.PricedPlan {
	works := econ.PricedPlan{
		ID: "chloride-oxide-sugar+dispose", Routes: []string{"chloride-oxide-sugar"}, Ending: "dispose",
		Net: 14.3, Gain: 74.3, NetWithoutLabour: 77.1, PerHour: moneyOf(24.55), Revenue: 147.52, Fees: 37, ReagentCost: 3.18,
		EnergyCost: 0.22, LabourCost: 62.8, ConsumableCost: 2, DisposalCost: 28.02, HandsOnH: 3.14, ElapsedH: 20.3, EnergyKWh: 1.1, FreshAirM3: 12,
		LargestVolume: 3.4,
		Metals:        []econ.PlanMetal{{Metal: "Ag", Contained: 32.8 * units.Gram, Recovered: 30.9 * units.Gram, Payable: 29.05 * units.Gram}, {Metal: "Cu", Contained: 262.4 * units.Gram}},
		Products:      []econ.PlanProduct{{Form: "bar", Metal: "Ag", Route: "chloride-oxide-sugar", Sale: "silver-bar", Mass: 31 * units.Gram, MetalMass: 30.9 * units.Gram, PayableMass: 29.05 * units.Gram, Fineness: 997, Receipts: 147.52}},
		Reagents:      []econ.PlanReagent{{Reagent: "sodium-chloride", Name: "sodium chloride", Mass: 29 * units.Gram, Cost: 0.06}, {Reagent: "sodium-hydroxide", Name: "sodium hydroxide", Mass: 49.4 * units.Gram, Cost: 0.44}},
		Gases:         []econ.PlanGas{{Gas: "NO2", Mass: 0.31 * units.Gram}},
		Waste:         []econ.PlanWaste{{Class: "acid-metal-liquor", Volume: 5.2, Mass: 5.5, Cost: 28.02}},
		Cautions:      []string{"heat, spatter: caustic into cold water, in parts", "silver nitride: never let ammoniacal silver stand"},
	}
	works.Lines = []econ.Line{
		{Category: econ.Revenue, Item: "silver bar", Quantity: 29.05, Unit: "g", Price: 5.078, PriceUnit: "USD / g", Amount: 147.52, PriceID: "price/spot.Ag", Why: route.Why{Formula: "m · payable · spot", Inputs: input.Set{}.With(1, 4)}},
		{Category: econ.Fees, Item: "silver bar, fee", Quantity: 1, Unit: "lot", Price: 25, PriceUnit: "USD / lot", Amount: 25, Fixed: true},
		{Category: econ.Fees, Item: "silver bar, freight", Quantity: 1, Unit: "lot", Price: 12, PriceUnit: "USD / lot", Amount: 12, Fixed: true},
		{Category: econ.Labour, Item: "own labour", Quantity: 3.14, Unit: "h", Price: 20, PriceUnit: "USD / h", Amount: 62.8},
		{Category: econ.Disposal, Item: "acid metal liquor", Quantity: 5.2, Unit: "L", Price: 4, PriceUnit: "USD / L", Amount: 28.02},
	}
	works.Outcome = &route.Outcome{
		Reach: reachOf("chloride-oxide-sugar", "Ag", 0.999, "metal and other solids stay as they are"),
		Steps: testSteps(),
		Products: []route.Product{{
			Form: "bar", Metal: "Ag", Route: "chloride-oxide-sugar", Mass: 31 * units.Gram, Fineness: 997,
			Composition: []route.Share{{Element: "Ag", Share: 0.997}, {Element: "Cu", Share: 0.003}},
			Why:         route.Why{Formula: "m = Σ M·n", Inputs: input.Set{}.With(0, 1), Sources: []string{"common practice"}},
		}},
		Waste: []route.Waste{{Class: "acid-metal-liquor", From: "spent liquor", Volume: 5.2, Mass: 5.5, PH: 0.4, Why: route.Why{Reason: "what is poured off and the washes"}}},
	}
	cement := econ.PricedPlan{
		ID: "copper-cementation+dispose", Routes: []string{"copper-cementation"}, Ending: "dispose",
		Net: -96.4, Gain: -36.4, NetWithoutLabour: -58.4, PerHour: moneyOf(-30.74), Revenue: 12.1, Fees: 52, LabourCost: 38, DisposalCost: 18.5,
		HandsOnH: 1.9, ElapsedH: 26.6, EnergyKWh: 0.4, FreshAirM3: 260, LargestVolume: 3.2,
		Metals:   []econ.PlanMetal{{Metal: "Ag", Contained: 32.8 * units.Gram, Recovered: 2.02 * units.Gram, Payable: 1.72 * units.Gram}},
		Reagents: []econ.PlanReagent{{Reagent: "copper-scrap", Name: "copper scrap", Mass: 28.5 * units.Gram, Cost: 0.29}},
		Gases:    []econ.PlanGas{{Gas: "NO2", Mass: 2.4 * units.Gram}, {Gas: "NO", Mass: 0.8 * units.Gram}},
		Waste:    []econ.PlanWaste{{Class: "acid-metal-liquor", Volume: 3.3, Mass: 3.6, Cost: 18.5}},
		Outcome:  &route.Outcome{Reach: reachOf("copper-cementation", "Ag", 0.064, "the chloride has locked 93.6 % of the silver as AgCl")},
	}
	dispose := econ.PricedPlan{ID: "dispose", Ending: "dispose", Net: -60, NetWithoutLabour: -60, DisposalCost: 60, Outcome: &route.Outcome{}, Waste: []econ.PlanWaste{{Class: "acid-metal-liquor", Volume: 3.2, Mass: 3.4, Cost: 60}}}
	hold := econ.PricedPlan{ID: "hold", Ending: "hold", Net: -72, Gain: -12, NetWithoutLabour: -72, DisposalCost: 60, StorageCost: 12, Outcome: &route.Outcome{}}
	blocked := func(id, r, step, reason string, reach []route.Reach) econ.PricedPlan {
		return econ.PricedPlan{ID: id, Routes: []string{r}, Ending: "dispose", Blocked: &route.Block{Route: r, Step: step, Reason: reason}, Outcome: &route.Outcome{Reach: reach}}
	}
	sell := econ.PricedPlan{ID: "sell-as-is", Ending: "sell-as-is", Blocked: &route.Block{Reason: "no buyer of a liquor is entered in the price book", Unreachable: map[string]float64{"Ag": 1}}}
	return []econ.PricedPlan{
		works, dispose, hold, cement,
		blocked("electrolysis-copper+dispose", "electrolysis-copper", "cell", "chlorine would reach about 1.7 ppm at the bench against a limit of 0.5 ppm", reachOf("electrolysis-copper", "Cu", 1, "")),
		blocked("electrolysis-copper+hold", "electrolysis-copper", "cell", "chlorine would reach about 1.8 ppm at the bench against a limit of 0.5 ppm", reachOf("electrolysis-copper", "Cu", 1, "")),
		sell,
	}
}

func testSteps() []route.StepRecord {
	return []route.StepRecord{
		{
			Route: "chloride-oxide-sugar", Step: "salt out", Kind: "add", Title: "Bring the silver down with salt",
			Entries: []route.Entry{
				{Kind: route.HandsOn, Amount: 0.267},
				{Kind: route.Reagent, Item: "sodium-chloride", Amount: 29, Detail: "a fifth more than the silver needs", Why: route.Why{Formula: "m = (1 + excess)·M·n(Ag)", Inputs: input.Set{}.With(1, 3), Sources: []string{"common practice"}, Reason: "more salt makes less silver stay dissolved, up to a point"}},
				{Kind: route.Reagent, Item: "water", Amount: 116, Volume: 0.116, Detail: "to dissolve sodium chloride"},
				{Kind: route.Gas, Item: "NO2", Amount: 9.49e-5},
				{Kind: route.Vessel, Amount: 3.4},
			},
			Reactions: []string{"Ag^+ + Cl^- -> AgCl(s)"}, Stop: "a drop of salt water in the clear liquor gives no cloud",
			Cautions: []route.Caution{{ID: "lightstruck", Severity: "warn", Text: "Light turns the surface to silver and a little chlorine."}},
		},
		{Route: "chloride-oxide-sugar", Step: "filter", Kind: "filter", Title: "Not needed", Skipped: true},
		{
			Route: "chloride-oxide-sugar", Step: "settle", Kind: "settle",
			Entries: []route.Entry{{Kind: route.Elapsed, Amount: 7.27}, {Kind: route.Loss, Item: "Ag", Amount: 0.488, Detail: "fines poured off"}},
			Notes:   []string{"the curd holds about its own mass of liquor"},
		},
	}
}

// fakeJudge stands in for the chemistry: it prices the invented plans by the
// silver price of the book, so that a dear silver turns their order.
func fakeJudge(_ context.Context, w surroundings, _ ground, _ judged, name string, data []byte) (judged, error) {
	doc, err := input.Parse(name, data)
	if err != nil {
		return judged{}, err
	}
	book, err := econ.DecodeBook(doc, new(input.Figures))
	if err != nil {
		return judged{}, err
	}
	a, rows := testAppraisal(), book.Rows(w.today())
	for _, r := range rows {
		if r.Path == "spot.Ag.price" {
			extra := econ.Money(math.Min(r.Value, 1e6) - 30)
			a.Plans[3].Net, a.Plans[3].Gain = a.Plans[3].Net+9*extra, a.Plans[3].Gain+9*extra
		}
	}
	econ.Rank(a.Plans)
	a.Verdict.Plan, a.Verdict.Gain = a.Plans[0].ID, a.Plans[0].Gain
	return judged{appraisal: a, rows: rows, experiment: fakeExperiment{a}, solids: 7.3e-3}, nil
}

// fakeRefine stands in for the draws: invented odds, in two reports.
func fakeRefine(ctx context.Context, a *econ.Appraisal, _ econ.Effort, report func(econ.Progress)) (*econ.Appraisal, error) {
	last := a
	for _, draws := range []int{100, 1000} {
		b := *a
		b.Plans, b.Draws, b.Settled = slices.Clone(a.Plans), draws, draws == 1000
		for i := range b.Plans {
			p := &b.Plans[i]
			if !p.Priced() {
				continue
			}
			size := econ.Money(12 + 17*len(p.Routes))
			p.Odds = &econ.Odds{Draws: draws, P10: p.Net - size*1.3, P50: p.Net - 2.4, P90: p.Net + size, PPositive: 0.5 + float64(p.Gain)/160, PBest: 0.61 / float64(1+3*i), Ahead: 0.15, Equal: i == 1, Fails: 0.02 * float64(i)}
			if p.ID == b.Verdict.Plan {
				b.Verdict.PPositive = &p.Odds.PPositive
			}
		}
		report(econ.Progress{Appraisal: &b, Draws: draws, Most: 10000, Settled: b.Settled})
		last = &b
	}
	return last, ctx.Err()
}

// fakeSense stands in for the Sobol indices.
func fakeSense(ctx context.Context, _ *econ.Appraisal, plan string) (*econ.Sensitivity, error) {
	return &econ.Sensitivity{Plan: plan, SD: 21.7, Others: 0.03, Runs: 400, Drivers: []econ.Driver{
		{Ref: 4, ID: "price/spot.Ag", Kind: econ.OfPrice, First: 0.58, Total: 0.61, Low: 51.2, High: 97.9},
		{Ref: 1, ID: "lot/dissolved[0].mass", Kind: econ.OfLot, First: 0.31, Total: 0.36, Low: -4.1, High: 98.2, Turns: true},
		{Ref: 3, ID: "route/chloride-oxide-sugar/salt out.excess", Kind: econ.OfRoute, First: 0.004, Total: 0.012, Low: 74.1, High: 74.6},
		{Ref: 0, ID: "lot/vessel.liquid", Kind: econ.OfLot, First: -0.001, Total: 0.001, Low: 74.3, High: 74.3},
	}}, ctx.Err()
}

// bench is a model under test with its files.
type bench struct {
	t        *testing.T
	m        model
	bookPath string
}

// newBench makes a model over a lot that is never read by fakeJudge, and a
// price book on disk.
func newBench(t *testing.T, width, height int, change func(*Options)) *bench {
	t.Helper()
	dir := t.TempDir()
	b := &bench{t: t, bookPath: filepath.Join(dir, "prices.toml")}
	if err := os.WriteFile(b.bookPath, []byte(testBook), 0o600); err != nil {
		t.Fatal(err)
	}
	old := time.Now().Add(-time.Hour)
	if err := os.Chtimes(b.bookPath, old, old); err != nil {
		t.Fatal(err)
	}
	o := Options{
		Lot:      File{Name: "strip.toml", Data: []byte("title = \"Contact strip, jars 3 and 4\"\n[vessel]\nliquid = \"3.2 L\"\n")},
		Book:     File{Name: b.bookPath, Path: b.bookPath},
		StateDir: filepath.Join(dir, "state"), Today: today, Output: io.Discard, NoColor: true, Draws: -1,
	}
	if change != nil {
		change(&o)
	}
	b.start(o)
	b.send(tea.WindowSizeMsg{Width: width, Height: height})
	return b
}

func (b *bench) start(o Options) {
	b.t.Helper()
	m, err := newModel(context.Background(), o.withDefaults())
	if err != nil {
		b.t.Fatal(err)
	}
	m.world.judge, m.world.refine, m.world.sense = fakeJudge, fakeRefine, fakeSense
	b.m = m
	b.run(m.start(asEdited, m.log.data()))
	b.t.Cleanup(func() {
		if b.m.keeper != nil {
			_ = b.m.keeper.close(nil)
		}
	})
}

// send gives the model a message and carries out what it asks for.
func (b *bench) send(msg tea.Msg) {
	b.t.Helper()
	next, cmd := b.m.Update(msg)
	b.run(next.(model), cmd)
}

func (b *bench) run(m model, cmd tea.Cmd) {
	b.t.Helper()
	b.m = m
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil, tickedMsg, tea.QuitMsg:
	case tea.BatchMsg:
		for _, c := range msg {
			b.run(b.m, c)
		}
	default:
		if cmds, ok := sequence(msg); ok {
			for _, c := range cmds {
				b.run(b.m, c)
			}
			return
		}
		b.send(msg)
	}
}

// keys presses keys, named as in the key map; a longer word is typed.
func (b *bench) keys(names ...string) {
	b.t.Helper()
	for _, name := range names {
		b.send(press(name))
	}
}

// text types a text into a field.
func (b *bench) text(s string) {
	b.t.Helper()
	for _, r := range s {
		b.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}})
	}
}

var namedKeys = map[string]tea.KeyType{
	"enter": tea.KeyEnter, "esc": tea.KeyEsc, "up": tea.KeyUp, "down": tea.KeyDown, "left": tea.KeyLeft, "right": tea.KeyRight,
	"tab": tea.KeyTab, "shift+tab": tea.KeyShiftTab, "pgup": tea.KeyPgUp, "pgdown": tea.KeyPgDown, "home": tea.KeyHome, "end": tea.KeyEnd,
	"ctrl+c": tea.KeyCtrlC, "ctrl+u": tea.KeyCtrlU, "backspace": tea.KeyBackspace, "ctrl+s": tea.KeyCtrlS,
}

func press(name string) tea.KeyMsg {
	if t, ok := namedKeys[name]; ok {
		return tea.KeyMsg{Type: t}
	}
	if name == " " {
		return tea.KeyMsg{Type: tea.KeySpace, Runes: []rune{' '}}
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(name)}
}

// view is what is on the screen.
func (b *bench) view() string { return b.m.View() }

// book is the price book as it is on disk.
func (b *bench) book() string {
	b.t.Helper()
	data, err := os.ReadFile(b.bookPath)
	if err != nil {
		b.t.Fatal(err)
	}
	return string(data)
}

func sizeMsg(width, height int) tea.WindowSizeMsg {
	return tea.WindowSizeMsg{Width: width, Height: height}
}
