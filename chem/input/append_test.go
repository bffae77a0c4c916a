package input

import (
	"errors"
	"strings"
	"testing"
)

const appendable = "# lot\ntitle = \"x\"\n\n[vessel]   # standing there\n  liquid = \"3 L\"   # about\n\n[vessel.more]\na = 1\n[[measured]]\nmetal = \"Ag\"\nshare = { Ag = \"8 %\" }\nnone = {}\n"

func TestAppendKey(t *testing.T) {
	tests := map[string]struct{ table, key, raw, after, added string }{
		"root":         {"", "date", "2026-11-02", "title = \"x\"\n", "date = 2026-11-02\n"},
		"table":        {"vessel", "ph", `"0.3 ± 0.3"`, "# about\n", "  ph = \"0.3 ± 0.3\"\n"},
		"inner table":  {"vessel.more", "b", "2", "a = 1\n", "b = 2\n"},
		"element":      {"measured[0]", "by", `"AAS"`, "none = {}\n", "by = \"AAS\"\n"},
		"quoted":       {"vessel", "a b", "1", "# about\n", "  \"a b\" = 1\n"},
		"inline":       {"measured[0].share", "Cu", `"rest"`, `Ag = "8 %"`, `, Cu = "rest"`},
		"empty inline": {"measured[0].none", "Cu", "1", "none = {", " Cu = 1 "},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			got, err := parseSample(t, appendable).AppendKey(test.table, test.key, test.raw)
			if want := strings.Replace(appendable, test.after, test.after+test.added, 1); err != nil || string(got) != want {
				t.Errorf("AppendKey(%q, %q, %q) = %q, %v; want %q", test.table, test.key, test.raw, got, err, want)
			}
		})
	}
}

func TestAppendTable(t *testing.T) {
	keys := []Edit{{"metal", `"Au"`}, {"value", `"1 g/L"`}}
	const lines = "metal = \"Au\"\nvalue = \"1 g/L\"\n"
	tests := map[string]struct {
		path     string
		repeated bool
		added    string
	}{
		"new table":          {"storage", false, "\n[storage]\n" + lines},
		"new array":          {"plated", true, "\n[[plated]]\n" + lines},
		"one more element":   {"measured", true, "\n[[measured]]\n" + lines},
		"element, unsaid":    {"measured", false, "\n[[measured]]\n" + lines},
		"within a table":     {"vessel.size", false, "\n[vessel.size]\n" + lines},
		"two levels at once": {"spot.Ag", false, "\n[spot.Ag]\n" + lines},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			got, err := parseSample(t, appendable).AppendTable(test.path, test.repeated, keys)
			if want := appendable + test.added; err != nil || string(got) != want {
				t.Errorf("AppendTable(%q) = %q, %v; want %q", test.path, got, err, want)
			}
		})
	}
}

// TestAppendKeepsLineEnds appends to files of every form.
func TestAppendKeepsLineEnds(t *testing.T) {
	const text = "[vessel]\nliquid = \"3 L\""
	for _, form := range forms(text) {
		end := "\n"
		if strings.Contains(form, "\r\n") {
			end = "\r\n"
		}
		base := form
		if !strings.HasSuffix(form, end) {
			base += end
		}
		d := parseSample(t, form)
		if got, err := d.AppendKey("vessel", "ph", "1"); err != nil || string(got) != base+"ph = 1"+end {
			t.Errorf("AppendKey to %q = %q, %v", form, got, err)
		}
		if got, err := d.AppendTable("a", false, nil); err != nil || string(got) != base+end+"[a]"+end {
			t.Errorf("AppendTable to %q = %q, %v", form, got, err)
		}
		mark := ""
		if strings.HasPrefix(form, "\ufeff") {
			mark = "\ufeff"
		}
		if got, err := d.AppendKey("", "title", "1"); err != nil || string(got) != mark+"title = 1"+end+strings.TrimPrefix(form, mark) {
			t.Errorf("AppendKey to the root of %q = %q, %v", form, got, err)
		}
	}
}

func TestAppendRefuses(t *testing.T) {
	d := parseSample(t, appendable+"dotted.key = 1\nlist = [{ a = 1 }]\n")
	for name, f := range map[string]func() ([]byte, error){
		"key is there":     func() ([]byte, error) { return d.AppendKey("vessel", "liquid", "1") },
		"no such table":    func() ([]byte, error) { return d.AppendKey("none", "a", "1") },
		"no table":         func() ([]byte, error) { return d.AppendKey("title", "a", "1") },
		"dotted table":     func() ([]byte, error) { return d.AppendKey("measured[0].dotted", "a", "1") },
		"table in array":   func() ([]byte, error) { return d.AppendKey("measured[0].list[0]", "b", "1") },
		"two keys":         func() ([]byte, error) { return d.AppendKey("vessel", "a", "1\nb = 2") },
		"a header":         func() ([]byte, error) { return d.AppendKey("vessel", "a", "1\n[x]") },
		"bad value":        func() ([]byte, error) { return d.AppendKey("vessel", "a", "1,234") },
		"table is there":   func() ([]byte, error) { return d.AppendTable("vessel", false, nil) },
		"no name":          func() ([]byte, error) { return d.AppendTable("", false, nil) },
		"bad name":         func() ([]byte, error) { return d.AppendTable("a]\n[b", false, nil) },
		"below a value":    func() ([]byte, error) { return d.AppendTable("title.x", false, nil) },
		"bad key in table": func() ([]byte, error) { return d.AppendTable("a", false, []Edit{{"b", "1 2"}}) },
		"one table more":   func() ([]byte, error) { return d.AppendTable("a", false, []Edit{{"b", "1\n[c]"}}) },
	} {
		if got, err := f(); !errors.Is(err, ErrSplice) || got != nil {
			t.Errorf("%s: %q, %v; want %v", name, got, err, ErrSplice)
		}
	}
}
