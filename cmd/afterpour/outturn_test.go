package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"afterpour/econ"
)

const workedPlan = "copper-cementation+dispose"

// workedLot copies the nitrate lot into a folder of its own and returns its path.
func workedLot(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile(lotPath(t, "nitrate-liquor"))
	if err != nil {
		t.Fatal(err)
	}
	return writeFile(t, "strip.toml", string(data))
}

func outturnFile(path string) string { return econ.OutturnName(path) }

// TestOutturn notes a lot, watches what is written and said, and that the next
// estimate uses it until it is told not to.
func TestOutturn(t *testing.T) {
	path := workedLot(t)
	before := number(t, planOf(t, path, workedPlan), "hands_on_h")
	got := call(t, "outturn", path, "--plan", workedPlan, "silver-bar=42.0 g", "fineness=990", "hours=3.5 h", "copper-scrap=16 g", "note=two jars").want(t, exitDone).stdout
	for _, want := range []string{"strip.outturn.toml, entry 1", "41.6 g", "hands-on time", "copper-scrap used", "note: two jars", "Your last lot by copper-cementation"} {
		if !strings.Contains(got, want) {
			t.Errorf("says no %q:\n%s", want, got)
		}
	}
	checkWidth(t, got)
	age(t, outturnFile(path))
	after := number(t, planOf(t, path, workedPlan), "hands_on_h")
	if !(after > before*1.05) {
		t.Errorf("after 3.5 h the next estimate is %g h, before %g h", after, before)
	}
	if alone := number(t, planOf(t, path, workedPlan, "--no-outturns"), "hands_on_h"); alone != before {
		t.Errorf("without outturns the estimate is %g h, before %g h", alone, before)
	}
	if text := call(t, "rank", path).stdout; !strings.Contains(text, "Your last lot by copper-cementation") {
		t.Error("rank does not say what was learned")
	}
	if text := call(t, "sheet", path, "--plan", workedPlan).stdout; !strings.Contains(text, "Your own figures: Your last lot") {
		t.Error("the sheet does not say what was learned")
	}
	// A lot in another folder knows nothing of it.
	if other := number(t, planOf(t, workedLot(t), workedPlan), "hands_on_h"); other != before {
		t.Errorf("in another folder the estimate is %g h", other)
	}
}

// planOf returns one plan of rank --json.
func planOf(t *testing.T, path, id string, flags ...string) map[string]any {
	t.Helper()
	object := call(t, append([]string{"rank", "--json", path}, flags...)...).want(t, exitDone).object(t)
	for _, p := range object["plans"].([]any) {
		if p := p.(map[string]any); p["id"] == id {
			return p
		}
	}
	t.Fatalf("no plan %s", id)
	return nil
}

// TestOutturnKeepsWhatIsThere adds to a file with a comment and without a final line
// end: what was there stays, byte for byte.
func TestOutturnKeepsWhatIsThere(t *testing.T) {
	path := workedLot(t)
	call(t, "outturn", path, "--plan", workedPlan, "silver-bar=42 g").want(t, exitDone)
	old, err := os.ReadFile(outturnFile(path))
	if err != nil {
		t.Fatal(err)
	}
	old = append(old, []byte("# my own remark")...)
	if err := os.WriteFile(outturnFile(path), old, 0o600); err != nil {
		t.Fatal(err)
	}
	age(t, outturnFile(path))
	call(t, "outturn", path, "--plan", workedPlan, "silver-bar=41 g", "--replaces", "1").want(t, exitDone)
	now, err := os.ReadFile(outturnFile(path))
	if err != nil || !strings.HasPrefix(string(now), string(old)) {
		t.Errorf("what was there has changed: %v\n%s", err, now)
	}
	if list := call(t, "outturn", path, "--list").want(t, exitDone).stdout; !strings.Contains(list, "in place of entry 1") || !strings.Contains(list, "entry 2") {
		t.Errorf("the list says\n%s", list)
	}
}

// TestOutturnTogether notes from several programs at once: every entry gets in.
func TestOutturnTogether(t *testing.T) {
	path := workedLot(t)
	var wg sync.WaitGroup
	for who := range 4 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			if got := call(t, "outturn", path, "--plan", workedPlan, fmt.Sprintf("hours=%d h", who+1), fmt.Sprintf("note=by %d", who)); got.code != exitDone {
				t.Errorf("%d: %s", who, got.stderr)
			}
		}()
	}
	wg.Wait()
	age(t, outturnFile(path))
	object := call(t, "outturn", path, "--list", "--json").want(t, exitDone).object(t)
	notes := map[string]bool{}
	for _, e := range object["entries"].([]any) {
		notes[e.(map[string]any)["note"].(string)] = true
	}
	if len(notes) != 4 {
		t.Errorf("of four entries these are there: %v", notes)
	}
}

