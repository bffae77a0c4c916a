package main

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"afterpour/econ"
)

// everyKey is a lot file that uses every key a figure can stand at. Invented.
const everyKey = `title = "Every figure"
date  = 2026-11-02
lots_per_year = "6"
[vessel]
liquid      = "3.0 L ± 3 %"
temperature = "20 degC ± 1 K"
ph          = "1.6 ± 0.3"
[[dissolved]]
what   = "scrap"
mass   = "216 g ± 0.5 g"
share  = { Ag = "92.5 % ± 0.5 %", Cu = "rest" }
extent = "99 % ± 1 %"
by     = "nitric acid"
[[dissolved]]
mass  = "20 g"
grade = "sterling 925"
by    = "nitric acid"
[[added]]
what     = "nitric acid"
strength = "68 % ± 0.7 %"
amount   = "430 mL ± 2 %"
[[added]]
what     = "sodium chloride"
strength = "99 %"
amount   = "10 g"
[[plated]]
metal     = "Ag"
area      = "850 cm2"
thickness = "12 um ± 5 um"
[[taken]]
metal = "Ag"
mass  = "3.1 g"
[[measured]]
metal = "Ag"
in    = "liquid"
value = "60.0 g/L ± 4 %"
by    = "AAS"
[[titrated]]
of      = "Ag"
sample  = "1.00 mL"
titrant = "0.1000 mol/L"
used    = "5.55 mL ± 0.05 mL"
ratio   = 1
[[titrated]]
of      = "acid"
sample  = "10.00 mL"
titrant = "0.1000 mol/L"
used    = "3.3 mL"
[[solid]]
compound = "AgCl"
wet_mass = "15.0 g ± 0.5 g"
moisture = "32 % ± 4 %"
purity   = "88 % ± 3 %"
`

// nasty are numbers that may stand where a figure is expected.
var nasty = []string{
	"NaN", "nan", "Inf", "-inf", "1e999", "-1e999", "1e308", "-1e308", "1e-308", "1e-999", "-0", "0", "-1", "1e20", "1e-20", "0x1p-2",
	"120", "99999999999999999999", "1_0", "1,234", "1.234.567", "5 ± NaN", "5 ± 1e308", "5 ± -1", "5 ± 500 %", "1..1e308", "5..1", "-5..5", "nan..1", "",
}

// firstNumber finds the number that a quantity begins with.
var (
	firstNumber = regexp.MustCompile(`"([0-9][0-9.]*)[^"]*"`)
	bareNumber  = regexp.MustCompile(`(?m)^[a-z_]+ *= *([0-9]+)$`)
)

// spoilt is a text with one of its numbers replaced.
type spoilt struct {
	what, text string
	line       int
}

// spoiltNumbers replaces each number of a text by each nasty one, in its quotes
// with its unit, and without quotes.
func spoiltNumbers(text string) (list []spoilt) {
	replace := func(at []int, by string) {
		changed := text[:at[0]] + by + text[at[1]:]
		list = append(list, spoilt{fmt.Sprintf("%q for %q", by, text[at[0]:at[1]]), changed, 1 + strings.Count(text[:at[0]], "\n")})
	}
	for _, at := range firstNumber.FindAllStringSubmatchIndex(text, -1) {
		for _, n := range nasty {
			replace(at[2:4], n)
		}
		for _, n := range []string{"nan", "inf", "-inf", "1e308", "-0.0", "true", "[]"} {
			replace(at[:2], n)
		}
	}
	for _, at := range bareNumber.FindAllStringSubmatchIndex(text, -1) {
		for _, n := range []string{"nan", "inf", "-inf", "1e308", "-1", "0", "9223372036854775807"} {
			replace(at[2:4], n)
		}
	}
	return list
}

