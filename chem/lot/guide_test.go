package lot

import (
	"errors"
	"strings"
	"testing"

	"afterpour/chem/input"
)

// strip is a lot as somebody would describe it.
var strip = Answers{
	"title": "Strip, jar 3", "date": "2026-11-02", "what": "silver-plated contacts", "mass": "410 g ± 2 g",
	"of": "Ag 8 % ± 1 %, 64 % copper, rest Zn", "by": "nitric acid", "acid": "1,6 L of 68 %",
	"poured": "2.5 L water; 13.5 mL ± 10 % hydrochloric acid 37 %", "liquid": "3.2 L ± 5 %", "ph": "0.3",
	"settled": "38 g silver chloride, 30 % water", "assays": "Ag 4.9 g/L ± 4 % by AAS; 21 g/L Cu", "declared": "mercury, none of my business",
}

const stripFile = `# Described question by question.

title = "Strip, jar 3"
date = 2026-11-02
declared = ["mercury", "none of my business"]

[vessel]
liquid = "3.2 L ± 5 %"
ph = "0.3"

[[dissolved]]
what = "silver-plated contacts"
mass = "410 g ± 2 g"
share = { Ag = "8 % ± 1 %", Cu = "64 %", Zn = "rest" }
by = "nitric acid"

[[added]]
what = "nitric acid"
strength = "68 %"
amount = "1,6 L"

[[added]]
what = "water"
amount = "2.5 L"

[[added]]
what = "hydrochloric acid"
strength = "37 %"
amount = "13.5 mL ± 10 %"

[[measured]]
metal = "Ag"
in = "liquid"
value = "4.9 g/L ± 4 %"
by = "AAS"

[[measured]]
metal = "Cu"
in = "liquid"
value = "21 g/L"

[[solid]]
compound = "AgCl"
wet_mass = "38 g"
moisture = "30 %"
`

func TestGuideFile(t *testing.T) {
	got, err := strip.File("new.toml")
	if err != nil || string(got) != stripFile {
		t.Errorf("File = %s, %v; want\n%s", got, err, stripFile)
	}
}

// TestGuideBlanks: every question may be left blank, each alone and all.
func TestGuideBlanks(t *testing.T) {
	if _, err := (Answers{}).File("new.toml"); err != nil {
		t.Errorf("nothing answered: %v", err)
	}
	for _, q := range Questions() {
		for _, blank := range []string{"", "?", "don't know"} {
			a := Answers{}
			for id, text := range strip {
				a[id] = text
			}
			a[q.ID] = blank
			if q.ID == "by" { // the amount of an acid that is not named says nothing
				a["acid"] = ""
			}
			data, err := a.File("new.toml")
			if err != nil {
				t.Errorf("%s left blank: %v", q.ID, err)
				continue
			}
			if _, err := Contents("new.toml", data); err != nil {
				t.Errorf("%s left blank: %v", q.ID, err)
			}
		}
		if only, ok := strip[q.ID]; ok && q.ID != "acid" {
			if _, err := (Answers{q.ID: only}).File("new.toml"); err != nil {
				t.Errorf("%s alone: %v", q.ID, err)
			}
		}
	}
}

func TestGuideQuestions(t *testing.T) {
	if n := len(Questions()); n > 12 {
		t.Errorf("%d questions, at most 12", n)
	}
	for _, q := range Questions() {
		if q.Ask == "" || q.Explain == "" || q.Example == "" || q.Blank == "" {
			t.Errorf("the question %q is not whole", q.ID)
		}
		for _, example := range strings.Split(q.Example, ", or ") {
			a := Answers{"mass": "410 g", "of": "sterling 925", "by": "nitric acid"}
			a[q.ID] = example
			if got, err := a.Understood("new.toml", q.ID); err != nil || got == "" {
				t.Errorf("the example %q of %s is taken as %q, %v", example, q.ID, got, err)
			}
		}
	}
}