// TestOutturnQuestioned notes more than the lot can hold.
func TestOutturnQuestioned(t *testing.T) {
	path := workedLot(t)
	got := call(t, "outturn", path, "--plan", workedPlan, "silver-bar=47 g").want(t, exitDone).stdout
	if !strings.Contains(got, "Is it wet?") || !strings.Contains(got, "--confirm --replaces 1") {
		t.Errorf("47 g of 44.4 g are not questioned:\n%s", got)
	}
	age(t, outturnFile(path))
	object := call(t, "outturn", path, "--list", "--json").want(t, exitDone).object(t)
	if learned := object["learned"].([]any)[0].(map[string]any); number(t, learned, "lots") != 0 || number(t, learned, "posterior_mean_ln") != 0 {
		t.Errorf("learned %v", learned)
	}
	call(t, "outturn", path, "--plan", workedPlan, "silver-bar=47 g", "--confirm", "--replaces", "1").want(t, exitDone)
	age(t, outturnFile(path))
	object = call(t, "outturn", path, "--list", "--json").want(t, exitDone).object(t)
	if learned := object["learned"].([]any)[0].(map[string]any); number(t, learned, "lots") != 1 || number(t, learned, "posterior_mean_ln") <= 0 {
		t.Errorf("after confirming learned %v", learned)
	}
}

// TestOutturnCalls: wrong calls and wrong files, each with its code, and nothing
// written.
func TestOutturnCalls(t *testing.T) {
	path := workedLot(t)
	for _, test := range []struct {
		args []string
		code int
		says string
	}{
		{[]string{"outturn"}, exitUsage, "requires at least 1 arg"},
		{[]string{"outturn", "-", "--plan", workedPlan, "silver-bar=41 g"}, exitUsage, "name it"},
		{[]string{"outturn", path, "silver-bar=41 g"}, exitUsage, "--plan"},
		{[]string{"outturn", path, "--plan", workedPlan}, exitUsage, "nothing"},
		{[]string{"outturn", path, "--plan", workedPlan, "silver-bra=41 g"}, exitUsage, `did you mean "silver-bar"?`},
		{[]string{"outturn", path, "--plan", "copper-cementatoin+dispose", "silver-bar=41 g"}, exitUsage, `did you mean "copper-cementation+dispose"?`},
		{[]string{"outturn", path, "--plan", workedPlan, "silver-bar=41 g", "--replaces", "1"}, exitUsage, "holds 0 entries"},
		{[]string{"outturn", path, "--list", "silver-bar=41 g"}, exitUsage, "--list"},
		{[]string{"outturn", "no-such-lot.toml", "--plan", workedPlan, "silver-bar=41 g"}, exitInput, "no-such-lot.toml"},
	} {
		if got := call(t, test.args...); got.code != test.code || !strings.Contains(got.stderr, test.says) {
			t.Errorf("%v: code %d, want %d; says %q, want %q", test.args, got.code, test.code, got.stderr, test.says)
		}
	}
	if _, err := os.Stat(outturnFile(path)); err == nil {
		t.Error("a wrong call has left a file")
	}
	if got := call(t, "outturn", path, "--list").want(t, exitDone).stdout; !strings.Contains(got, "Nothing is noted") {
		t.Errorf("an empty list says %q", got)
	}
}

// TestFaultyOutturns: a faulty file beside the lot stops the estimate with its line, and
// --no-outturns goes on.
func TestFaultyOutturns(t *testing.T) {
	path := workedLot(t)
	bad := filepath.Join(filepath.Dir(path), "old.outturn.toml")
	if err := os.WriteFile(bad, []byte("[[outturn]]\ndate = 2026-11-30\nplan = \"p\"\nsilver = 1\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	age(t, bad)
	got := call(t, "rank", path).want(t, exitInput)
	if !strings.Contains(got.stderr, "old.outturn.toml:4:") || !strings.Contains(got.stderr, "--no-outturns") {
		t.Errorf("says %q", got.stderr)
	}
	call(t, "rank", "--no-outturns", path).want(t, exitDone)
	call(t, "outturn", path, "--plan", workedPlan, "silver-bar=41 g").want(t, exitInput)
	if _, err := os.Stat(outturnFile(path)); err == nil {
		t.Error("with a faulty history an entry was written and not told")
	}
}

// TestOutturnOfHostileTexts: what a note or a file name carries does not steer a terminal.
func TestOutturnOfHostileTexts(t *testing.T) {
	for _, payload := range payloads {
		if strings.ContainsRune(payload, 0) {
			continue // no argument can hold it
		}
		path := workedLot(t)
		out := call(t, "outturn", path, "--plan", workedPlan, "hours=2 h", "note=a"+payload+"b").want(t, exitDone)
		age(t, outturnFile(path))
		list := call(t, "outturn", path, "--list")
		for _, text := range []string{out.stdout, list.stdout, call(t, "outturn", path, "--list", "--json").stdout} {
			if strings.Contains(text, payload) {
				t.Errorf("payload %q came through", payload)
			}
		}
	}
}
