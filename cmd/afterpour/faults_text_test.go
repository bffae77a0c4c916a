package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"afterpour/chem/input"
	"afterpour/econ"
)

// thirty are what a hostile file may carry in any of its texts, or a folder in
// its name: what steers a terminal, hides in a text or turns it round, and what
// steers a page of HTML.
var thirty = []string{
	"\x1b[31m", "\x1b[2J\x1b[H", "\x1b]52;c;Zm9v\x07", "\x1b]8;;http://x\x1b\\a", "\x1b]0;title\x07", "\x1b[?1049h", "\x1b[6n", "\x1bPq#0\x1b\\", "\x1b_G\x1b\\", "\x1bc",
	"\u009b31m", "\u009d0;x\u009c", "\u0090q\u009c", "\u0085", "\x07", "\x08\x08\x08", "\x00", "\x7f", "\x0e\x0f", "\r",
	"\u202e", "\u2066", "\u200b", "\u200d", "\ufeff", "\u2028", "\u00ad", "\U000e0041", "\u180e", "<script>alert(1)</script>&amp;\"'",
}

// escaped writes a text as TOML writes it between double quotes.
func escaped(text string) string { return strings.Trim(input.Quote(text), `"`) }

// hostileLot has a payload in every text that a lot may hold. PAYLOAD1, PAYLOAD2 …
// stand for different ones. Invented.
const hostileLot = `title = "aPAYLOAD0b"
declared = ["wPAYLOAD1"]
[vessel]
liquid = "1 L"
[[dissolved]]
what  = "cPAYLOAD2d"
mass  = "50 g"
share = { Cu = "100 %" }
by    = "nitric acid"
[[added]]
what     = "nitric acid"
strength = "68 %"
amount   = "300 mL"
[[measured]]
metal = "Cu"
in    = "liquid"
value = "45 g/L"
by    = "ePAYLOAD3f"
`

// hostileTables are the tables that a book holds besides those of the shipped
// one: their names are texts too.
const hostileTables = `
[reagent."PAYLOAD4"]
pack  = "1 kg"
price = "9.00"
[consumable."PAYLOAD5"]
price = "9.00"
[disposal."PAYLOAD6"]
price = "4.00 / L"
[sale."PAYLOAD7"]
metal   = "Cu"
form    = "cement"
payable = "99 %"
`

// badTexts are files in which the payload stands where it is an error, as a key,
// a word, a quantity, a number or a comment.
var badTexts = []string{
	"title = \"x\"\n\"PAYLOAD0\" = \"PAYLOAD1\"\n",
	"title = \"x\"\n[\"PAYLOAD0\"]\nx = 1\n",
	"title = \"x\"\n[[dissolved]]\nmass = \"1 PAYLOAD0\"\nshare = { \"PAYLOAD1\" = \"8 %\" }\nby = \"PAYLOAD2\"\n",
	"title = \"x\"\n[[dissolved]]\nmass = \"1 g\"\ngrade = \"PAYLOAD0\"\n",
	"title = \"x\"\n[[added]]\nwhat = \"PAYLOAD0\"\namount = \"PAYLOAD1\"\n",
	"title = \"x\"\n[[solid]]\ncompound = \"AgClPAYLOAD0\"\nwet_mass = \"1 g\"\n",
	"title = \"x\"\n[[measured]]\nmetal = \"PAYLOAD0\"\nin = \"PAYLOAD1\"\nvalue = \"1PAYLOAD2 g\"\n",
	"title = \"x\"\nacknowledged = [\"PAYLOAD0\"]\n",
	"title = \"x\" # RAW\nnonsense\n",
	"title = RAW\n",
	"RAW = 1\n",
	"currency = \"PAYLOAD0\"\n[spot.\"PAYLOAD1\"]\nprice = \"PAYLOAD2\"\n",
	"id = \"PAYLOAD0\"\ntitle = \"PAYLOAD1\"\n",
}

// filled puts payloads into a text: the nth place gets the payload n further on.
func filled(text string, first int) string {
	for n := 9; n >= 0; n-- {
		text = strings.ReplaceAll(text, fmt.Sprint("PAYLOAD", n), escaped(thirty[(first+n)%len(thirty)]))
	}
	return strings.ReplaceAll(text, "RAW", thirty[first])
}

// clean fails where anything that a call printed steers a terminal.
func (o outcome) clean(t *testing.T, payload string, args []string) {
	t.Helper()
	for name, text := range map[string]string{"standard output": o.stdout, "standard error": o.stderr} {
		for i, r := range text {
			if r != '\n' && !unicode.IsPrint(r) {
				t.Errorf("payload %q came through %q on %s as %U: %q", payload, args, name, r, text[max(0, i-60):min(len(text), i+20)])
				return
			}
		}
		if strings.Contains(text, "<script>") && strings.Contains(strings.Join(args, " "), "html") {
			t.Errorf("a script came through %q", args)
		}
	}
}

