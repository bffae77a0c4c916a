package tui

import (
	"bytes"
	"encoding/base64"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"afterpour/econ"
)

// testSheet is a sheet made up for the page alone.
func testSheet() *econ.Sheet {
	return &econ.Sheet{
		Lot: "Contact strip, jars 3 and 4", LotDate: time.Date(2026, 11, 2, 0, 0, 0, 0, time.UTC),
		Plan: "chloride-oxide-sugar+dispose", PlanWords: "chloride-oxide-sugar; dispose of the rest",
		Standing: []string{"net 14.30 USD, gain 74.30 USD over leaving the lot as it is"},
		First:    []string{"Open the window and keep it open."}, Wear: []string{"Goggles and gloves from the first step to the last."},
		Makes:    []string{"about 31 g of silver, 997 fine"},
		Shopping: []econ.SheetSupply{{Name: "sodium chloride", Strength: "99.5 %", Need: "29 g", Have: "none", Buy: "1 pack of 1 kg"}},
		Steps: []econ.SheetStep{
			{
				Number: 1, RouteTitle: "Chloride, oxide, sugar", Title: "Bring the silver down with salt",
				Cautions: []econ.SheetCaution{{Severity: "caution", Text: "Light turns the surface to silver."}},
				Do:       []string{"Dissolve 29 g of sodium chloride in 116 mL of water.", "Pour it in with stirring."},
				Stop:     "a drop of salt water in the clear liquor gives no cloud",
				Checks:   []econ.SheetCheck{{What: "dry chloride", Text: "about 43 g (41 to 44 g in eight lots of ten)"}},
				Blanks:   []econ.SheetBlank{{What: "dry chloride", Unit: "g"}},
			},
			{Number: 2, Title: "Let it settle", Do: []string{"Leave it until the liquor is clear, 2 to 12 h."}},
		},
		Last: []string{"Wash the bench."}, Blanks: []econ.SheetBlank{{What: "silver", Unit: "g"}},
	}
}

// sheetOpen opens the page of a sheet from the plan, and hands it the sheet.
func (b *bench) sheetOpen() {
	b.t.Helper()
	b.keys("enter", "b")
	b.send(sheetMadeMsg{run: b.m.sheetRun, sheet: testSheet()})
}

// onSheet starts a bench on a sheet; what is copied goes to out.
func onSheet(t *testing.T, out io.Writer) *bench {
	t.Helper()
	b := newBench(t, 80, 24, func(o *Options) { o.Output = out })
	b.sheetOpen()
	return b
}

func TestSheet(t *testing.T) {
	b := onSheet(t, io.Discard)
	b.shows("Bench sheet: chloride-oxide-sugar+dispose", "Before you begin")
	b.keys("tab", "tab", "tab", "tab", "tab", "tab")
	b.shows("1. Bring the silver down with salt", "! CAUTION Light", "[ ] a. Dissolve 29 g")
	b.keys("esc")
	b.shows("[4 Plan]")
	b.keys("2", "b")
	b.shows("Bench sheet: ")
}

// TestSheetTicks: what is done stays ticked when the page is left and opened
// again, and can be taken back.
func TestSheetTicks(t *testing.T) {
	b := onSheet(t, io.Discard)
	tickFirst := func() {
		s := b.m.cover.(sheet)
		s.roll = s.roll.upTo(actionKey + "1")
		b.m.cover = s
		b.keys(" ")
	}
	tickFirst()
	b.shows("[x] a. Dissolve", "[ ] b. Pour")
	b.keys("esc", "2")
	b.sheetOpen()
	if s := b.m.cover.(sheet); !strings.Contains(s.text(b.m), "[x] a. Dissolve") {
		t.Error("the tick was lost")
	}
	tickFirst()
	if s := b.m.cover.(sheet); strings.Contains(s.text(b.m), "[x]") {
		t.Error("the tick cannot be taken back")
	}
}

func TestSheetSaved(t *testing.T) {
	b := onSheet(t, io.Discard)
	path := filepath.Join(t.TempDir(), "sheet.txt")
	b.keys("s")
	b.text(path)
	b.keys("enter")
	b.shows("Saved: ", "Bench sheet: ")
	data, err := os.ReadFile(path)
	if err != nil || !strings.HasPrefix(string(data), "Bench sheet: Contact strip, jars 3 and 4\n") {
		t.Errorf("saved %q, %v", data, err)
	}
	for _, row := range strings.Split(string(data), "\n") {
		if len([]rune(row)) > textWidth {
			t.Errorf("a row of %d: %q", len([]rune(row)), row)
		}
	}
	b.keys("s")
	b.text(path)
	b.keys("enter")
	b.shows("Not saved")
}

// TestSheetCopied: the copy that goes to the terminal is the text of the sheet.
func TestSheetCopied(t *testing.T) {
	var out bytes.Buffer
	b := onSheet(t, &out)
	b.keys("y")
	b.shows("Sent to the terminal")
	_, coded, _ := strings.Cut(out.String(), "\x1b]52;c;")
	coded, _, _ = strings.Cut(coded, "\x07")
	got, err := base64.StdEncoding.DecodeString(coded)
	if want := b.m.cover.(sheet).text(b.m); err != nil || string(got) != want {
		t.Errorf("sent %q, %v; want %q", got, err, want)
	}
}

// TestSheetNotMade: what keeps a sheet from being made is said; a sheet of an
// earlier page is dropped; a blocked plan has none.
func TestSheetNotMade(t *testing.T) {
	b := newBench(t, 80, 24, nil)
	b.keys("enter", "b")
	b.shows("There is no sheet") // the invented plans were never worked out
	b.send(sheetMadeMsg{run: b.m.sheetRun - 1, sheet: testSheet()})
	b.hides("Before you begin")
	b.send(sheetMadeMsg{run: b.m.sheetRun, err: errors.New("too dark")})
	b.shows("There is no sheet: too dark")
	b.keys("esc", "2", "end", "b")
	if b.m.cover != nil {
		t.Error("a blocked plan opens a sheet")
	}
}
