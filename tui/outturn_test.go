package tui

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/units"
	"afterpour/econ"
)

// testExpectation is what an invented plan should give.
func testExpectation() *econ.Expectation {
	silver := econ.ExpectedProduct{
		Route: "chloride-oxide-sugar", Sale: "silver-bar", Form: "bar", Metal: "Ag", Mass: 31 * units.Gram, Fineness: 997,
		MetalMass: units.NormalDist(0.0309, 0.004), Contained: units.NormalDist(0.0328, 0.0041),
	}
	return &econ.Expectation{
		Plan: "chloride-oxide-sugar+dispose", Products: []econ.ExpectedProduct{silver}, HandsOnH: 2.5, ElapsedH: 30,
		Shares: []econ.OutturnShare{{Route: "chloride-oxide-sugar", Share: 1}},
	}
}

// outturnOpen opens the page from the sheet of a lot on disk and hands it what
// was expected.
func outturnOpen(t *testing.T, width, height int) (*bench, string) {
	t.Helper()
	b, path := lotOnDisk(t)
	b.send(sizeMsg(width, height))
	b.sheetOpen()
	b.keys("n")
	b.send(expectedMsg{run: b.m.sheetRun, expected: testExpectation()})
	return b, path
}

func entries(t *testing.T, lotPath string) []econ.Outturn {
	t.Helper()
	path := econ.OutturnName(lotPath)
	data, err := os.ReadFile(path)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		t.Fatal(err)
	}
	doc, err := input.Parse(path, data)
	if err != nil {
		t.Fatal(err)
	}
	list, err := econ.DecodeOutturns(doc)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func TestOutturnNoted(t *testing.T) {
	b, path := outturnOpen(t, 100, 30)
	b.shows("How much silver bar came out, dry?", "expected  31 g", "question 1 of 5")
	b.answers("29.5 g", "985")
	b.shows("expected  2.5", "29.5 g")
	runs := b.m.studies[asEdited].run
	b.answers("3 h", "", "went well")
	b.shows("Noted in ")
	list := entries(t, path)
	if len(list) != 1 || len(list[0].Products) != 1 || list[0].Products[0].Fineness != 985 || list[0].HandsOn == nil || list[0].Note != "went well" || list[0].Confirmed {
		t.Errorf("noted %+v", list)
	}
	if len(b.m.ground.history) != 1 || b.m.studies[asEdited].run == runs {
		t.Error("the figures do not learn from it")
	}
	if read(t, path) != saidLot || b.m.dirty() {
		t.Error("noting an outturn changed the lot")
	}
}

func TestOutturnMistakes(t *testing.T) {
	b, path := outturnOpen(t, 100, 30)
	b.text("29.5 L")
	b.keys("enter")
	b.shows("! ", "question 1 of 5")
	b.keys("ctrl+u")
	b.answers("", "", "", "", "")
	b.shows("nothing is noted yet")
	b.keys("esc", "esc", "esc", "esc", "esc")
	if b.m.cover != nil || entries(t, path) != nil {
		t.Error("esc does not lead back, or noted something")
	}
}

// TestOutturnBeyond: more than the lot holds is asked about, and marked if it is
// so.
func TestOutturnBeyond(t *testing.T) {
	b, path := outturnOpen(t, 100, 30)
	b.answers("50 g", "", "", "", "")
	b.shows("More than the lot can hold", "Is it wet?")
	b.keys("esc")
	if entries(t, path) != nil {
		t.Error("noted although it was not confirmed")
	}
	b.keys("enter", "c")
	if list := entries(t, path); len(list) != 1 || !list[0].Confirmed {
		t.Errorf("noted %+v", list)
	}
}

// TestOutturnNeedsFile: an outturn of a lot without a file has no place.
func TestOutturnNeedsFile(t *testing.T) {
	b := newBench(t, 100, 30, nil)
	b.sheetOpen()
	b.keys("n")
	b.shows("save the lot first")
}

// TestOutturnExpected: what is expected of a real lot is worked out, from its
// text as it is now and without what was learned.
func TestOutturnExpected(t *testing.T) {
	data, err := os.ReadFile("../testdata/lots/sterling-parting.toml")
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "lot.toml")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	b := newBench(t, 100, 30, func(o *Options) { o.Lot = File{Name: path, Path: path} })
	b.m.world.judge = judge
	b.m.book.data = econ.DefaultBook()
	b.m.log = newEditLog(b.m.book.data)
	b.run(b.m.startAnew(asEdited, b.m.log.data()))
	b.keys("b", "n")
	o, open := b.m.cover.(outturn)
	if !open || o.expected == nil || len(o.asks) < 4 || !strings.Contains(o.asks[0].expected, "g") {
		t.Errorf("asks %v, problem %q", o.asks, o.problem)
	}
	if got := b.m.View(); !strings.Contains(got, "question 1 of ") {
		t.Errorf("the page shows\n%s", got)
	}
}
