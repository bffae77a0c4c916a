package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"afterpour/chem/lot"

	tea "github.com/charmbracelet/bubbletea"
)

// fromNothing starts a bench as the program does that is called without a file.
func fromNothing(t *testing.T, width, height int) *bench {
	t.Helper()
	name := lot.SampleNames()[0]
	data, err := lot.Sample(name)
	if err != nil {
		t.Fatal(err)
	}
	return newBench(t, width, height, func(o *Options) {
		o.Lot, o.Start = File{Name: "built-in sample lot " + name, Data: data}, true
	})
}

func TestStart(t *testing.T) {
	b := fromNothing(t, 80, 24)
	b.shows("Describe a new lot", "› "+lot.Samples()[0].Title, lot.Samples()[1].Title)
	if b.m.appraisal() == nil {
		t.Error("the sample is not worked out meanwhile")
	}
	runs := b.m.studies[asEdited].run
	b.keys("enter")
	b.shows("[2 Standings]", "net USD")
	if b.m.studies[asEdited].run != runs {
		t.Error("the proposed sample was worked out a second time")
	}
}

func TestStartOthers(t *testing.T) {
	b := fromNothing(t, 80, 24)
	b.keys("end", "enter")
	last := lot.SampleNames()[len(lot.SampleNames())-1]
	if !strings.HasSuffix(b.m.residueFile.name, last) || b.m.dirty() || b.m.cover != nil {
		t.Errorf("opened %q, unsaved %v", b.m.residueFile.name, b.m.dirty())
	}
	want, _ := lot.Sample(last)
	if string(b.m.lotLog.data()) != string(want) {
		t.Error("the lot is another than the sample")
	}
	b = fromNothing(t, 80, 24)
	b.keys("n")
	b.shows("question 1 of 12")
	b = fromNothing(t, 80, 24)
	b.keys("home", "enter")
	b.shows("question 1 of 12")
	b.keys("esc", "esc")
	b.shows("[2 Standings]")
	b = fromNothing(t, 80, 24)
	if _, cmd := b.m.Update(press("q")); cmd == nil {
		t.Error("q does not lead out")
	} else if _, quits := cmd().(tea.QuitMsg); !quits {
		t.Error("q does not lead out")
	}
}

// answered types the answers in the order of the questions.
func (b *bench) answers(texts ...string) {
	b.t.Helper()
	for _, s := range texts {
		b.text(s)
		b.keys("enter")
	}
}

func TestDescribe(t *testing.T) {
	b := fromNothing(t, 80, 24)
	b.keys("n")
	b.answers("Strip, jar 9", "contacts")
	b.text("410 g ± 2 g")
	b.shows("How much of it went in?", "understood as 410 g ± 2 g, about 0.49 %")
	b.keys("enter")
	b.text("Ag 8 % ± 1 %, Cu rest")
	b.shows("Ag 32.8 ± 4.1 g", "Said", "mass     410 g ± 2 g")
	b.keys("enter")
	b.answers("nitric acid", "1.6 L of 68 %", "", "3.2 L ± 5 %", "", "", "", "")
	b.shows("[2 Standings]", "* 1 not saved", "This is your lot now.")
	if title := b.m.ground.lot.Title; title != "Strip, jar 9" {
		t.Errorf("the lot is called %q", title)
	}
	path := filepath.Join(t.TempDir(), "jar-9.toml")
	b.keys("s")
	b.shows("Save the lot as")
	b.text(path)
	b.keys("enter")
	b.shows("Saved: ")
	data, err := os.ReadFile(path)
	if err != nil || !strings.Contains(string(data), "date = 2026-11-25") || !strings.Contains(string(data), `amount = "1.6 L"`) {
		t.Errorf("saved %q, %v", data, err)
	}
}

// TestDescribeMistakes: an answer that cannot be read is said at once and stays
// open; one that another answer made wrong is found at the end.
func TestDescribeMistakes(t *testing.T) {
	b := fromNothing(t, 80, 24)
	b.keys("n", "enter", "enter")
	b.text("410 L")
	b.keys("enter")
	b.shows("question 3 of 12", "! ")
	b.keys("ctrl+u")
	b.text("410 g")
	b.keys("enter")
	b.answers("sterling 925", "nitric acid", "430 mL")
	b.keys("esc", "esc", "ctrl+u")
	b.shows("question 5 of 12", "left blank")
	b.keys("tab")
	b.shows("question 6 of 12", "! it is not said what was used")
	b.keys("ctrl+u", "tab")
	b.shows("[2 Standings]")
}

// TestDescribeBlank: nothing answered is a lot all the same.
func TestDescribeBlank(t *testing.T) {
	b := fromNothing(t, 80, 24)
	b.keys("n", "tab")
	b.shows("[2 Standings]", "* 1 not saved")
	b.keys("u")
	b.hides("not saved")
}

// TestDescribedRecovered: a described lot outlives a crash.
func TestDescribedRecovered(t *testing.T) {
	b := fromNothing(t, 80, 24)
	b.keys("n")
	b.answers("Strip, jar 9")
	b.keys("tab")
	b.m.lotKeeper.release()
	b.m.lotKeeper = nil
	b.crash()
	next := b.again(func(o *Options) {
		o.Lot, o.Start = File{Name: b.m.residueFile.name, Data: b.m.residueFile.data}, true
	})
	next.shows("Unsaved edits of the lot were recovered", "the whole lot, as it was described")
	next.keys("p")
	next.shows("* 1 not saved", "[2 Standings]")
	if title := next.m.ground.lot.Title; title != "Strip, jar 9" {
		t.Errorf("the lot put back is called %q", title)
	}
}
