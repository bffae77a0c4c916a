package route

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"afterpour/chem/input"
	"afterpour/chem/lot"
	"afterpour/chem/store"
)

// folder writes files into a new folder and returns it.
func folder(t testing.TB, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		hourAgo := time.Now().Add(-time.Hour) // a file just written is read twice, with a pause
		if err := os.Chtimes(path, hourAgo, hourAgo); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// textOf is a built-in route's text with one thing changed.
func textOf(t testing.TB, id, old, fresh string) string {
	t.Helper()
	text, err := builtinRoute(t, id)
	if err != nil {
		t.Fatal(err)
	}
	changed := strings.Replace(text, old, fresh, 1)
	if changed == text && old != fresh {
		t.Fatalf("%s does not hold %q", id, old)
	}
	return changed
}

// onSample is a job on a sample lot with the figures of a library.
func onSample(t testing.TB, lib *Library, name string) Job {
	t.Helper()
	text, err := lot.Sample(name)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := input.Parse(name, text)
	if err != nil {
		t.Fatal(err)
	}
	figs := lib.Figures().Clone()
	l, err := lot.Decode(doc, figs)
	if err != nil {
		t.Fatal(err)
	}
	m, err := l.Model(figs)
	if err != nil {
		t.Fatal(err)
	}
	v := figs.Central()
	return Job{Inventory: m.Inventory(v), Values: v, Bench: roomy, Trace: true}
}

// TestUserRouteChangesFigures: a copy of the chloride route with its excess of
// salt doubled takes the built-in one's place, and the dose is what the hand
// says: (n(Ag)·(1 + 0.40) − n(Cl))·58.44 g/mol over the strength, where the
// built-in route has 0.20.
func TestUserRouteChangesFigures(t *testing.T) {
	const id = "chloride-oxide-sugar"
	dir := folder(t, map[string]string{"salt.toml": textOf(t, id, `"10..30 %"`, `"20..60 %"`)})
	lib, err := Load(store.OS, dir)
	if err != nil {
		t.Fatal(err)
	}
	doses := map[*Library]float64{}
	for _, l := range []*Library{lib, library(t)} {
		job := onSample(t, l, "nitrate-liquor")
		o := carriedOut(t, l, job, id+"+dispose")
		excess := 0.20
		if l == lib {
			excess = 0.40
		}
		want := (job.Inventory.Vessel.Mol[idAg]*(1+excess) - job.Inventory.Vessel.Mol[idCl]) * (22.990 + 35.45) / catalogueStrength(t, "sodium-chloride")
		doses[l] = amount(step(t, o, id, "salt out"), Reagent, "sodium-chloride")
		near(t, fmt.Sprintf("salt at an excess of %g, g", excess), doses[l], want, 1e-4)
		if own := slices.Equal(o.UserRoutes, []string{id}); own != (l == lib) {
			t.Errorf("the outcome names %v as the user's own", o.UserRoutes)
		}
	}
	f, err := lib.Route(id)
	if err != nil || !f.User || f.Path != filepath.Join(dir, "salt.toml") {
		t.Errorf("route %+v, %v is not marked as the user's own", f.Path, err)
	}
	other, err := lib.Route("copper-cementation")
	if err != nil || other.User || len(lib.Routes()) != len(library(t).Routes()) {
		t.Error("replacing a route has changed another, or their number")
	}
	if at := slices.IndexFunc(lib.Routes(), func(f File) bool { return f.ID == id }); at != slices.Index(builtinOrder, id) {
		t.Errorf("the route that replaces stands at place %d", at)
	}
}

// TestUserRouteOfItsOwn: a route with an id of its own comes beside the built-in
// ones, is explored, and its plans say that it is the user's.
func TestUserRouteOfItsOwn(t *testing.T) {
	dir := folder(t, map[string]string{"mine.toml": textOf(t, "copper-cementation", `"copper-cementation"`, `"my-cementation"`)})
	lib, err := Load(store.OS, dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(lib.Routes()) != len(library(t).Routes())+1 {
		t.Fatalf("%d routes", len(lib.Routes()))
	}
	e, err := lib.Explore(context.Background(), onSample(t, lib, "nitrate-liquor"))
	if err != nil {
		t.Fatal(err)
	}
	plans := 0
	for i := range e.Outcomes {
		o := &e.Outcomes[i]
		mine := slices.Contains(o.Plan.Routes, "my-cementation")
		if mine != slices.Contains(o.UserRoutes, "my-cementation") || !mine && len(o.UserRoutes) > 0 {
			t.Errorf("%s names %v as the user's own", o.Plan.ID, o.UserRoutes)
		}
		if mine && o.Blocked == nil {
			plans++
			checkBalance(t, "own", o)
		}
	}
	if plans == 0 {
		t.Error("no plan uses the user's route")
	}
}

// TestCopyIsTheRoute: the copy that a user is given reads back as the same route,
// with the same plans.
func TestCopyIsTheRoute(t *testing.T) {
	files := map[string]string{}
	lib := library(t)
	for i := range lib.Routes() {
		f := &lib.Routes()[i]
		files[f.ID+".toml"] = string(f.Copy())
		if !strings.HasPrefix(files[f.ID+".toml"], "# A copy of the route ") || !strings.HasSuffix(files[f.ID+".toml"], string(f.Text())) {
			t.Errorf("the copy of %s does not explain itself", f.ID)
		}
	}
	own, err := Load(store.OS, folder(t, files))
	if err != nil {
		t.Fatal(err)
	}
	for _, id := range []string{"chloride-oxide-sugar+dispose", "copper-cementation+hydroxide+hold"} {
		a := carriedOut(t, lib, onSample(t, lib, "nitrate-liquor"), id)
		b := carriedOut(t, own, onSample(t, own, "nitrate-liquor"), id)
		for kind := Reagent; kind <= Charge; kind++ {
			near(t, id+" "+kind.String(), b.Sum(kind), a.Sum(kind), 1e-12)
		}
		if len(b.UserRoutes) != len(b.Plan.Routes) {
			t.Errorf("%s names %v as the user's own", id, b.UserRoutes)
		}
	}
}

// TestFoldersInOrder: a later folder wins, other files are passed over, and
// without a route file it is the built-in library.
func TestFoldersInOrder(t *testing.T) {
	first := folder(t, map[string]string{
		"a.toml": textOf(t, "hydroxide", "title   = ", "title   = \"First\" # "), "b.toml": textOf(t, "hydroxide", `"hydroxide"`, `"second-hydroxide"`),
	})
	later := folder(t, map[string]string{"z.toml": textOf(t, "hydroxide", "title   = ", "title   = \"Later\" # "), "z.toml~": "rubbish", ".hidden.toml": "rubbish", "notes.txt": "rubbish"})
	lib, err := Load(store.OS, first, later)
	if err != nil {
		t.Fatal(err)
	}
	f, err := lib.Route("hydroxide")
	if err != nil || f.Title != "Later" {
		t.Errorf("hydroxide is %q, %v", f.Title, err)
	}
	if _, err := lib.Route("second-hydroxide"); err != nil {
		t.Error(err)
	}
	none, err := Load(store.OS, t.TempDir())
	if builtIn, _ := Builtin(); err != nil || none != builtIn {
		t.Errorf("an empty folder gives another library, %v", err)
	}
	if _, err := Load(store.OS, filepath.Join(first, "missing")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a missing folder gives %v", err)
	}
}

// TestProblemsOfAllFiles: what is wrong with every file comes back at once, each
// with file, line and column.
func TestProblemsOfAllFiles(t *testing.T) {
	dir := folder(t, map[string]string{
		"a.toml": textOf(t, "hydroxide", "Cu^2+ + 2 OH^-", "Cu^2+ + 3 OH^-"),
		"b.toml": textOf(t, "iron-cementation", `"iron-scrap"`, `"iron-skrap"`),
		"c.toml": "id = \"unfinished",
		"d.toml": textOf(t, "hydroxide", `"hydroxide"`, `"twice"`),
		"e.toml": textOf(t, "hydroxide", `"hydroxide"`, `"twice"`),
	})
	if err := os.Mkdir(filepath.Join(dir, "f.toml"), 0o700); err != nil {
		t.Fatal(err)
	}
	_, err := Load(store.OS, dir)
	var problems input.Problems
	if !errors.As(err, &problems) {
		t.Fatalf("Load gave %v", err)
	}
	for name, want := range map[string]string{"a.toml": "unbalanced", "b.toml": "nearest", "c.toml": "", "e.toml": "has this id too", "f.toml": ""} {
		i := slices.IndexFunc(problems, func(p input.Problem) bool { return filepath.Base(p.File) == name })
		if i < 0 || !strings.Contains(problems[i].Message, want) || name != "f.toml" && problems[i].Position.Line == 0 {
			t.Errorf("%s: %+v", name, problems)
		}
	}
}

// FuzzRouteFile feeds route files to the reader: nothing may panic, and what is
// accepted carries a plan out with finite figures, or says why not.
func FuzzRouteFile(f *testing.F) {
	lib, err := Builtin()
	if err != nil {
		f.Fatal(err)
	}
	// A few only: each is also a test of its own, and runs as one of this.
	for i := 0; i < len(lib.Routes()); i += 4 {
		f.Add(string(lib.Routes()[i].Text()))
	}
	broken, _ := filepath.Glob("testdata/broken/un*.toml")
	for _, name := range broken {
		if data, err := os.ReadFile(name); err == nil {
			f.Add(string(data))
		}
	}
	f.Fuzz(func(t *testing.T, text string) {
		doc, err := input.Parse("fuzz.toml", []byte(text))
		if err != nil {
			_ = err.Error()
			return
		}
		own := ownFile{path: doc.Name(), doc: doc}
		own.id, _ = doc.Root().String("id")
		lib, err := build([]ownFile{own})
		if err != nil {
			_ = err.Error()
			return
		}
		id := lib.Routes()[len(lib.Routes())-1].ID
		if _, err := lib.Route(own.id); err == nil {
			id = own.id
		}
		vessel := parting(0.3).and(poured{"AgCl(s)": 0.1, "Cu(s)": 0.1}).stream(20)
		o := carriedOut(t, lib, jobOn(t, lib, vessel, roomy), id+"+dispose")
		checkBalance(t, "fuzz", &o)
		for _, s := range o.Steps {
			for _, e := range s.Entries {
				if !(e.Amount > -1e300 && e.Amount < 1e300) {
					t.Errorf("%s: %v %s %g", s.Step, e.Kind, e.Item, e.Amount)
				}
			}
		}
	})
}