// TestFaultNumbersOfALot: whatever number stands in a lot, it is refused with its
// place or gives finite figures. The long form tries all through the standings.
func TestFaultNumbersOfALot(t *testing.T) {
	lots := spoiltNumbers(everyKey)
	accepted := 0
	for i, s := range lots {
		path := writeFile(t, "lot.toml", s.text)
		accepted += count(refusedOrFinite(t, s, path, "check", "--json", path))
		if longForm() || i%40 == 0 {
			refusedOrFinite(t, s, path, "rank", "--json", path)
			refusedOrFinite(t, s, path, "rank", path)
		}
	}
	t.Logf("%d numbers tried, %d accepted", len(lots), accepted)
	if accepted == 0 || accepted == len(lots) {
		t.Errorf("%d of %d numbers accepted: the test tries nothing", accepted, len(lots))
	}
}

// TestFaultNumbersOfABook does the same with a price book: some of the numbers in
// the short form, all in the long one.
func TestFaultNumbersOfABook(t *testing.T) {
	all := spoiltNumbers(string(econ.DefaultBook()))
	if !longForm() {
		rand.New(rand.NewPCG(3, 3)).Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
		all = all[:200]
	}
	lot := writeFile(t, "lot.toml", everyKey)
	accepted := 0
	for i, s := range all {
		book := writeFile(t, "book.toml", s.text)
		if !refusedOrFinite(t, s, book, "prices", "--json", "--prices", book) {
			continue
		}
		if accepted++; longForm() || i%20 == 0 {
			refusedOrFinite(t, s, book, "rank", "--json", lot, "--prices", book)
		}
	}
	t.Logf("%d numbers tried, %d accepted", len(all), accepted)
}

// refusedOrFinite calls the program and reports whether it accepted the file.
// callWith looks for NaN and infinities in what it printed.
func refusedOrFinite(t *testing.T, s spoilt, path string, args ...string) bool {
	t.Helper()
	got := call(t, args...)
	asJSON := false
	for _, a := range args {
		asJSON = asJSON || a == "--json"
	}
	switch got.code {
	case exitDone:
		if asJSON && !json.Valid([]byte(got.stdout)) {
			t.Errorf("%s in line %d: no JSON: %s", s.what, s.line, clip(got.stdout))
		}
		return true
	case exitInput:
		said := got.stderr + got.stdout
		at := fmt.Sprintf("%s:%d:", path, s.line)
		if asJSON {
			at = fmt.Sprintf(`"line":%d,`, s.line)
		}
		if !strings.Contains(said, at) {
			t.Errorf("%s in line %d: the message does not say where: %s", s.what, s.line, clip(said))
		}
	default:
		t.Errorf("%s in line %d: exit code %d: %s", s.what, s.line, got.code, clip(got.stderr))
	}
	return false
}

// absurdLots are legal, if nobody would bring them.
var absurdLots = map[string]string{
	"nothing known": "title = \"A jar\"\n",
	"an empty jar":  "title = \"A jar\"\n[vessel]\nliquid = \"0 L\"\n",
	"pure water":    "title = \"A jar\"\n[vessel]\nliquid = \"1 L\"\n[[added]]\nwhat = \"water\"\namount = \"1 L\"\n",
	"no metal":      "title = \"A jar\"\n[vessel]\nliquid = \"1 L\"\n[[added]]\nwhat = \"nitric acid\"\nstrength = \"68 %\"\namount = \"1 L\"\n",
	"none of it":    "title = \"A jar\"\n[vessel]\nliquid = \"1 L\"\n[[measured]]\nmetal = \"Ag\"\nin = \"liquid\"\nvalue = \"0 g/L\"\n",
	"all taken out": "title = \"A jar\"\n[vessel]\nliquid = \"1 L\"\n[[dissolved]]\nmass = \"10 g\"\nshare = { Ag = \"100 %\" }\nby = \"nitric acid\"\n[[taken]]\nmetal = \"Ag\"\nmass = \"10 g\"\n",
	"overdrawn":     "title = \"A jar\"\n[vessel]\nliquid = \"1 L\"\n[[dissolved]]\nmass = \"10 g\"\nshare = { Ag = \"100 %\" }\nby = \"nitric acid\"\n[[taken]]\nmetal = \"Ag\"\nmass = \"20 g\"\n",
	"solid alone":   "title = \"A bag\"\n[[solid]]\ncompound = \"AgCl\"\nwet_mass = \"1 g\"\n",
	"a microlitre":  ofSize("1 uL", "0.07 ug", "0.2 uL"),
	"a millilitre":  ofSize("1 mL", "70 mg", "0.2 mL"),
	"a bucket":      ofSize("10 L", "700 g", "2 L"),
	"a tank":        ofSize("10 m3", "700 kg", "2 m3"),
	"crowded":       ofSize("10 mL", "700 g", "2 L"),
	"drowned":       ofSize("10 m3", "1 mg", "1 mL"),
}

