package tui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestSessionNewLot: from nothing to the verdict on one's own lot with at most
// 60 keys and 12 questions; then a value is changed where it stands, and the lot
// saved under a name.
func TestSessionNewLot(t *testing.T) {
	dir := terminalDir(t)
	s := run(t, dir, 80, 24, nil)
	s.until("Describe a new lot", "n describe")
	keys := 0
	press := func(text string) {
		keys += len(text)
		s.write(text)
	}
	press("n")
	s.until("question 1 of 12")
	press("\r")
	press("\r")
	press("90 g\r")
	s.until("question 4 of 12")
	press("sterling 925")
	s.until("understood as sterling 925", "Ag 83")
	press("\r")
	press("nitric acid\r")
	press("110 mL")
	s.until("question 6 of 12", "free acid")
	press("\t")
	s.until("[2 Standings]", "net USD", "* 1 not saved")
	if keys > 60 {
		t.Errorf("%d keys to the verdict", keys)
	}
	s.write("1")
	s.until("[1 Residue]")
	s.write("\t\t")
	s.until("What was said of it", "enter edit")
	s.write("\r")
	s.until("enter accept")
	s.write("\x15")
	s.write("Jar 9\r")
	s.until("* 2 not saved", "Jar 9")
	s.write("s")
	s.until("Save the lot as")
	s.write("jar-9.toml\r")
	s.until("Saved: ")
	s.write("q")
	if code := s.exit(); code != 0 {
		t.Errorf("exit code %d", code)
	}
	s.restored()
	data, err := os.ReadFile(filepath.Join(dir, "jar-9.toml"))
	if err != nil || !strings.Contains(string(data), `title = "Jar 9"`) || !strings.Contains(string(data), `grade = "sterling 925"`) {
		t.Errorf("saved %q, %v", data, err)
	}
	if plans := s.rankOf("jar-9.toml").Plans; len(plans) == 0 {
		t.Error("the command line ranks no plan of the saved lot")
	}
}

// TestSessionSheet: the sheet of the best plan is opened and saved, and what came
// out noted.
func TestSessionSheet(t *testing.T) {
	dir := terminalDir(t)
	s := run(t, dir, 80, 24, []string{"lot.toml"})
	s.until("net USD")
	s.write("b")
	s.until("Bench sheet: ", "Plan: ", "copy")
	s.write("s")
	s.until("Save the bench sheet as")
	s.write("sheet.txt\r")
	s.until("Saved: sheet.txt")
	s.write("n")
	s.until("How long did your hands work on it?", "question 1 of") // the best plan makes no product
	s.write("2 h")
	for _, next := range []string{"question 2 of 3", "question 3 of 3", "[2 Standings]"} {
		s.write("\r")
		s.until(next)
	}
	s.until("[2 Standings]", "Noted in lot.outturn.toml", "net USD")
	s.write("q")
	if code := s.exit(); code != 0 {
		t.Errorf("exit code %d", code)
	}
	data, err := os.ReadFile(filepath.Join(dir, "sheet.txt"))
	if err != nil || !strings.Contains(string(data), "[ ] a. ") || !strings.Contains(string(data), s.rank().Plans[0].ID) {
		t.Errorf("saved %q, %v", data, err)
	}
	if noted, err := os.ReadFile(filepath.Join(dir, "lot.outturn.toml")); err != nil || !strings.Contains(string(noted), "2 h") {
		t.Errorf("noted %q, %v", noted, err)
	}
}