func TestGuideUnderstood(t *testing.T) {
	for id, want := range map[string]string{
		"title": "Strip, jar 3", "mass": "410 g ± 2 g, about 0.49 %", "of": "Ag 8 % ± 1 %, Cu 64 % ± ", "acid": "nitric acid, 68 % ± ",
		"liquid": "3.2 L ± 0.16 L, about 5 %", "ph": "0.3 ± ", "settled": "AgCl, 38 g ± ", "assays": "Ag, 4.9 g/L ± 0.2 g/L, about 4 %, AAS; Cu, 21 g/L ± ", "declared": "mercury, none",
	} {
		if got, err := strip.Understood("new.toml", id); err != nil || !strings.HasPrefix(got, want) {
			t.Errorf("%s is understood as %q, %v; want %q…", id, got, err, want)
		}
	}
	if got, err := (Answers{"mass": "410 g ± 2 g"}).Understood("new.toml", "mass"); err != nil || !strings.Contains(got, "about 0.49 %; counted once") {
		t.Errorf("a mass alone is understood as %q, %v", got, err)
	}
	if got, err := strip.Understood("new.toml", "date"); err != nil || got != "" && !strings.Contains(got, "2026") {
		t.Errorf("the date is understood as %q, %v", got, err)
	}
}

// TestGuideMistakes: what is wrong is said of the question it is in, without
// the words of the file.
func TestGuideMistakes(t *testing.T) {
	for id, tests := range map[string][]string{
		"mass":    {"410 L", "1,234 g", "-5 g"},
		"of":      {"stirling 925 of sorts", "Ag 80 %, Cu 40 %", "Ag 8 %, Ag 9 %"},
		"by":      {"good will"},
		"acid":    {"much", "430 mL + 20 mL", "430 mL of 120 %"},
		"poured":  {"water", "2 L", "2 L of tea"},
		"liquid":  {"3 kg"},
		"ph":      {"low"},
		"settled": {"AgCl", "38 g", "38 g of mud"},
		"assays":  {"Ag", "4.9 g/L", "Xx 3 g/L"},
	} {
		for _, text := range tests {
			a := Answers{}
			for k, v := range strip {
				a[k] = v
			}
			a[id] = text
			_, err := a.File("new.toml")
			var wrong *AnswerError
			if !errors.As(err, &wrong) || !errors.Is(err, ErrAnswer) {
				t.Errorf("%s = %q: %v", id, text, err)
				continue
			}
			if wrong.ID != id || wrong.Message == "" || strings.Contains(wrong.Hint, " = ") {
				t.Errorf("%s = %q: said of %s: %s (%s)", id, text, wrong.ID, wrong.Message, wrong.Hint)
			}
		}
	}
}

// TestGuideContents: the contents grow with the answers.
func TestGuideContents(t *testing.T) {
	a := Answers{"mass": "410 g ± 2 g", "of": "Ag 8 % ± 1 %, Cu rest", "by": "nitric acid"}
	data, err := a.File("new.toml")
	if err != nil {
		t.Fatal(err)
	}
	r, err := Contents("new.toml", data)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range r.Metals {
		if m.Metal == "Ag" && (m.Contained.Grams() < 32 || m.Contained.Grams() > 33.6) {
			t.Errorf("%g g of silver in 8 %% of 410 g", m.Contained.Grams())
		}
	}
	if len(r.Metals) < 2 {
		t.Errorf("metals: %v", r.Metals)
	}
}

// FuzzGuide: any answers give a lot that reads, or an error about an answer.
func FuzzGuide(f *testing.F) {
	for _, q := range questions {
		f.Add(q.ID, strip[q.ID])
		f.Add(q.ID, "Ag, Cu; 3 g , 5 % and + by \" ' \\ [[")
	}
	f.Fuzz(func(t *testing.T, id, text string) {
		a := Answers{"mass": "410 g", "of": "sterling 925", "by": "nitric acid", id: text}
		data, err := a.File("new.toml")
		if err != nil {
			var problems input.Problems
			if !errors.Is(err, ErrAnswer) && !errors.As(err, &problems) {
				t.Fatalf("%s = %q: %T %v", id, text, err, err)
			}
			return
		}
		if err := readable("new.toml", data); err != nil {
			t.Fatalf("%s = %q gives a file that is no lot: %v", id, text, err)
		}
		if _, err := a.Understood("new.toml", id); err != nil {
			t.Fatalf("%s = %q can be written but not understood: %v", id, text, err)
		}
	})
}
