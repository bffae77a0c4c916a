package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"afterpour/chem/store"
	"afterpour/econ"
)

// defaultBook writes the built-in price book to a file.
func defaultBook(t *testing.T) string {
	t.Helper()
	return writeFile(t, "book.toml", string(econ.DefaultBook()))
}

func TestPricesList(t *testing.T) {
	got := call(t, "prices", "--prices", defaultBook(t)).want(t, exitDone)
	for _, want := range []string{"spot.Ag", "30.00 / ozt", "labour"} {
		if !strings.Contains(got.stdout, want) {
			t.Errorf("the list does not show %q:\n%s", want, got.stdout)
		}
	}
	object := call(t, "prices", "--json", "--prices", defaultBook(t)).want(t, exitDone).object(t)
	if len(objects(t, object, "prices")) < 10 {
		t.Errorf("%d prices, want the whole book", len(objects(t, object, "prices")))
	}
}

// TestPricesSet watches that setting a price changes that value and its date,
// and not a byte more.
func TestPricesSet(t *testing.T) {
	book := defaultBook(t)
	before, err := os.ReadFile(book)
	if err != nil {
		t.Fatal(err)
	}
	got := call(t, "prices", "set", "silver", "31.20 / ozt", "--prices", book).want(t, exitDone)
	if !strings.Contains(got.stdout, "30.00 / ozt -> 31.20 / ozt") {
		t.Errorf("standard output: %q", got.stdout)
	}
	after, err := os.ReadFile(book)
	if err != nil {
		t.Fatal(err)
	}
	changed := changedLines(t, string(before), string(after))
	if len(changed) > 2 || len(changed) == 0 || !strings.Contains(changed[0], `"31.20 / ozt"`) {
		t.Errorf("changed lines: %q", changed)
	}
	if len(changed) == 2 && !strings.Contains(changed[1], time.Now().Format(time.DateOnly)) {
		t.Errorf("the date became %q", changed[1])
	}
}

func changedLines(t *testing.T, before, after string) []string {
	t.Helper()
	old, fresh := strings.Split(before, "\n"), strings.Split(after, "\n")
	if len(old) != len(fresh) {
		t.Fatalf("%d lines became %d", len(old), len(fresh))
	}
	var changed []string
	for i := range old {
		if old[i] != fresh[i] {
			changed = append(changed, fresh[i])
		}
	}
	return changed
}

func TestPricesSetRefuses(t *testing.T) {
	book := defaultBook(t)
	before, _ := os.ReadFile(book)
	for name, args := range map[string][]string{
		"unknown name": {"unobtainium", "3.00 / ozt"},
		"wrong unit":   {"silver", "31.20 / L"},
		"negative":     {"--", "silver", "-31.20 / ozt"},
		"NaN":          {"silver", "NaN / ozt"},
		"empty":        {"silver", ""},
		"share":        {"sale.silver-bar", "120 %"},
		"no price":     {"silver"},
	} {
		t.Run(name, func(t *testing.T) {
			got := call(t, append([]string{"prices", "--prices", book, "set"}, args...)...).want(t, exitUsage)
			if got.stdout != "" {
				t.Errorf("standard output: %q", got.stdout)
			}
		})
	}
	if after, _ := os.ReadFile(book); string(after) != string(before) {
		t.Error("a refused price changed the book")
	}
}

