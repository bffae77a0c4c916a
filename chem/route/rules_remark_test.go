package route

import (
	"strings"
	"testing"

	"afterpour/chem/input"
	"afterpour/chem/lot"
)

func TestRemarks(t *testing.T) {
	const liquor = "title = \"x\"\n%[\n[vessel]\nliquid = \"1 L\"\n[[measured]]\nmetal = \"Ag\"\nin = \"liquid\"\nvalue = \"5 g/L\"\n"
	const scrap = "title = \"x\"\n%[\n[vessel]\nliquid = \"1 L\"\n[[dissolved]]\nwhat = \"spoons\"\nmass = \"10 g\"\ngrade = \"sterling 925\"\nby = \"nitric acid\"\n"
	for name, c := range map[string]struct{ text, top, want string }{
		"all is said":      {scrap, "declared = [\"cyanide\"]\nacknowledged = [\"chloride-oxidant\"]", ""},
		"misspelt word":    {scrap, "declared = [\"mercurry\"]", `is it "mercury"?`},
		"unknown word":     {scrap, "declared = [\"kryptonite\"]", "find out what it does"},
		"unknown make":     {liquor, "", "Nothing says what the metal was"},
		"stops no plan":    {scrap, "acknowledged = [\"light\"]", "light is acknowledged, but it stops no plan"},
		"unclean but safe": {scrap, "declared = [\"\\u001b[2Jcyan\"]", "no rule knows it"},
	} {
		t.Run(name, func(t *testing.T) {
			doc, err := input.Parse("lot.toml", []byte(strings.Replace(c.text, "%[", c.top, 1)))
			if err != nil {
				t.Fatal(err)
			}
			l, err := lot.Decode(doc, &input.Figures{})
			if err != nil {
				t.Fatal(err)
			}
			got := strings.Join(Remarks(l), "\n")
			if c.want == "" && got != "" || !strings.Contains(got, c.want) || strings.Contains(got, "\u001b") {
				t.Errorf("Remarks = %q, want %q in it", got, c.want)
			}
		})
	}
}
