package lot

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"afterpour/chem/input"
)

const editable = `# a lot
title = "Jar 3"   # by the window
declared = ["cyanide"]

[vessel]
liquid = "3.2 L ± 5 %"   # by the marks
ph     = 1.5

[[dissolved]]
mass  = "410 g ± 2 g"
share = { Ag = "8.0 % ± 1 %", Cu = "rest" }
by    = "nitric acid"

[[added]]
what   = "nitric acid"
amount = "1.6 L"
`

func TestEdit(t *testing.T) {
	const end = "amount = \"1.6 L\"\n"
	tests := map[string]struct{ path, text, from, to, old string }{
		"quantity":      {"vessel.liquid", "3,4 L ± 2 %", `"3.2 L ± 5 %"`, `"3,4 L ± 2 %"`, "3.2 L ± 5 %"},
		"share":         {"dissolved[0].share.Ag", "9 % ± 1 %", `"8.0 % ± 1 %"`, `"9 % ± 1 %"`, "8.0 % ± 1 %"},
		"bare number":   {"vessel.ph", "2.1", "= 1.5", "= 2.1", "1.5"},
		"number, doubt": {"vessel.ph", "2.1 ± 0.3", "= 1.5", `= "2.1 ± 0.3"`, "1.5"},
		"quotes in it":  {"title", `Jar "4" \ 5`, `"Jar 3"`, `"Jar \"4\" \\ 5"`, "Jar 3"},
		"list":          {"declared", "cyanide, mercury", `["cyanide"]`, `["cyanide", "mercury"]`, "cyanide"},
		"new key":       {"vessel.temperature", "25 degC", "ph     = 1.5\n", "ph     = 1.5\ntemperature = \"25 degC\"\n", ""},
		"new top key":   {"date", "2026-11-02", "[\"cyanide\"]\n", "[\"cyanide\"]\ndate = 2026-11-02\n", ""},
		"new share":     {"dissolved[0].share.Zn", "5 %", `"rest" }`, `"rest", Zn = "5 %" }`, ""},
		"new entry":     {"added[1]", `{ what = "water", amount = "1 L" }`, end, end + "\n[[added]]\nwhat = \"water\"\namount = \"1 L\"\n", ""},
		"new section":   {"measured[0]", `{ metal = "Ag", value = "4.9 g/L" }`, end, end + "\n[[measured]]\nmetal = \"Ag\"\nvalue = \"4.9 g/L\"\n", ""},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			got, old, err := Edit("lot.toml", []byte(editable), tt.path, tt.text)
			if want := strings.Replace(editable, tt.from, tt.to, 1); err != nil || string(got) != want || old != tt.old {
				t.Errorf("Edit(%q, %q) = %q, %q, %v; want %q, %q", tt.path, tt.text, got, old, err, want, tt.old)
			}
		})
	}
}

func TestEditMakesTheTable(t *testing.T) {
	const bare = "title = \"x\"\n"
	got, old, err := Edit("lot.toml", []byte(bare), "vessel.liquid", "3 L")
	if want := bare + "\n[vessel]\nliquid = \"3 L\"\n"; err != nil || string(got) != want || old != "" {
		t.Errorf("got %q, %q, %v; want %q", got, old, err, want)
	}
	got, old, err = Edit("lot.toml", []byte(bare), "", editable)
	if err != nil || string(got) != editable || old != bare {
		t.Errorf("the whole file: %q, %q, %v", got, old, err)
	}
}

