package main

import (
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"afterpour/chem/input"
	"afterpour/chem/store"
	"afterpour/econ"
)

// settle makes a file look as if nobody had written to it for a minute, so that
// reading it does not wait.
func settle(t testing.TB, path string) {
	t.Helper()
	past := time.Now().Add(-time.Minute)
	if err := os.Chtimes(path, past, past); err != nil {
		t.Fatal(err)
	}
}

// brokenLayer is the file system of the machine, except that one operation fails.
type brokenLayer struct {
	store.Layer
	failAt int
	ops    []string
}

var errBroken = errors.New("the disk has a fault")

func (l *brokenLayer) fails(op string) bool {
	l.ops = append(l.ops, op)
	return len(l.ops) == l.failAt
}

func (l *brokenLayer) CreateExcl(path string, mode fs.FileMode) (store.File, error) {
	if l.fails("create") {
		return nil, errBroken
	}
	f, err := l.Layer.CreateExcl(path, mode)
	return &brokenFile{f, l}, err
}

func (l *brokenLayer) Rename(from, to string) error {
	if l.fails("rename") {
		return errBroken
	}
	return l.Layer.Rename(from, to)
}

func (l *brokenLayer) SyncDir(dir string) error {
	if l.fails("sync folder") {
		return errBroken
	}
	return l.Layer.SyncDir(dir)
}

func (l *brokenLayer) Lock(path string, wait time.Duration) (func(), error) {
	if l.fails("lock") {
		return nil, errBroken
	}
	return l.Layer.Lock(path, wait)
}

type brokenFile struct {
	store.File
	layer *brokenLayer
}

func (f *brokenFile) Write(p []byte) (int, error) {
	if f.layer.fails("write") {
		n, _ := f.File.Write(p[:len(p)/2])
		return n, errBroken
	}
	return f.File.Write(p)
}

func (f *brokenFile) Chmod(mode fs.FileMode) error {
	if f.layer.fails("chmod") {
		return errBroken
	}
	return f.File.Chmod(mode)
}

func (f *brokenFile) Sync() error {
	if f.layer.fails("sync") {
		return errBroken
	}
	return f.File.Sync()
}

func (f *brokenFile) Close() error {
	err := f.File.Close()
	if f.layer.fails("close") {
		return errBroken
	}
	return err
}

// setPriceOn sets the price of silver in a book through a file layer.
func setPriceOn(t *testing.T, layer store.Layer, book, price string) (code int, stdout, stderr string) {
	t.Helper()
	var out, errOut strings.Builder
	p := newProgram(strings.NewReader(""), &out, &errOut)
	p.layer = layer
	root := p.rootCommand()
	root.SetArgs([]string{"prices", "set", "silver", price, "--prices", book})
	code = p.finish(t.Context(), root.ExecuteContext(t.Context()))
	return code, out.String(), errOut.String()
}

// TestFaultOfEachOperation lets every operation of `prices set` fail in turn:
// the book is whole, the message names it, and nothing is left beside it.
func TestFaultOfEachOperation(t *testing.T) {
	seen := map[string]bool{}
	for n := 1; ; n++ {
		dir := t.TempDir()
		book := filepath.Join(dir, "prices.toml")
		mustWrite(t, book, string(econ.DefaultBook()))
		layer := &brokenLayer{Layer: store.OS, failAt: n}
		code, stdout, stderr := setPriceOn(t, layer, book, "31.20 / ozt")
		if len(layer.ops) < n {
			break
		}
		op := layer.ops[n-1]
		seen[op] = true
		saved := strings.Contains(mustRead(t, book), "31.20 / ozt")
		if !saved && mustRead(t, book) != string(econ.DefaultBook()) {
			t.Errorf("fault at %s: the book is neither the old nor the new one", op)
		}
		if code != exitFailed || !strings.Contains(stderr, "prices.toml") {
			t.Errorf("fault at %s: exit code %d, standard error %q", op, code, stderr)
		}
		if saved != (stdout != "") || saved != (op == "sync folder") {
			t.Errorf("fault at %s: saved %t, standard output %q", op, saved, stdout)
		}
		for _, name := range entries(t, dir) {
			if name != "prices.toml" && name != "prices.toml~" {
				t.Errorf("fault at %s: %q is left", op, name)
			}
		}
	}
	for _, op := range []string{"lock", "create", "write", "chmod", "sync", "close", "rename", "sync folder"} {
		if !seen[op] {
			t.Errorf("nothing failed at %s", op)
		}
	}
}

