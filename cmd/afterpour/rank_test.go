package main

import (
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"afterpour/chem/lot"
)

// sampleFiles writes every built-in sample lot to a file of its own.
func sampleFiles(t *testing.T) []string {
	t.Helper()
	var paths []string
	for _, name := range lot.SampleNames() {
		data, err := lot.Sample(name)
		if err != nil {
			t.Fatal(err)
		}
		paths = append(paths, writeFile(t, name+".toml", string(data)))
	}
	if len(paths) < 4 {
		t.Fatalf("%d sample lots, want at least 4", len(paths))
	}
	return paths
}

func TestRankJSON(t *testing.T) {
	for _, path := range sampleFiles(t) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			got := call(t, "rank", "--json", path).want(t, exitDone)
			if got.stderr != "" {
				t.Errorf("standard error: %s", got.stderr)
			}
			object := got.object(t)
			checkContract(t, object)
			checkMoney(t, object)
		})
	}
}

// checkMoney recomputes what the contract says of the figures' relations.
func checkMoney(t *testing.T, object map[string]any) {
	t.Helper()
	base := number(t, object, "baseline_net")
	last := math.Inf(1)
	blocked := false
	for _, plan := range objects(t, object, "plans") {
		if plan["blocked"] != nil {
			blocked = true
			continue
		}
		net := number(t, plan, "net")
		want := number(t, plan, "revenue")
		for _, key := range []string{"fees", "reagent_cost", "energy_cost", "labour_cost", "consumable_cost", "disposal_cost", "storage_cost"} {
			cost := number(t, plan, key)
			if cost < 0 {
				t.Errorf("plan %v: %s is %v, a cost is never negative", plan["id"], key, cost)
			}
			want -= cost
		}
		if !near(net, want, 1e-6) {
			t.Errorf("plan %v: net %v, want revenue less costs = %v", plan["id"], net, want)
		}
		if gain := number(t, plan, "gain"); !near(gain, net-base, 1e-6) {
			t.Errorf("plan %v: gain %v, want net less baseline = %v", plan["id"], gain, net-base)
		}
		if free := number(t, plan, "net_without_labour"); !near(free, net+number(t, plan, "labour_cost"), 1e-6) {
			t.Errorf("plan %v: without labour %v", plan["id"], free)
		}
		if net > last+1e-9 || blocked {
			t.Errorf("plan %v with net %v stands below %v (or below a blocked one)", plan["id"], net, last)
		}
		last = net
		checkID(t, plan)
	}
}

func checkID(t *testing.T, plan map[string]any) {
	t.Helper()
	var parts []string
	for _, r := range plan["routes"].([]any) {
		parts = append(parts, r.(string))
	}
	parts = append(parts, plan["ending"].(string))
	if want := strings.Join(parts, "+"); plan["id"] != want {
		t.Errorf("id %v, want %s", plan["id"], want)
	}
}

// Several lots print one object a line, in the order of the call, and one that
// fails does not stop the others.
func TestRankSeveral(t *testing.T) {
	paths := sampleFiles(t)
	got := call(t, "rank", "--json", paths[1], "no-such-lot.toml", paths[0]).want(t, exitInput)
	lines := strings.Split(strings.TrimSpace(got.stdout), "\n")
	if len(lines) != 3 {
		t.Fatalf("%d lines, want 3:\n%s", len(lines), got.stdout)
	}
	first, failed, second := outcome{stdout: lines[0]}.object(t), outcome{stdout: lines[1]}.object(t), outcome{stdout: lines[2]}.object(t)
	if first["file"] != paths[1] || second["file"] != paths[0] {
		t.Errorf("lots in the order %v, %v", first["file"], second["file"])
	}
	if len(objects(t, failed, "errors")) == 0 || failed["lot"] != "no-such-lot.toml" {
		t.Errorf("the failing lot gave %v", failed)
	}
}

func TestRankStdin(t *testing.T) {
	path := sampleFiles(t)[0]
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	fromFile := call(t, "rank", "--json", path).want(t, exitDone).object(t)
	fromStdin := callWith(t, string(data), "rank", "--json", "-").want(t, exitDone).object(t)
	if fromFile["baseline_net"] != fromStdin["baseline_net"] || fromFile["lot"] != fromStdin["lot"] {
		t.Errorf("the file gives %v, standard input %v", fromFile["baseline_net"], fromStdin["baseline_net"])
	}
}

func TestRankRepeats(t *testing.T) {
	path := sampleFiles(t)[0]
	first, second := call(t, "rank", "--json", path), call(t, "rank", "--json", path)
	if first.stdout != second.stdout {
		t.Errorf("two calls differ:\n%s\n%s", first.stdout, second.stdout)
	}
}

// The text must tell the same figures as the JSON, at 80 columns.
func TestRankTextAgrees(t *testing.T) {
	for _, path := range sampleFiles(t) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text := call(t, "rank", "--all", path).want(t, exitDone).stdout
			object := call(t, "rank", "--json", path).want(t, exitDone).object(t)
			for _, line := range strings.Split(text, "\n") {
				if n := len([]rune(line)); n > pageWidth {
					t.Errorf("a line of %d characters: %q", n, line)
				}
			}
			checkFigures(t, text, object)
		})
	}
}