// TestEditTellsAll: what would be wrong with the file is said, all of it and at
// its place.
func TestEditTellsAll(t *testing.T) {
	for name, tt := range map[string]struct {
		path, text string
		problems   int
		key        string
	}{
		"unit":           {"vessel.liquid", "3.2 kg", 1, "vessel.liquid"},
		"ambiguous":      {"dissolved[0].mass", "1,234 g", 1, "dissolved[0].mass"},
		"over 100 %":     {"dissolved[0].share.Ag", "120 %", 1, ""},
		"unknown key":    {"vessel.colour", "blue", 1, ""},
		"unknown table":  {"jar.colour", "blue", 1, ""},
		"lacking keys":   {"measured[0]", `{ by = "AAS" }`, 2, ""},
		"entry, not one": {"", "title = \"\"\n[vessel]\nph = \"x\"\n", 2, ""},
	} {
		t.Run(name, func(t *testing.T) {
			got, _, err := Edit("lot.toml", []byte(editable), tt.path, tt.text)
			var problems input.Problems
			if !errors.As(err, &problems) || got != nil {
				t.Fatalf("Edit(%q, %q) = %q, %v; want problems", tt.path, tt.text, got, err)
			}
			if len(problems) < tt.problems || problems[0].Position.Line == 0 || !strings.Contains(problems[0].Key, tt.key) {
				t.Errorf("problems: %v", problems)
			}
		})
	}
}

func TestEditRefuses(t *testing.T) {
	for name, tt := range map[string]struct {
		path, text string
		want       error
	}{
		"a gap":         {"added[5]", `{ what = "water" }`, ErrEdit},
		"no table":      {"added[1]", "water", ErrEdit},
		"no keys":       {"added[1]", "{}", ErrEdit},
		"two tables":    {"added[1]", "{ what = \"water\" }\nx = 1", ErrEdit},
		"no such entry": {"added[5].what", "water", input.ErrSplice},
		"a table":       {"vessel", "water", input.ErrSplice},
		"inline table":  {"dissolved[0].share", "sterling", input.ErrSplice},
		"within a text": {"title.x", "y", input.ErrSplice},
	} {
		t.Run(name, func(t *testing.T) {
			if got, _, err := Edit("lot.toml", []byte(editable), tt.path, tt.text); !errors.Is(err, tt.want) || got != nil {
				t.Errorf("Edit(%q, %q) = %q, %v; want %v", tt.path, tt.text, got, err, tt.want)
			}
		})
	}
}

// TestEditSamples writes every figure of every sample back as it is typed,
// which must give the file byte for byte.
func TestEditSamples(t *testing.T) {
	for _, name := range SampleNames() {
		data, err := Sample(name)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := input.Parse(name, data)
		if err != nil {
			t.Fatal(err)
		}
		figs := new(input.Figures)
		l, err := Decode(doc, figs)
		if err != nil {
			t.Fatal(err)
		}
		seen := 0
		for _, ref := range l.Figures() {
			path := strings.TrimPrefix(figs.Get(ref).ID, "lot/")
			typed, ok := Typed(doc, path)
			if !ok {
				continue
			}
			seen++
			got, old, err := Edit(name, data, path, typed)
			if err != nil || old != typed || !bytes.Equal(got, data) {
				t.Errorf("%s: writing %s = %q back: old %q, %v", name, path, typed, old, err)
			}
		}
		if seen == 0 {
			t.Errorf("%s: no figure can be edited", name)
		}
	}
}

// FuzzEdit: whatever is written where, the result is a lot that reads, with the
// text at its path, or an error and nothing.
func FuzzEdit(f *testing.F) {
	f.Add([]byte(editable), "vessel.liquid", "3.4 L")
	f.Add([]byte(editable), "added[1]", `{ what = "water", amount = "1 L" }`)
	f.Add([]byte(editable), "declared", "a, \"b\", ,")
	f.Add([]byte(editable), "vessel.temperature", "20 degC\"\nx = \"")
	f.Add([]byte(editable), "date", "2026-11-02")
	f.Fuzz(func(t *testing.T, data []byte, path, text string) {
		got, _, err := Edit("lot.toml", data, path, text)
		if err != nil {
			if got != nil {
				t.Fatalf("Edit(%q, %q) = %q beside %v", path, text, got, err)
			}
			_ = err.Error()
			return
		}
		if err := readable("lot.toml", got); err != nil {
			t.Fatalf("Edit(%q, %q) gave a file that is no lot: %v", path, text, err)
		}
		again, _, err := Edit("lot.toml", got, path, text)
		if _, _, entry := entryOf(path); err == nil && !entry && !bytes.Equal(again, got) {
			t.Fatalf("Edit(%q, %q) twice: %q, then %q", path, text, got, again)
		}
	})
}