// TestFaultPayloads puts payloads into every text, key and path that the program
// reads, and looks at all that it prints: text, JSON, bench sheets, errors. Each
// place gets three of the thirty payloads, all of them in the long form.
func TestFaultPayloads(t *testing.T) {
	for first := 0; first < len(thirty); first += 10 / rounds(1, 10) {
		payload := thirty[first]
		t.Run(fmt.Sprintf("%02d", first), func(t *testing.T) {
			good := writeFile(t, "good.toml", filled(hostileLot, first))
			book := writeFile(t, "book.toml", filled(string(econ.DefaultBook())+hostileTables, first))
			call(t, "check", good).want(t, exitDone)
			call(t, "prices", "--prices", book).want(t, exitDone)
			for _, args := range [][]string{
				{"check", good},
				{"check", "--json", good},
				{"rank", "--all", good, "--prices", book},
				{"rank", "--json", good, "--prices", book},
				{"sheet", good},
				{"sheet", good, "--format", "markdown"},
				{"sheet", good, "--format", "html"},
				{"sheet", good, "--json"},
				{"prices", "--prices", book},
				{"prices", "--json", "--prices", book},
				{"outturn", good, "--list"},
			} {
				call(t, args...).want(t, exitDone).clean(t, payload, args)
			}
			for _, text := range badTexts {
				bad := writeFile(t, "bad.toml", filled(text, first))
				for _, args := range [][]string{{"check", bad}, {"rank", "--json", bad}, {"prices", "--prices", bad}, {"routes", "--routes", filepath.Dir(bad)}, {"work", "equilibrium", bad}} {
					call(t, args...).clean(t, payload, args)
				}
			}
			hostileRoute(t, payload)
			hostileCalls(t, payload)
			hostilePaths(t, payload, filled(hostileLot, first))
		})
	}
}

// hostileRoute puts a payload into the texts of a route file of the user's own.
func hostileRoute(t *testing.T, payload string) {
	t.Helper()
	text := mustRead(t, filepath.Join(moduleRoot(t), "chem", "route", "routes", "copper-cementation.toml"))
	text = strings.Replace(text, "common practice", "common practice"+escaped(payload), 3)
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		key, value, found := strings.Cut(line, "=")
		switch strings.TrimSpace(key) {
		case "title", "summary", "stop", "note", "out_of_reach":
			if found && strings.HasSuffix(strings.TrimSpace(value), `"`) {
				lines[i] = strings.TrimRight(line, "\" ") + escaped(payload) + `"`
			}
		}
	}
	path := writeFile(t, "copper-cementation.toml", strings.Join(lines, "\n"))
	lot := writeFile(t, "lot.toml", hostileFree)
	dir := filepath.Dir(path)
	call(t, "routes", "--routes", dir).want(t, exitDone)
	for _, args := range [][]string{
		{"routes", "--routes", dir},
		{"routes", "--json", "--routes", dir},
		{"routes", "show", "copper-cementation", "--routes", dir},
		{"rank", lot, "--plan", "copper-cementation+dispose", "--routes", dir},
		{"sheet", lot, "--plan", "copper-cementation+dispose", "--routes", dir, "--format", "html"},
	} {
		call(t, args...).clean(t, payload, args)
	}
}

// hostileFree is a lot with silver, for a route of the user's own. Invented.
const hostileFree = "title = \"x\"\n[vessel]\nliquid = \"1 L\"\n[[dissolved]]\nmass = \"50 g\"\ngrade = \"sterling 925\"\nby = \"nitric acid\"\n[[added]]\nwhat = \"nitric acid\"\nstrength = \"68 %\"\namount = \"100 mL\"\n"

// hostileCalls puts a payload into the words of a call.
func hostileCalls(t *testing.T, payload string) {
	t.Helper()
	word := strings.ReplaceAll(payload, "\x00", "")
	for _, args := range [][]string{
		{word},
		{"rank", "no" + word},
		{"rank", "--" + word},
		{"rank", "x", "--plan", word},
		{"rank", "x", "--seed", word},
		{"check", word},
		{"sheet", "x", "--format", word},
		{"prices", "set", word, word},
		{"prices", "--prices", word},
		{"routes", "show", word},
		{"routes", "--routes", word},
		{"outturn", "x", "--plan", word, word},
		{"work", "mass", "Ag" + word},
		{"work", "balance", word},
		{"work", "yield", "Cu + 2 Ag^+ -> Cu^2+ + 2 Ag", word},
		{"work", "acid", word, word},
		{"work", "deposit", word, "1", "1", "1"},
		{"work", "wash", "--heel", word, "--fill", word},
		{"work", word},
		{"help", word},
		{"completion", word},
	} {
		call(t, args...).clean(t, payload, args)
	}
}

// hostilePaths puts a payload into the names of files and folders that exist.
func hostilePaths(t *testing.T, payload, lot string) {
	t.Helper()
	name := strings.NewReplacer("\x00", "", "/", "").Replace(payload)
	dir := filepath.Join(t.TempDir(), "d"+name)
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Skip("no such name here:", err)
	}
	path, book := filepath.Join(dir, name+"lot.toml"), filepath.Join(dir, "b"+name)
	mustWrite(t, path, lot)
	mustWrite(t, book, string(econ.DefaultBook()))
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(dir, "c"+name))
	for _, args := range [][]string{
		{"check", path},
		{"rank", path, "--prices", book},
		{"rank", "--json", path, "--prices", book},
		{"sheet", path, "--format", "html"},
		{path},
		{"prices", "--prices", book},
		{"prices", "set", "silver", "31 / ozt", "--prices", book},
		{"prices"},
		{"prices", "set", "silver", "31 / ozt"},
		{"rank", dir},
		{"routes", "--routes", path},
		{"routes", "copy", "copper-cementation", filepath.Join(dir, name+"r.toml")},
	} {
		call(t, args...).clean(t, payload, args)
	}
}