// figures finds the row of figures of each plan, by the order of the plans.
var figureRow = regexp.MustCompile(`(?m)^ +(-?[0-9]+\.[0-9]{2}) +([+-]?[0-9]+\.[0-9]{2}) +(-?[0-9]+\.[0-9]{2}) +[0-9.]+ h +[0-9.]+ h`)

func checkFigures(t *testing.T, text string, object map[string]any) {
	t.Helper()
	rows := figureRow.FindAllStringSubmatch(text, -1)
	n := 0
	for _, plan := range objects(t, object, "plans") {
		if plan["blocked"] != nil {
			continue
		}
		if n == len(rows) {
			t.Fatalf("the text has %d rows of figures, the JSON more plans", n)
		}
		for i, key := range []string{"net", "gain", "net_without_labour"} {
			shown, err := strconv.ParseFloat(rows[n][i+1], 64)
			if want := number(t, plan, key); err != nil || !near(shown, want, 0.005001) {
				t.Errorf("plan %v: %s is %v in the text, %v in the JSON", plan["id"], key, shown, want)
			}
		}
		n++
	}
	if n != len(rows) {
		t.Errorf("the text has %d rows of figures, the JSON %d plans", len(rows), n)
	}
	verdict := object["verdict"].(map[string]any)
	flat := strings.ToLower(strings.Join(strings.Fields(text), " "))
	if why := strings.ToLower(strings.Join(strings.Fields(verdict["why"].(string)), " ")); !strings.Contains(flat, why) {
		t.Errorf("the text does not give the verdict's reason %q", why)
	}
	if !strings.Contains(flat, verdict["action"].(string)) {
		t.Errorf("the text does not give the verdict %q", verdict["action"])
	}
}

// Any plan can be shown line by line; some, best to worst and blocked, stand
// for all.
func TestRankPlan(t *testing.T) {
	path := sampleFiles(t)[0]
	plans := objects(t, call(t, "rank", "--json", path).want(t, exitDone).object(t), "plans")
	for i := 0; i < len(plans); i += 1 + len(plans)/8 {
		plan := plans[i]
		id := plan["id"].(string)
		if text := call(t, "rank", "--plan", id, path).want(t, exitDone).stdout; !strings.Contains(text, "In detail: "+id) {
			t.Errorf("--plan %s does not show the plan", id)
		}
	}
	call(t, "rank", "--plan", "no-such-plan", path).want(t, exitUsage)
}

func TestStandingsWithoutAFile(t *testing.T) {
	got := call(t).want(t, exitDone)
	if !strings.Contains(got.stdout, "Verdict: ") {
		t.Errorf("no verdict:\n%s", got.stdout)
	}
}

func TestStandingsOfAFile(t *testing.T) {
	path := sampleFiles(t)[0]
	if short, long := call(t, path).want(t, exitDone), call(t, "rank", path).want(t, exitDone); short.stdout != long.stdout {
		t.Errorf("`afterpour LOT` and `afterpour rank LOT` differ")
	}
}

// A dearer metal raises what a plan that sells it receives.
func TestRankPrices(t *testing.T) {
	path := sampleFiles(t)[0]
	book := defaultBook(t)
	before := call(t, "rank", "--json", "--prices", book, path).want(t, exitDone).object(t)
	call(t, "prices", "set", "silver", "300.00 / ozt", "--prices", book).want(t, exitDone)
	after := call(t, "rank", "--json", "--prices", book, path).want(t, exitDone).object(t)
	if got, was := spotValue(t, after, "Ag"), spotValue(t, before, "Ag"); !(got > was) {
		t.Errorf("silver at spot is worth %v at the dearer price, %v at the cheaper", got, was)
	}
}

func spotValue(t *testing.T, object map[string]any, metal string) float64 {
	t.Helper()
	for _, m := range objects(t, object, "metals") {
		if m["metal"] == metal {
			return number(t, m, "spot_value")
		}
	}
	t.Fatalf("no %s in the lot", metal)
	return 0
}

// With draws the odds are numbers, the same for the same seed.
func TestRankOdds(t *testing.T) {
	path := writeFile(t, "lot.toml", `title = "A litre of nitrate liquor"
[vessel]
liquid = "1 L"
[[measured]]
metal = "Ag"
in    = "liquid"
value = "60 g/L ± 30 %"
`)
	first := call(t, "rank", "--json", "--draws", "20", "--seed", "7", path).want(t, exitDone)
	object := first.object(t)
	checkContract(t, object)
	checkMoney(t, object)
	if got := int(number(t, object, "draws")); got != 20 {
		t.Errorf("draws %v, want 20", got)
	}
	for _, plan := range objects(t, object, "plans") {
		if plan["blocked"] != nil || plan["p50"] == nil {
			continue
		}
		low, middle, high := number(t, plan, "p10"), number(t, plan, "p50"), number(t, plan, "p90")
		if !(low <= middle && middle <= high) {
			t.Errorf("plan %v: 10-50-90 %% are %v, %v, %v", plan["id"], low, middle, high)
		}
	}
	if again := call(t, "rank", "--json", "--draws", "20", "--seed", "7", path); again.stdout != first.stdout {
		t.Error("the same seed gave other standings")
	}
}