func entries(t *testing.T, dir string) []string {
	t.Helper()
	list, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range list {
		names = append(names, e.Name())
	}
	return names
}

// TestFaultPlaces: a book in a folder that vanished, that is write-protected, or
// that is no folder at all is told of, and nothing else appears.
func TestFaultPlaces(t *testing.T) {
	dir := t.TempDir()
	book := filepath.Join(dir, "prices.toml")
	mustWrite(t, book, string(econ.DefaultBook()))
	if err := os.Chmod(book, 0o400); err != nil {
		t.Fatal(err)
	}
	if code, _, stderr := setPriceOn(t, store.OS, book, "31.20 / ozt"); code != exitFailed || !strings.Contains(stderr, "write-protected") {
		t.Errorf("a write-protected book: exit code %d, %q", code, stderr)
	}
	for _, path := range []string{filepath.Join(dir, "gone", "prices.toml"), filepath.Join(book, "prices.toml"), dir} {
		if code, _, stderr := setPriceOn(t, store.OS, path, "31.20 / ozt"); code != exitInput || stderr == "" {
			t.Errorf("%s: exit code %d, %q", path, code, stderr)
		}
	}
	if got := entries(t, dir); len(got) != 1 || mustRead(t, book) != string(econ.DefaultBook()) {
		t.Errorf("the folder holds %q", got)
	}
}

// commented makes a book out of the shipped one that no two people would write
// alike: comments, blank lines and spaces all over, in one of four forms.
func commented(random *rand.Rand) string {
	var b strings.Builder
	b.WriteString([]string{"", "# ⚗ my book\n", "\n\n", "\t\n#\n"}[random.IntN(4)])
	for line := range strings.Lines(string(econ.DefaultBook())) {
		line = strings.TrimSuffix(line, "\n")
		if line != "" && random.IntN(4) == 0 {
			line += strings.Repeat(" ", random.IntN(5)) + fmt.Sprintf("  # a remark: [spot.Ag] price = \"%d.00 / ozt\", é 漢", random.IntN(100))
		}
		if random.IntN(8) == 0 {
			line = strings.Repeat(" ", random.IntN(4)) + line
		}
		b.WriteString(line + "\n" + strings.Repeat("\n", random.IntN(10)/9))
		if random.IntN(20) == 0 {
			b.WriteString("# [spot.Ag]\n#price = \"1.00 / g\"\n")
		}
	}
	text := b.String()
	if random.IntN(2) == 0 {
		text = strings.ReplaceAll(text, "\n", "\r\n")
	}
	if random.IntN(2) == 0 {
		text = "\ufeff" + text
	}
	if random.IntN(2) == 0 {
		text = strings.TrimRight(text, "\r\n")
	}
	return text
}

// silverPrice and silverDate are the two values that setting the price of silver
// may change.
var (
	silverTable = regexp.MustCompile(`(?m)^ *\[spot\.Ag\]`)
	silverPrice = regexp.MustCompile(`(?m)^ *price *= *"([^"]*)"`)
	silverDate  = regexp.MustCompile(`(?m)^ *date *= *([0-9-]*)`)
)

// expected replaces the price of silver and its date by hand.
func expected(t *testing.T, text, price, date string) string {
	t.Helper()
	table := silverTable.FindStringIndex(text)
	if table == nil {
		t.Fatal("the book has no price of silver")
	}
	for _, edit := range []struct {
		where *regexp.Regexp
		value string
	}{{silverPrice, price}, {silverDate, date}} {
		at := edit.where.FindStringSubmatchIndex(text[table[1]:])
		if at == nil {
			t.Fatalf("the table has no %s", edit.where)
		}
		text = text[:table[1]+at[2]] + edit.value + text[table[1]+at[3]:]
	}
	return text
}

// TestFaultOnePriceInManyBooks sets one price in 200 commented books with LF or
// CRLF, with and without byte order mark and final line end: every other byte
// stays.
func TestFaultOnePriceInManyBooks(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 7))
	today := time.Now().Format(time.DateOnly)
	dir := t.TempDir()
	for n := range 200 {
		text := commented(random)
		book := filepath.Join(dir, fmt.Sprintf("book%d.toml", n))
		mustWrite(t, book, text)
		price := fmt.Sprintf("%d.%02d / ozt", 20+n, n%100)
		if code, _, stderr := setPriceOn(t, unhurried{store.OS}, book, price); code != exitDone {
			t.Fatalf("book %d: exit code %d: %s", n, code, stderr)
		}
		if got, want := mustRead(t, book), expected(t, text, price, today); got != want {
			t.Fatalf("book %d differs in more than the price and its date:\n%q\n%q", n, got, want)
		}
	}
}

