package main

import (
	"path/filepath"
	"strings"
	"testing"
)

func TestCheck(t *testing.T) {
	for _, path := range sampleFiles(t) {
		t.Run(filepath.Base(path), func(t *testing.T) {
			text := call(t, "check", path).want(t, exitDone).stdout
			if !strings.Contains(text, "no fault found") {
				t.Errorf("got:\n%s", text)
			}
			object := call(t, "check", "--json", path).want(t, exitDone).object(t)
			if len(objects(t, object, "errors")) != 0 || len(objects(t, object, "metals")) == 0 {
				t.Errorf("got %v", object)
			}
		})
	}
}

// check and rank must tell the same of the lot.
func TestCheckAgreesWithRank(t *testing.T) {
	path := sampleFile(t)
	checked := objects(t, call(t, "check", "--json", path).want(t, exitDone).object(t), "metals")
	ranked := objects(t, call(t, "rank", "--json", path).want(t, exitDone).object(t), "metals")
	if len(checked) != len(ranked) {
		t.Fatalf("check tells of %d metals, rank of %d", len(checked), len(ranked))
	}
	for i := range checked {
		for _, key := range []string{"contained_g", "sd_g", "dissolved_g", "solid_g"} {
			if a, b := number(t, checked[i], key), number(t, ranked[i], key); !near(a, b, 1e-9) {
				t.Errorf("%v %s: check %v, rank %v", checked[i]["metal"], key, a, b)
			}
		}
	}
}

// A lot of which only the title is known is a lot.
func TestCheckTitleOnly(t *testing.T) {
	path := writeFile(t, "title.toml", "title = \"Jar of something\"\n")
	if text := call(t, "check", path).want(t, exitDone).stdout; !strings.Contains(text, "Jar of something") {
		t.Errorf("got:\n%s", text)
	}
	call(t, "rank", path).want(t, exitDone)
}