func ofSize(liquid, mass, acid string) string {
	return fmt.Sprintf("title = \"A jar\"\n[vessel]\nliquid = %q\n[[dissolved]]\nmass = %q\ngrade = \"sterling 925\"\nby = \"nitric acid\"\n[[added]]\nwhat = \"nitric acid\"\nstrength = \"68 %%\"\namount = %q\n", liquid, mass, acid)
}

// TestFaultAbsurdLots: empty, tiny and huge lots go through the whole program:
// finite figures, a verdict with its reason, a reason for every blocked plan,
// and all proofs of the self-check.
func TestFaultAbsurdLots(t *testing.T) {
	for name, text := range absurdLots {
		t.Run(name, func(t *testing.T) {
			path := writeFile(t, "lot.toml", text)
			object := call(t, "rank", "--json", path).want(t, exitDone).object(t)
			checkContract(t, object)
			checkVerdict(t, object)
			if printed := call(t, "rank", path).want(t, exitDone).stdout; !strings.Contains(printed, "Verdict: ") {
				t.Errorf("no verdict:\n%s", printed)
			}
			a := judged(t, path)
			for _, proof := range []econ.Proof{econ.Conservation(a), econ.Masses(a), econ.Ledger(a), econ.Sums(a), econ.Standings(a), econ.Finite(a)} {
				if proof.Result != econ.Proved {
					t.Errorf("%s: %s: %q", proof.ID, proof.Result, proof.Found)
				}
			}
		})
	}
}

func checkVerdict(t *testing.T, object map[string]any) {
	t.Helper()
	verdict := object["verdict"].(map[string]any)
	if verdict["action"] == "" || verdict["why"] == "" {
		t.Errorf("verdict %v", verdict)
	}
	for _, plan := range objects(t, object, "plans") {
		if b, ok := plan["blocked"].(map[string]any); ok && b["reason"] == "" {
			t.Errorf("plan %v is blocked without a reason", plan["id"])
		}
	}
}

// absurdBooks are legal too: the shipped book with all its prices of one size.
func absurdBooks(t *testing.T) map[string]string {
	t.Helper()
	price := regexp.MustCompile(`(?m)^((?:price|fee|minimum|freight|rate|electricity|gas|payable) *= *")[0-9.]+`)
	sized := func(number string) string {
		return price.ReplaceAllString(string(econ.DefaultBook()), "${1}"+number)
	}
	return map[string]string{"free": sized("0"), "dear": sized("99"), "tiny": sized("0.000000001"), "bare": "currency = \"USD\"\n"}
}

// TestFaultAbsurdPrices: books where all is free, all is dear or nothing has a
// price give finite standings; a negative net is told as one.
func TestFaultAbsurdPrices(t *testing.T) {
	path := sampleFile(t)
	for name, text := range absurdBooks(t) {
		t.Run(name, func(t *testing.T) {
			book := writeFile(t, "book.toml", text)
			object := call(t, "rank", "--json", path, "--prices", book).want(t, exitDone).object(t)
			checkContract(t, object)
			checkVerdict(t, object)
			lowest := math.Inf(1)
			for _, plan := range objects(t, object, "plans") {
				if net, ok := plan["net"].(float64); ok {
					lowest = math.Min(lowest, net)
				}
			}
			switch {
			case name == "free" && lowest < 0, name == "dear" && !(lowest < 0), name == "bare" && !math.IsInf(lowest, 1):
				t.Errorf("the lowest net is %g", lowest)
			}
			call(t, "rank", path, "--prices", book).want(t, exitDone)
		})
	}
}
