package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode"

	"afterpour/chem/input"
	"afterpour/chem/store"

	"github.com/charmbracelet/x/exp/golden"
)

// badLots are lot files with something wrong, and what the message must say.
var badLots = map[string]struct{ text, want string }{
	"unknown key":       {"title = \"x\"\n[vessel]\nliqiud = \"3 L\"\n", "liquid"},
	"unknown table":     {"title = \"x\"\n[vesel]\nliquid = \"3 L\"\n", "vessel"},
	"wrong unit":        {"title = \"x\"\n[vessel]\nliquid = \"3 kg\"\n", "L"},
	"share over 100 %":  {"title = \"x\"\n[[dissolved]]\nmass = \"10 g\"\nshare = { Ag = \"120 %\" }\nby = \"nitric acid\"\n", "100"},
	"shares over 100 %": {"title = \"x\"\n[[dissolved]]\nmass = \"10 g\"\nshare = { Ag = \"60 %\", Cu = \"60 %\" }\nby = \"nitric acid\"\n", "100"},
	"negative mass":     {"title = \"x\"\n[[dissolved]]\nmass = \"-10 g\"\nshare = { Ag = \"rest\" }\nby = \"nitric acid\"\n", "negative"},
	"NaN":               {"title = \"x\"\n[vessel]\nliquid = \"NaN L\"\n", "finite"},
	"NaN, bare":         {"title = \"x\"\n[vessel]\nliquid = nan\n", "vessel.liquid"},
	"infinite":          {"title = \"x\"\n[vessel]\nliquid = \"1e999 L\"\n", "vessel.liquid"},
	"unknown grade":     {"title = \"x\"\n[[dissolved]]\nmass = \"10 g\"\ngrade = \"unobtainium 925\"\nby = \"nitric acid\"\n", "grade"},
	"unknown element":   {"title = \"x\"\n[[dissolved]]\nmass = \"10 g\"\nshare = { Xx = \"8 %\" }\nby = \"nitric acid\"\n", "Xx"},
	"unknown acid":      {"title = \"x\"\n[[added]]\nwhat = \"phlogistic acid\"\nstrength = \"10 %\"\namount = \"1 L\"\n", "phlogistic"},
	"ambiguous number":  {"title = \"x\"\n[vessel]\nliquid = \"1,234 L\"\n", "1,234"},
	"no title":          {"[vessel]\nliquid = \"3 L\"\n", "title"},
	"wrong type":        {"title = 3\n", "title"},
	"bad date":          {"title = \"x\"\ndate = \"yesterday\"\n", "date"},
	"syntax":            {"title = \"x\n", "title"},
	"trailing escape":   {"title = \"\\", ":1:"},
	"empty file":        {"", "empty"},
	"binary file":       {"\x7fELF\x02\x01\x01\x00\x00\x00", ":1:"},
	"UTF-16":            {"\xff\xfet\x00i\x00t\x00l\x00e\x00", ":1:"},
	"lone CR":           {"title = \"x\"\rdate = 2026-11-02\r", ":1:"},
	"nesting bomb":      {"title = \"x\"\na = " + strings.Repeat("[", 100000) + strings.Repeat("]", 100000) + "\n", "16"},
	"inline bomb":       {"a = " + strings.Repeat("{a = ", 8000) + "1" + strings.Repeat("}", 8000) + "\n", "16"},
	"dotted bomb":       {strings.Repeat("a.", 40000) + "a = 1\n", "8"},
	"table bomb":        {strings.Repeat("[[dissolved]]\n", 70000), "keys"},
	"size bomb":         {strings.Repeat("# nothing\n", 1<<17), "1 MiB"},
}

// TestBadInput: exit 3, file:line:col, a word that helps, within a second.
func TestBadInput(t *testing.T) {
	for name, tc := range badLots {
		t.Run(name, func(t *testing.T) {
			path := writeFile(t, "bad.toml", tc.text)
			for _, command := range []string{"check", "rank"} {
				begun := time.Now()
				got := call(t, command, path).want(t, exitInput)
				if took := time.Since(begun); took > time.Second {
					t.Errorf("%s took %v, want at most a second", command, took)
				}
				if got.stdout != "" || !strings.Contains(got.stderr, "bad.toml") || !strings.Contains(got.stderr, tc.want) {
					t.Errorf("%s: stdout %q, stderr %q, want a message that names the file and %q", command, got.stdout, clip(got.stderr), tc.want)
				}
			}
			checkErrorJSON(t, path)
		})
	}
}

func checkErrorJSON(t *testing.T, path string) {
	t.Helper()
	got := call(t, "rank", "--json", path).want(t, exitInput)
	for _, problem := range objects(t, got.object(t), "errors") {
		for _, key := range []string{"file", "line", "column", "key", "message", "hint"} {
			if _, ok := problem[key]; !ok {
				t.Errorf("the problem has no %q: %v", key, problem)
			}
		}
	}
	if strings.Count(got.stdout, "\n") != 1 {
		t.Errorf("want one object on one line: %q", clip(got.stdout))
	}
}

func clip(text string) string { return text[:min(len(text), 600)] }

