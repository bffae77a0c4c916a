package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode"

	"afterpour/econ"

	"github.com/charmbracelet/x/ansi"
)

// lotPath is a sample lot of testdata.
func lotPath(t testing.TB, name string) string {
	t.Helper()
	return filepath.Join(moduleRoot(t), "testdata", "lots", name+".toml")
}

func checkWidth(t *testing.T, text string) {
	t.Helper()
	for _, line := range strings.Split(text, "\n") {
		if n := ansi.StringWidth(line); n > pageWidth {
			t.Errorf("a line of %d columns: %q", n, line)
		}
	}
}

// TestSheetHTMLNeedsNothingElse watches that the page calls nothing from outside
// and that its tags close.
func TestSheetHTMLNeedsNothingElse(t *testing.T) {
	page := call(t, "sheet", "--format", "html", "--plan", "chloride-oxide-sugar+neutralise+dispose", lotPath(t, "chloride-settled")).want(t, exitDone).stdout
	for _, outside := range []string{"http:", "https:", "src=", "href=", "url(", "@import", "<script", "javascript:"} {
		if strings.Contains(page, outside) {
			t.Errorf("the page holds %q", outside)
		}
	}
	for _, need := range []string{"@page", "<meta charset", "Content-Security-Policy", "break-inside"} {
		if !strings.Contains(page, need) {
			t.Errorf("the page holds no %q", need)
		}
	}
	checkTags(t, page)
}

// checkTags follows opening and closing tags.
func checkTags(t *testing.T, page string) {
	t.Helper()
	_, body, _ := strings.Cut(page, "</style>")
	var open []string
	for _, m := range regexp.MustCompile(`<(/?)([a-z0-9]+)[^>]*>`).FindAllStringSubmatch(body, -1) {
		if m[1] == "" {
			open = append(open, m[2])
			continue
		}
		if n := len(open); n == 0 || open[n-1] != m[2] {
			if m[2] != "head" && m[2] != "html" {
				t.Fatalf("</%s> closes %v", m[2], open)
			}
			continue
		}
		open = open[:len(open)-1]
	}
	if len(open) > 0 {
		t.Errorf("left open: %v", open)
	}
}

// hostileSheet is a sheet whose every text carries something.
func hostileSheet(text string) *econ.Sheet {
	list := []string{text}
	return &econ.Sheet{
		Lot: text, Plan: text, PlanWords: text, Standing: list, Own: list, Learned: list, Holds: list, Makes: list, First: list, Wear: list,
		Rounding: list, Last: list, Blanks: []econ.SheetBlank{{What: text, Unit: text}},
		Shopping: []econ.SheetSupply{{ID: text, Name: text, Strength: text, Need: text, Have: text, Buy: text, Note: text}},
		Tools:    []econ.SheetTool{{Name: text, For: text}}, Tests: []econ.SheetTest{{Name: text, Take: text, How: text}},
		Steps: []econ.SheetStep{{
			Number: 1, RouteTitle: text, Own: true, Title: text, Cautions: []econ.SheetCaution{{Severity: text, Text: text}},
			Notes: list, Do: list, Signs: list, Stop: text, Checks: []econ.SheetCheck{{What: text, Text: text}},
			Time: econ.SheetTime{Text: text}, Leaves: list, Blanks: []econ.SheetBlank{{What: text, Unit: text}},
		}},
		Left: []econ.SheetLeft{{Name: text, Route: text, Text: text}}, Closing: []econ.SheetCaution{{Severity: text, Text: text}},
	}
}

// TestSheetOfHostileTexts passes markup and control characters through every text
// of a sheet, in every form.
func TestSheetOfHostileTexts(t *testing.T) {
	for _, payload := range append([]string{
		`<script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, "&lt;b&gt;", `[x](javascript:alert(1))`, "`code`", "**bold** _it_ |cell|", "</style>", "# heading",
	}, payloads...) {
		s := hostileSheet("a" + payload + "b")
		for name, write := range sheetFormats {
			got := write(s)
			for _, r := range got {
				if r != '\n' && !unicode.IsPrint(r) {
					t.Errorf("%s: payload %q came through as %U", name, payload, r)
					break
				}
			}
			switch name {
			case "html":
				if _, body, _ := strings.Cut(got, "</style>"); strings.Contains(body, "<script") || strings.Contains(body, "<img") || strings.Contains(got, "<title>a<") {
					t.Errorf("html: payload %q came through", payload)
				}
				checkTags(t, got)
			case "markdown":
				if strings.Contains(got, "<script") || strings.Contains(got, "<img") || regexp.MustCompile("[^\\\\](\\]\\(|`)").MatchString(got) {
					t.Errorf("markdown: payload %q came through", payload)
				}
			case "text":
				checkWidth(t, got)
			}
		}
		if data, err := json.Marshal(newSheetJSON("a"+payload, s)); err != nil || !json.Valid(data) {
			t.Errorf("json of payload %q: %v", payload, err)
		}
	}
}

