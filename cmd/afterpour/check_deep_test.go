package main

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"afterpour/econ"
)

// The self-check of a sample lot: all proofs hold, for people and for scripts.
func TestCheckDeep(t *testing.T) {
	path := sampleFile(t)
	text := call(t, "check", "--deep", path).want(t, exitDone).stdout
	for _, want := range []string{"no fault found", "Self-check of", "The figures hold"} {
		if !strings.Contains(text, want) {
			t.Errorf("the text does not say %q:\n%s", want, text)
		}
	}
	for _, line := range strings.Split(text, "\n") {
		if n := len([]rune(line)); n > pageWidth {
			t.Errorf("a line of %d characters: %q", n, line)
		}
	}
	deep, ok := call(t, "check", "--deep", "--json", path).want(t, exitDone).object(t)["deep"].(map[string]any)
	if !ok {
		t.Fatal("the JSON holds no self-check")
	}
	proofs := objects(t, deep, "proofs")
	if len(proofs) < 12 || number(t, deep, "plans") < 10 || deep["result"] == "failed" {
		t.Errorf("%d proofs of %v plans: %v", len(proofs), deep["plans"], deep["result"])
	}
	for _, proof := range proofs {
		flat := strings.Join(strings.Fields(text), " ")
		if proof["result"] == "failed" || !strings.Contains(flat, proof["claim"].(string)) {
			t.Errorf("%v: %v: %v, or the text does not tell of it", proof["id"], proof["result"], proof["found"])
		}
	}
	if plain := call(t, "check", "--json", path).want(t, exitDone).object(t); plain["deep"] != nil {
		t.Error("a check without --deep proves something")
	}
}

// With a wrong book there is nothing to prove.
func TestCheckDeepBadBook(t *testing.T) {
	book := writeFile(t, "book.toml", strings.ReplaceAll(string(econ.DefaultBook()), `price = "30.00 / ozt"`, `price = "30.00 / L"`))
	if got := call(t, "check", "--deep", "--prices", book, sampleFile(t)).want(t, exitInput); !strings.Contains(got.stderr, "book.toml:") {
		t.Errorf("standard error: %s", got.stderr)
	}
	call(t, "check", "--deep", "--prices", "no-such-book.toml", sampleFile(t)).want(t, exitInput)
}

// A failed proof ends the call with 1, a remark does not.
func TestCheckDeepExitCode(t *testing.T) {
	for result, want := range map[econ.Result]int{econ.Proved: exitDone, econ.Noted: exitDone, econ.Failed: exitFailed} {
		d := newDeepJSON("prices.toml", 3, []econ.Proof{
			{ID: "a", Claim: "one", Result: econ.Proved, Text: "x"}, {ID: "b", Claim: "two", Result: result, Text: "y", Found: []string{"z"}}, {ID: "c", Claim: "three", Result: econ.Proved},
		})
		if d.Result != result || exitCode(d.err()) != want {
			t.Errorf("%s: result %s, exit code %d, want %d", result, d.Result, exitCode(d.err()), want)
		}
		var p page
		p.selfcheck(d)
		if text := p.String(); strings.Contains(text, "Do not trust") != (result == econ.Failed) || !strings.Contains(text, "z") {
			t.Errorf("%s:\n%s", result, text)
		}
	}
}

// judged is the appraisal of a lot file with the shipped book.
func judged(t *testing.T, path string) *econ.Appraisal {
	t.Helper()
	p := newProgram(strings.NewReader(""), nil, nil)
	library, err := p.library(p.checkCommand())
	if err != nil {
		t.Fatal(err)
	}
	f, err := p.readFile(t.Context(), path)
	if err != nil {
		t.Fatal(err)
	}
	req, err := p.request(&ranking{library: library, book: file{econ.BookName, econ.DefaultBook()}}, f)
	if err != nil {
		t.Fatal(err)
	}
	a, err := econ.Appraise(t.Context(), req)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func TestAgreement(t *testing.T) {
	for _, path := range sampleFiles(t) {
		proof, err := agree(path, econ.BookName, judged(t, path))
		if err != nil || proof.Result != econ.Proved {
			t.Errorf("%s: %s, %v: %q", filepath.Base(path), proof.Result, err, proof.Found)
		}
	}
}

// Where text and JSON differ in any figure, the comparison says so.
func TestAgreementNotices(t *testing.T) {
	a := judged(t, sampleFile(t))
	text, err := standingsText("x", "y", view{all: true}, a)
	if err != nil {
		t.Fatal(err)
	}
	var p page
	p.detail(a, &a.Plans[0])
	for name, spoil := range map[string]func(*standingsJSON){
		"net":      func(o *standingsJSON) { *o.Plans[0].Net += 0.011 },
		"gain":     func(o *standingsJSON) { *o.Plans[1].Gain *= -1 },
		"labour":   func(o *standingsJSON) { *o.Plans[2].NetWithoutLabour -= 5 },
		"hours":    func(o *standingsJSON) { *o.Plans[0].HandsOnH += 0.11 },
		"elapsed":  func(o *standingsJSON) { *o.Plans[0].ElapsedH *= 2 },
		"a plan":   func(o *standingsJSON) { o.Plans = o.Plans[1:] },
		"verdict":  func(o *standingsJSON) { o.Verdict.Action = "sell as it stands" },
		"reason":   func(o *standingsJSON) { o.Verdict.Why = "for a reason of which the text knows nothing" },
		"baseline": func(o *standingsJSON) { *o.BaselineNet = -1234.56 },
		"metal":    func(o *standingsJSON) { o.Metals[0].ContainedG *= 1.01 },
		"no metal": func(o *standingsJSON) { o.Metals[0].Metal = "Xx" },
		"a line":   func(o *standingsJSON) { o.Plans[0].Lines[0].Amount += 0.02 },
		"a row":    func(o *standingsJSON) { o.Plans[0].Lines = o.Plans[0].Lines[1:] },
	} {
		t.Run(name, func(t *testing.T) {
			object := copyOf(t, a)
			spoil(object)
			var g agreement
			g.standings(text, object)
			g.verdict(text, object)
			g.metals(text, object)
			if len(object.Plans) == len(a.Plans) {
				g.money(p.String(), &object.Plans[0])
			}
			if len(g.found) == 0 {
				t.Error("nothing was noticed")
			}
		})
	}
}

// copyOf is the JSON of an appraisal that shares nothing with it.
func copyOf(t *testing.T, a *econ.Appraisal) *standingsJSON {
	t.Helper()
	var stdout strings.Builder
	if err := (&program{stdout: &stdout}).printJSON(newStandingsJSON("x", "y", a)); err != nil {
		t.Fatal(err)
	}
	object := &standingsJSON{}
	decode(t, stdout.String(), object)
	return object
}

func decode(t *testing.T, text string, into any) {
	t.Helper()
	if err := json.Unmarshal([]byte(text), into); err != nil {
		t.Fatal(err)
	}
}