// All problems of a file come at once, in its order, each with its line.
func TestAllProblemsAtOnce(t *testing.T) {
	path := writeFile(t, "bad.toml", `title = "Many faults"
[vessel]
liqiud = "3 L"
temperature = "20 kg"

[[dissolved]]
mass = "-10 g"
share = { Ag = "120 %" }

[[added]]
what = "nitric acid"
strength = "68 %"
amount = "NaN L"
`)
	stderr := strings.ReplaceAll(call(t, "check", path).want(t, exitInput).stderr, path, "bad.toml")
	golden.RequireEqual(t, []byte(stderr))
	lines := regexp.MustCompile(`(?m)^bad\.toml:(\d+):\d+: `).FindAllStringSubmatch(stderr, -1)
	for i, want := range []string{"3", "4", "7", "8", "13"} {
		if i >= len(lines) || lines[i][1] != want {
			t.Fatalf("problems on lines %v, want 3 4 7 8 13", lines)
		}
	}
}

// payloads are what a hostile file may carry in any text.
var payloads = []string{
	"\x1b[31m", "\x1b]52;c;Zm9v\x07", "\u009b2J", "\x07", "\x08\x08", "\x00", "\x7f", "\u202e", "\u200b", "\u2066", "\ufeff", "\u2028",
}

// No text of a file reaches the terminal as it is: not in the standings, not in
// messages, not in JSON.
func TestForeignText(t *testing.T) {
	for _, payload := range payloads {
		escaped := ""
		for _, r := range payload {
			escaped += fmt.Sprintf(`\u%04x`, r)
		}
		good := writeFile(t, "good.toml", "title = \"a"+escaped+"b\"\n[vessel]\nliquid = \"1 L\"\n[[measured]]\nmetal = \"Ag\"\nin = \"liquid\"\nvalue = \"5 g/L\"\nby = \"x"+escaped+"\"\n")
		bad := writeFile(t, "bad.toml", "title = \"a\"\n\"k"+escaped+"\" = \"v"+escaped+"\"\n")
		for _, args := range [][]string{
			{"check", good},
			{"rank", good},
			{"rank", "--json", good},
			{"check", bad},
			{"rank", "--json", bad},
			{"rank", "no" + strings.ReplaceAll(payload, "\x00", "") + "lot.toml"},
			{"work", "mass", payload},
			{"prices", "set", payload, payload},
			{payload},
		} {
			got := call(t, args...)
			for _, r := range got.stdout + got.stderr {
				if r != '\n' && !unicode.IsPrint(r) {
					t.Errorf("payload %q came through %q as %U", payload, args[0], r)
					break
				}
			}
		}
	}
}

func TestUnreadableFiles(t *testing.T) {
	for name, path := range map[string]string{"folder": t.TempDir(), "missing": "no-such-lot.toml", "device": "/dev/null"} {
		t.Run(name, func(t *testing.T) {
			begun := time.Now()
			call(t, "rank", path).want(t, exitInput)
			if took := time.Since(begun); took > time.Second {
				t.Errorf("took %v", took)
			}
		})
	}
}

func TestUsage(t *testing.T) {
	for name, args := range map[string][]string{
		"unknown flag": {"rank", "--jsno", "x.toml"}, "no lot": {"rank"}, "misspelt command": {"rnak"},
		"two lots": {"a.toml", "b.toml"}, "negative draws": {"rank", "--draws", "-1", "x.toml"}, "bad seed": {"rank", "--seed", "-1", "x.toml"},
		"unknown set": {"work", "equilibrium", "x.toml", "--set", "none"}, "unknown price command": {"prices", "sett"},
	} {
		t.Run(name, func(t *testing.T) {
			got := call(t, args...).want(t, exitUsage)
			if got.stdout != "" || got.stderr == "" {
				t.Errorf("stdout %q, stderr %q", got.stdout, got.stderr)
			}
		})
	}
}

func TestExitCode(t *testing.T) {
	for name, tc := range map[string]struct {
		err  error
		want int
	}{
		"done": {nil, exitDone}, "failed": {os.ErrPermission, exitFailed}, "usage": {usagef("no"), exitUsage},
		"input": {input.Problems{{Message: "no"}}, exitInput}, "changed": {&store.ChangedError{Path: "x"}, exitChanged},
		"shown": {shown{fmt.Errorf("in: %w", input.Problems{{Message: "no"}})}, exitInput},
	} {
		t.Run(name, func(t *testing.T) {
			if got := exitCode(tc.err); got != tc.want {
				t.Errorf("exitCode(%v) = %d, want %d", tc.err, got, tc.want)
			}
		})
	}
}

// A signal goes before every other reason to end.
func TestSignalCode(t *testing.T) {
	ctx, cancel := context.WithCancelCause(t.Context())
	cancel(signalled{15})
	var stdout, stderr bytes.Buffer
	if code := run(ctx, []string{"rank", sampleFile(t)}, strings.NewReader(""), &stdout, &stderr); code != 143 {
		t.Errorf("exit code %d, want 143", code)
	}
}

func TestPlain(t *testing.T) {
	if got, want := plain(fmt.Errorf("AMPS: units: %q is no number", "x")), `AMPS: "x" is no number`; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