// TestSheetJSON holds the sheet's figures against those of rank.
func TestSheetJSON(t *testing.T) {
	const plan = "chloride-iron+dispose"
	path := lotPath(t, "chloride-sludge")
	s := call(t, "sheet", "--json", "--plan", plan, path).want(t, exitDone).object(t)
	ranked := call(t, "rank", "--json", path).want(t, exitDone).object(t)
	if number(t, s, "schema_version") != schemaVersion || s["plan"] != plan {
		t.Errorf("schema %v, plan %v", s["schema_version"], s["plan"])
	}
	bar := 0.0
	for _, p := range ranked["plans"].([]any) {
		if p := p.(map[string]any); p["id"] == plan {
			bar = number(t, p["products"].([]any)[0].(map[string]any), "mass_g")
		}
	}
	steps := s["steps"].([]any)
	last := steps[len(steps)-1].(map[string]any)
	check := last["checks"].([]any)[0].(map[string]any)
	if got := number(t, check, "expect_g"); bar <= 0 || !near(got, bar, 1e-9) {
		t.Errorf("the sheet expects a bar of %g g, rank makes %g g", got, bar)
	}
	if low, high := number(t, check, "p10_g"), number(t, check, "p90_g"); !(low < bar && bar < high) {
		t.Errorf("the bar of %g g is not between %g and %g g", bar, low, high)
	}
}

func TestSheetCalls(t *testing.T) {
	path := lotPath(t, "chloride-sludge")
	for _, test := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"sheet"}, exitUsage, "accepts 1 arg"},
		{[]string{"sheet", path, "--format", "pdf"}, exitUsage, "text, markdown or html"},
		{[]string{"sheet", path, "--plan", "chloride-irom+dispose"}, exitUsage, `did you mean "chloride-iron+dispose"?`},
		{[]string{"sheet", path, "--plan", "copper-cementation+dispose"}, exitFailed, "locked"},
		{[]string{"sheet", "no-such-lot.toml"}, exitInput, "no-such-lot.toml"},
	} {
		if got := call(t, test.args...).want(t, test.code); !strings.Contains(got.stderr, test.says) {
			t.Errorf("%v says %q, want %q", test.args, got.stderr, test.says)
		}
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	piped := callWith(t, string(data), "sheet", "-").want(t, exitDone)
	if named := call(t, "sheet", path); piped.stdout != named.stdout {
		t.Error("a lot from standard input gives another sheet")
	}
}

// TestSheetOfOwnRoute copies a route, changes a figure as a user would, and watches
// that the sheet says so at its head and at every step of it.
func TestSheetOfOwnRoute(t *testing.T) {
	path := filepath.Join(t.TempDir(), "iron.toml")
	call(t, "routes", "copy", "chloride-iron", path).want(t, exitDone)
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	changed := strings.Replace(string(text), `hands_on  = { value = "30 min"`, `hands_on  = { value = "90 min"`, 1)
	if changed == string(text) {
		t.Fatal("the route has no such figure to change")
	}
	if err := os.WriteFile(path, []byte(changed), 0o600); err != nil {
		t.Fatal(err)
	}
	age(t, path)
	got := call(t, "sheet", "--routes", filepath.Dir(path), "--plan", "chloride-iron+dispose", lotPath(t, "chloride-sludge")).want(t, exitDone).stdout
	words := strings.Join(strings.Fields(got), " ")
	if !strings.Contains(words, "The route chloride-iron is your own") || strings.Count(words, "(your own route)") < 5 {
		t.Errorf("the sheet does not say that the route is the user's own:\n%s", got)
	}
	if plain := call(t, "sheet", "--plan", "chloride-iron+dispose", lotPath(t, "chloride-sludge")).stdout; strings.Contains(plain, "your own route") {
		t.Error("the sheet of a built-in route calls it the user's own")
	}
}
