package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"afterpour/chem/lot"
	"afterpour/chem/route"
)

// lotFile writes a sample lot into a new folder and returns its path.
func lotFile(t *testing.T, name string) string {
	t.Helper()
	data, err := lot.Sample(name)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), name+".toml")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestRoutesList: every built-in route stands in the list, in text and in JSON.
func TestRoutesList(t *testing.T) {
	library, err := route.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	text := call(t, "routes").want(t, exitDone)
	var object routesJSON
	if err := json.Unmarshal([]byte(call(t, "routes", "--json").want(t, exitDone).stdout), &object); err != nil {
		t.Fatal(err)
	}
	if len(object.Routes) != len(library.Routes()) {
		t.Errorf("%d routes in JSON, want %d", len(object.Routes), len(library.Routes()))
	}
	for i := range library.Routes() {
		f := &library.Routes()[i]
		if !strings.Contains(text.stdout, f.ID+" ") {
			t.Errorf("%s is not in the list", f.ID)
		}
		if i < len(object.Routes) && (object.Routes[i].ID != f.ID || object.Routes[i].User) {
			t.Errorf("route %d is %+v", i, object.Routes[i])
		}
	}
}

// TestRoutesShow: a route in full says its figures as they are typed, with their
// sources, and the rules that watch it.
func TestRoutesShow(t *testing.T) {
	for _, f := range mustRoutes(t) {
		text := call(t, "routes", "show", f.ID).want(t, exitDone).stdout
		var object fullRouteJSON
		if err := json.Unmarshal([]byte(call(t, "routes", "show", f.ID, "--json").want(t, exitDone).stdout), &object); err != nil {
			t.Fatal(err)
		}
		if object.ID != f.ID || len(object.Steps) != len(f.Steps) {
			t.Errorf("%s: JSON has %d steps, want %d", f.ID, len(object.Steps), len(f.Steps))
		}
		flat := strings.Join(strings.Fields(text), " ")
		for _, s := range object.Steps {
			for _, figure := range s.Figures {
				want := strings.Join(strings.Fields(figure.Key+" = "+figure.Value+" ("+figure.Source), " ")
				if figure.Source == "" || !strings.Contains(flat, want) {
					t.Errorf("%s/%s: the text lacks %q", f.ID, s.ID, want)
				}
			}
			if len(s.Watches) == 0 {
				t.Errorf("%s/%s: no rule watches it", f.ID, s.ID)
			}
		}
	}
	text := call(t, "routes", "show", "chloride-oxide-sugar").want(t, exitDone).stdout
	for _, want := range []string{"excess = 10..30 % (common practice)", "stop chloride-oxidant: H^+ above 3 mol/L", "Ag^+ + Cl^- -> AgCl(s)", "Looked at in every step"} {
		if !strings.Contains(text, want) {
			t.Errorf("routes show lacks %q:\n%s", want, text)
		}
	}
}

func mustRoutes(t *testing.T) []route.File {
	t.Helper()
	library, err := route.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return library.Routes()
}

func TestRoutesWrongCalls(t *testing.T) {
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"routes", "show", "hydroxid"}, exitUsage, `did you mean "hydroxide"?`},
		{[]string{"routes", "show", "xyzzy"}, exitUsage, "no route"},
		{[]string{"routes", "shw"}, exitUsage, "no command"},
		{[]string{"routes", "show"}, exitUsage, "accepts 1 arg"},
		{[]string{"routes", "copy", "hydroxide", filepath.Join(t.TempDir(), "mine.txt")}, exitUsage, ".toml"},
		{[]string{"routes", "--routes", filepath.Join(t.TempDir(), "missing")}, exitInput, "cannot be read"},
	} {
		got := call(t, c.args...).want(t, c.code)
		if !strings.Contains(got.stderr, c.want) {
			t.Errorf("%v: %q, want %q in it", c.args, got.stderr, c.want)
		}
	}
}