// Without a book on disk the first set writes one, and says where; a read
// leaves nothing behind.
func TestPricesStarter(t *testing.T) {
	config := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", config)
	t.Chdir(t.TempDir())
	path := filepath.Join(config, "afterpour", econ.BookName)
	call(t, "prices").want(t, exitDone)
	if _, err := os.Stat(path); err == nil {
		t.Fatal("listing the prices wrote a book")
	}
	got := call(t, "prices", "set", "silver", "31.20 / ozt").want(t, exitDone)
	if !strings.Contains(got.stderr, path) {
		t.Errorf("standard error does not say where: %q", got.stderr)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(changedLines(t, string(econ.DefaultBook()), string(data))); n < 1 || n > 2 {
		t.Errorf("the first book differs from the built-in one in %d lines, want its price and date", n)
	}
	if listed := call(t, "prices").want(t, exitDone); !strings.Contains(listed.stdout, "31.20 / ozt") {
		t.Errorf("the new book is not used:\n%s", listed.stdout)
	}
}

// TestBookOrder: the named book, then the working folder's, then the
// configuration folder's, then the built-in one.
func TestBookOrder(t *testing.T) {
	config, work := t.TempDir(), t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", config)
	t.Chdir(work)
	used := func(args ...string) string {
		name, _ := call(t, append(args, "prices", "--json")...).want(t, exitDone).object(t)["file"].(string)
		return name
	}
	if got := used(); got != builtinBookName {
		t.Errorf("without any book: %q", got)
	}
	own := filepath.Join(config, "afterpour", econ.BookName)
	if err := os.MkdirAll(filepath.Dir(own), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(own, econ.DefaultBook(), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := used(); got != own {
		t.Errorf("with a book in the configuration folder: %q", got)
	}
	if err := os.WriteFile(econ.BookName, econ.DefaultBook(), 0o600); err != nil {
		t.Fatal(err)
	}
	if got := used(); got != econ.BookName {
		t.Errorf("with a book in the working folder: %q", got)
	}
	named := defaultBook(t)
	if got := used("--prices", named); got != named {
		t.Errorf("with a book named: %q", got)
	}
}

// editedWhileRead is a file layer in which somebody else saves the file right
// after it was read.
type editedWhileRead struct {
	store.Layer
	path string
	done bool
}

func (l *editedWhileRead) Lock(path string, wait time.Duration) (func(), error) {
	if !l.done {
		l.done = true
		if err := os.WriteFile(l.path, append(econ.DefaultBook(), "# edited\n"...), 0o600); err != nil {
			return nil, err
		}
	}
	return l.Layer.Lock(path, wait)
}

func TestPricesSetChangedOnDisk(t *testing.T) {
	book := defaultBook(t)
	var stdout, stderr strings.Builder
	p := newProgram(strings.NewReader(""), &stdout, &stderr)
	p.layer = &editedWhileRead{Layer: store.OS, path: book}
	root := p.rootCommand()
	root.SetArgs([]string{"prices", "set", "silver", "31.20 / ozt", "--prices", book})
	if code := p.finish(t.Context(), root.ExecuteContext(t.Context())); code != exitChanged {
		t.Errorf("exit code %d, want %d; stderr %q", code, exitChanged, stderr.String())
	}
	if data, _ := os.ReadFile(book); !strings.HasSuffix(string(data), "# edited\n") {
		t.Error("the other's edit was overwritten")
	}
}

// A broken book is an input error of the call, for people and for scripts.
func TestBrokenBook(t *testing.T) {
	text := string(econ.DefaultBook())
	table := strings.Index(text, "\n[spot.Ag]")
	broken := text[:table] + strings.Replace(text[table:], `"30.00 / ozt"`, `"30.00 / parsec"`, 1)
	book := writeFile(t, "broken.toml", broken)
	for _, args := range [][]string{{"prices"}, {"prices", "set", "silver", "3 / g"}, {"rank", sampleFile(t)}} {
		got := call(t, append(args, "--prices", book)...).want(t, exitInput)
		if !strings.Contains(got.stderr, "broken.toml:") {
			t.Errorf("%q: the message does not name the file: %s", args, got.stderr)
		}
	}
	got := call(t, "rank", "--json", "--prices", book, sampleFile(t)).want(t, exitInput)
	problem := objects(t, got.object(t), "errors")[0]
	if number(t, problem, "line") < 1 || number(t, problem, "column") < 1 || problem["file"] != book {
		encoded, _ := json.Marshal(problem)
		t.Errorf("no place in the file: %s", encoded)
	}
}

// A price table without its price is told with its place in the file.
func TestPriceLeftOut(t *testing.T) {
	text := string(econ.DefaultBook())
	table := strings.Index(text, "\n[spot.Ag]")
	book := writeFile(t, "book.toml", text[:table]+strings.Replace(text[table:], "price = \"30.00 / ozt\"\n", "", 1))
	got := call(t, "rank", "--prices", book, sampleFile(t)).want(t, exitInput)
	want := regexp.MustCompile(`book\.toml:\d+:\d+: spot\.Ag.*price`)
	if !want.MatchString(got.stderr) {
		t.Errorf("standard error: %s", got.stderr)
	}
}

// A price that a plan needs and the book lacks blocks the plan.
func TestMissingPrice(t *testing.T) {
	text := string(econ.DefaultBook())
	start := strings.Index(text, "\n[spot.Ag]")
	end := start + 1 + strings.Index(text[start+1:], "\n[")
	book := writeFile(t, "book.toml", text[:start]+text[end:])
	object := call(t, "rank", "--json", "--prices", book, sampleFile(t)).want(t, exitDone).object(t)
	checkContract(t, object)
	found := false
	for _, plan := range objects(t, object, "plans") {
		if b, ok := plan["blocked"].(map[string]any); ok && strings.Contains(b["reason"].(string), "price") {
			found = true
		}
	}
	if !found {
		t.Error("without a spot price of silver no plan is blocked for a price")
	}
}