// TestFaultLoadChangeSaveLoad reads a book, changes any of its prices, saves and
// reads it again: the book is the same but for that price and its date. 10,000
// cases in the long form.
func TestFaultLoadChangeSaveLoad(t *testing.T) {
	rows := bookOf(t, econ.DefaultBook()).Rows(time.Now())
	path := filepath.Join(t.TempDir(), "prices.toml")
	mustWrite(t, path, string(econ.DefaultBook()))
	cases := 0
	for cases < rounds(100, 10_000) {
		rapid.Check(t, func(r *rapid.T) {
			cases++
			row := rapid.SampledFrom(rows).Draw(r, "row")
			price := drawPrice(r, row)
			day := time.Date(2026, 1, 1+rapid.IntRange(0, 3000).Draw(r, "day"), 0, 0, 0, 0, time.UTC)
			changeAndCompare(r, path, row, price, day)
		})
	}
	t.Logf("%d cases", cases)
}

// drawPrice draws a text that the row's price may have.
func drawPrice(r *rapid.T, row econ.Row) string {
	number := fmt.Sprintf("%.*f", rapid.IntRange(0, 4).Draw(r, "decimals"), rapid.Float64Range(0, 99).Draw(r, "value"))
	doubt := rapid.SampledFrom([]string{"", " ± 5 %", " ± 1"}).Draw(r, "doubt")
	_, unit, per := strings.Cut(row.Text, "/")
	switch {
	case strings.Contains(row.Text, "%"):
		return number + " %"
	case per:
		return number + rapid.SampledFrom([]string{" / ", "/"}).Draw(r, "slash") + strings.TrimSpace(unit)
	}
	return number + doubt
}

func changeAndCompare(r *rapid.T, path string, row econ.Row, price string, day time.Time) {
	before, err := store.Read(unhurried{store.OS}, path)
	if err != nil {
		r.Fatal(err)
	}
	doc, err := input.Parse(path, before.Data)
	if err != nil {
		r.Fatal(err)
	}
	edited, change, err := econ.SetPrice(doc, row.Path, price, day)
	if err != nil {
		r.Fatalf("%s = %q: %v", row.Path, price, err)
	}
	if _, err := store.Save(unhurried{store.OS}, before, edited); err != nil {
		r.Fatal(err)
	}
	after, err := store.Read(unhurried{store.OS}, path)
	if err != nil {
		r.Fatal(err)
	}
	was, is := bookOf(r, before.Data).Rows(day), bookOf(r, after.Data).Rows(day)
	if len(was) != len(is) {
		r.Fatalf("%d prices became %d", len(was), len(is))
	}
	for i := range was {
		same := was[i].ID == is[i].ID && was[i].Text == is[i].Text
		if is[i].ID == row.ID {
			same = was[i].ID == is[i].ID && is[i].Text == price && change.New == price
		}
		if !same {
			r.Fatalf("%s = %q: %s was %q and is %q", row.Path, price, was[i].ID, was[i].Text, is[i].Text)
		}
	}
}

// unhurried is the file system for tests in which nobody else writes and no
// power fails: it neither waits for a file to settle nor, in the short form,
// for the disk.
type unhurried struct{ store.Layer }

func (unhurried) Sleep(time.Duration) {}

func (l unhurried) CreateExcl(path string, mode fs.FileMode) (store.File, error) {
	f, err := l.Layer.CreateExcl(path, mode)
	if err != nil || longForm() {
		return f, err
	}
	return unsynced{f}, nil
}

func (l unhurried) SyncDir(dir string) error {
	if longForm() {
		return l.Layer.SyncDir(dir)
	}
	return nil
}

type unsynced struct{ store.File }

func (unsynced) Sync() error { return nil }

func bookOf(t interface{ Fatal(...any) }, data []byte) *econ.Book {
	doc, err := input.Parse(econ.BookName, data)
	if err != nil {
		t.Fatal(err)
	}
	book, err := econ.DecodeBook(doc, &input.Figures{})
	if err != nil {
		t.Fatal(err)
	}
	return book
}