// TestRoutesCopy: the copy is a route file that reads back, and nothing is ever
// written over.
func TestRoutesCopy(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "folder")
	path := filepath.Join(dir, "salt.toml")
	call(t, "routes", "copy", "chloride-oxide-sugar", path).want(t, exitDone)
	before, err := os.ReadFile(path)
	if err != nil || !strings.HasPrefix(string(before), "# A copy of the route") {
		t.Fatalf("the copy begins %.40q, %v", before, err)
	}
	again := call(t, "routes", "copy", "hydroxide", path).want(t, exitFailed)
	after, err := os.ReadFile(path)
	if err != nil || string(after) != string(before) || !strings.Contains(again.stderr, "there already") {
		t.Errorf("a second copy: %v, %s", err, again.stderr)
	}
	list := call(t, "routes", "--routes", dir).want(t, exitDone).stdout
	if !strings.Contains(list, "chloride-oxide-sugar*") || strings.Contains(list, "hydroxide*") {
		t.Errorf("the list does not mark the user's own route:\n%s", list)
	}
	shown := call(t, "routes", "show", "chloride-oxide-sugar", "--routes", dir).want(t, exitDone).stdout
	if !strings.Contains(strings.Join(strings.Fields(shown), ""), "yourownroute,from"+path) {
		t.Errorf("show does not say whose it is:\n%.300s", shown)
	}
}

// saltOf is the salt that the chloride route takes on a lot, in g.
func saltOf(t *testing.T, args ...string) float64 {
	t.Helper()
	var object struct {
		Plans []struct {
			ID       string
			Reagents []struct {
				Reagent string
				MassG   float64 `json:"mass_g"`
			}
		}
	}
	got := call(t, append([]string{"rank", "--json"}, args...)...).want(t, exitDone)
	if err := json.Unmarshal([]byte(got.stdout), &object); err != nil {
		t.Fatal(err)
	}
	for _, plan := range object.Plans {
		for _, r := range plan.Reagents {
			if plan.ID == "chloride-oxide-sugar+dispose" && r.Reagent == "sodium chloride" {
				return r.MassG
			}
		}
	}
	t.Fatal("the plan takes no salt")
	return 0
}

// TestOwnRouteChangesRank: with the excess doubled from 20 to 40 %, the liquor
// without chloride takes 1.40/1.20 of the salt, whether the route stands in the
// configuration folder or is named.
func TestOwnRouteChangesRank(t *testing.T) {
	path := lotFile(t, "nitrate-liquor")
	before := saltOf(t, path)
	dir := t.TempDir()
	for _, f := range mustRoutes(t) {
		if f.ID == "chloride-oxide-sugar" {
			text := strings.Replace(string(f.Text()), `"10..30 %"`, `"20..60 %"`, 1)
			if err := os.WriteFile(filepath.Join(dir, "salt.toml"), []byte(text), 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
	if got, want := saltOf(t, path, "--routes", dir), before*1.40/1.20; got < want*0.999 || got > want*1.001 {
		t.Errorf("salt %.4f g, want %.4f g", got, want)
	}
	config := t.TempDir()
	t.Setenv("XDG_CONFIG_HOME", config)
	if err := os.MkdirAll(filepath.Join(config, "afterpour"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.Rename(dir, filepath.Join(config, "afterpour", "routes")); err != nil {
		t.Fatal(err)
	}
	if got, want := saltOf(t, path), before*1.40/1.20; got < want*0.999 || got > want*1.001 {
		t.Errorf("salt by the configuration folder %.4f g, want %.4f g", got, want)
	}
}

// TestBrokenRouteFile: all problems of all route files at once, with their
// places, in text and in JSON, and the exit code of a wrong input file.
func TestBrokenRouteFile(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"a.toml", "b.toml"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("id = \"x\"\ntitle = 5\ncolour = \"red\"\n"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	path := lotFile(t, "nitrate-liquor")
	text := call(t, "rank", path, "--routes", dir).want(t, exitInput).stderr
	for _, want := range []string{"a.toml:2:9: title", "a.toml:3:1: colour: unknown key", "b.toml:1:6: id"} {
		if !strings.Contains(text, want) {
			t.Errorf("the problems lack %q:\n%s", want, text)
		}
	}
	var object errorsJSON
	if err := json.Unmarshal([]byte(call(t, "check", "--json", path, "--routes", dir).want(t, exitInput).stdout), &object); err != nil || len(object.Errors) < 6 {
		t.Errorf("%d problems in JSON, %v", len(object.Errors), err)
	}
}
