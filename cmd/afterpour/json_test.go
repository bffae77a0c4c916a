package main

import (
	"bytes"
	"encoding/json"
	"math"
	"testing"
	"time"
	"unicode"

	"afterpour/econ"

	"pgregory.net/rapid"
)

func TestEscapeUnprintable(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.String().Draw(t, "text")
		encoded, err := json.Marshal(text)
		if err != nil {
			t.Fatal(err)
		}
		safe := escapeUnprintable(encoded)
		for _, r := range string(safe) {
			if !unicode.IsPrint(r) {
				t.Errorf("%q still holds %U", safe, r)
			}
		}
		var before, after string
		if json.Unmarshal(encoded, &before) != nil || json.Unmarshal(safe, &after) != nil || before != after {
			t.Errorf("%q became %q", before, after)
		}
	})
}

func TestEscapePayloads(t *testing.T) {
	encoded, _ := json.Marshal("a\u009b31m\u202eb\U000e0001")
	want := `"a\u009b31m\u202eb\udb40\udc01"`
	if got := string(escapeUnprintable(encoded)); got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// A number that JSON cannot hold must fail before a byte is printed.
func TestPrintJSONWhole(t *testing.T) {
	var stdout bytes.Buffer
	p := &program{stdout: &stdout}
	if err := p.printJSON(washJSON{LeftShare: math.NaN()}); err == nil || stdout.Len() > 0 {
		t.Errorf("err %v, printed %q", err, stdout.String())
	}
}

// planKeys are the keys that the result contract promises for every plan, and
// which of them are null as long as the plan is blocked.
var planKeys = map[string]bool{
	"id": false, "routes": false, "ending": false, "blocked": false,
	"net": true, "gain": true, "net_without_labour": true, "p10": true, "p50": true, "p90": true, "p_positive": true, "p_best": true,
	"revenue": true, "fees": true, "reagent_cost": true, "energy_cost": true, "labour_cost": true, "consumable_cost": true,
	"disposal_cost": true, "storage_cost": true, "hands_on_h": true, "elapsed_h": true, "energy_kwh": true,
	"products": false, "reagents": false, "gases": false, "waste": false, "cautions": false,
}

// oddsKeys are null until odds have been worked out.
var oddsKeys = []string{"p10", "p50", "p90", "p_positive", "p_best"}

func checkContract(t *testing.T, object map[string]any) {
	t.Helper()
	for _, key := range []string{"schema_version", "lot", "currency", "prices_as_of", "seed", "draws", "metals", "verdict", "baseline", "baseline_net", "plans"} {
		if _, ok := object[key]; !ok {
			t.Errorf("the object has no key %q", key)
		}
	}
	if got := number(t, object, "schema_version"); got != schemaVersion {
		t.Errorf("schema_version %v", got)
	}
	for _, m := range objects(t, object, "metals") {
		for _, key := range []string{"metal", "contained_g", "sd_g", "dissolved_g", "solid_g", "spot_value"} {
			if _, ok := m[key]; !ok {
				t.Errorf("metal %v has no key %q", m["metal"], key)
			}
		}
	}
	verdict := object["verdict"].(map[string]any)
	for _, key := range []string{"action", "plan", "gain", "p_positive", "why"} {
		if _, ok := verdict[key]; !ok {
			t.Errorf("the verdict has no key %q", key)
		}
	}
	odds := number(t, object, "draws") > 0
	for _, plan := range objects(t, object, "plans") {
		checkPlan(t, plan, odds)
	}
}

func checkPlan(t *testing.T, plan map[string]any, odds bool) {
	t.Helper()
	blocked := plan["blocked"] != nil
	for key, nullable := range planKeys {
		value, ok := plan[key]
		if !ok {
			t.Errorf("plan %v has no key %q", plan["id"], key)
		}
		isOdds := false
		for _, name := range oddsKeys {
			isOdds = isOdds || name == key
		}
		wantNull := nullable && (blocked || isOdds && !odds)
		if wantNull != (value == nil) && key != "blocked" {
			t.Errorf("plan %v (blocked: %t): %q is %v", plan["id"], blocked, key, value)
		}
	}
	if b, ok := plan["blocked"].(map[string]any); ok {
		for _, key := range []string{"step", "reason", "unreachable"} {
			if _, ok := b[key]; !ok {
				t.Errorf("plan %v: blocked has no key %q", plan["id"], key)
			}
		}
	}
}

// objects reads an array of objects.
func objects(t *testing.T, object map[string]any, key string) []map[string]any {
	t.Helper()
	items, ok := object[key].([]any)
	if !ok {
		t.Fatalf("%q is %v, want an array", key, object[key])
	}
	var out []map[string]any
	for _, item := range items {
		out = append(out, item.(map[string]any))
	}
	return out
}

func TestStandingsJSONContract(t *testing.T) {
	var stdout bytes.Buffer
	p := &program{stdout: &stdout}
	if err := p.printJSON(newStandingsJSON("strip.toml", "prices.toml", inventedAppraisal())); err != nil {
		t.Fatal(err)
	}
	object := outcome{stdout: stdout.String()}.object(t)
	checkContract(t, object)
	plan := objects(t, object, "plans")[0]
	for key, want := range map[string]float64{"net": 61.4, "gain": 121.4, "reagent_cost": 14, "hands_on_h": 3.5} {
		if got := number(t, plan, key); !near(got, want, 1e-9) {
			t.Errorf("%s = %v, want %v", key, got, want)
		}
	}
	reagent := objects(t, plan, "reagents")[0]
	if got := number(t, reagent, "volume_mL"); !near(got, 120, 1e-9) {
		t.Errorf("volume_mL = %v, want 120", got)
	}
	if bytes.Count(stdout.Bytes(), []byte("\n")) != 1 {
		t.Errorf("want one object on one line: %s", stdout.String())
	}
}

// An empty appraisal must still be an object with arrays, not nulls.
func TestStandingsJSONEmpty(t *testing.T) {
	var stdout bytes.Buffer
	p := &program{stdout: &stdout}
	if err := p.printJSON(newStandingsJSON("x", "y", &econ.Appraisal{Lot: "empty"})); err != nil {
		t.Fatal(err)
	}
	object := outcome{stdout: stdout.String()}.object(t)
	checkContract(t, object)
	if object["prices_as_of"] != nil || object["baseline_net"] != nil {
		t.Errorf("without prices: prices_as_of %v, baseline_net %v, want null", object["prices_as_of"], object["baseline_net"])
	}
}

func TestDateOrNull(t *testing.T) {
	if got := dateOrNull(time.Date(2026, 11, 20, 0, 0, 0, 0, time.UTC)); got == nil || *got != "2026-11-20" {
		t.Errorf("got %v", got)
	}
}
