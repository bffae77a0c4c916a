package data

import (
	"errors"
	"strings"
	"testing"
)

func TestSourceByKey(t *testing.T) {
	if s, err := SourceByKey("iapws-95"); err != nil || !strings.Contains(s.Title, "IAPWS") {
		t.Errorf("SourceByKey(iapws-95) = %v, %v", s, err)
	}
	if _, err := SourceByKey("nowhere"); !errors.Is(err, ErrSource) {
		t.Errorf("SourceByKey(nowhere) = %v, want %v", err, ErrSource)
	}
}

func TestDecodeSourcesRefuses(t *testing.T) {
	cases := map[string]struct {
		text string
		want error
	}{
		"no title":    {"[a]\nread = \"yes\"", ErrSource},
		"no reading":  {"[a]\ntitle = \"A\"", ErrSource},
		"unknown key": {"[a]\ntitle = \"A\"\nread = \"yes\"\npages = 3", ErrTable},
	}
	for name, c := range cases {
		if _, err := decodeSources(c.text); !errors.Is(err, c.want) {
			t.Errorf("%s: got %v, want %v", name, err, c.want)
		}
	}
}

// TestSourcesAreUsed: no entry of the bibliography stands for nothing.
func TestSourcesAreUsed(t *testing.T) {
	all, err := Sources()
	if err != nil {
		t.Fatal(err)
	}
	entries, err := files.ReadDir("tables")
	if err != nil {
		t.Fatal(err)
	}
	var text strings.Builder
	for _, e := range entries {
		if e.Name() != "sources.toml" {
			part, err := files.ReadFile("tables/" + e.Name())
			if err != nil {
				t.Fatal(err)
			}
			text.Write(part)
		}
	}
	for key := range all {
		if !strings.Contains(text.String(), `ource = "`+key+`"`) {
			t.Errorf("no row has the source %s", key)
		}
	}
}

func TestCite(t *testing.T) {
	r := Row{Source: "crc-haynes", Where: "boiling points", Basis: Derived}
	want := "CRC Handbook of Chemistry and Physics (Haynes, ed.), boiling points (derived)"
	if got := r.Cite(); got != want {
		t.Errorf("Cite = %q, want %q", got, want)
	}
	r = Row{Source: "iapws-95", Basis: Published}
	if got, want := r.Cite(), "IAPWS-95 formulation for water (IAPWS R6-95)"; got != want {
		t.Errorf("Cite = %q, want %q", got, want)
	}
}
