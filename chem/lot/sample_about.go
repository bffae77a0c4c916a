package lot

import (
	"strings"

	"afterpour/chem/input"
)

// About is what a person chooses a sample lot by.
type About struct {
	Name  string // as Sample takes it
	Title string
	Shows string // what it is and what it shows, in a sentence or two
}

// Samples lists the sample lots, the one that the program opens with first.
// What each shows is the comment at the head of its file.
func Samples() []About {
	list := make([]About, 0, len(sampleNames))
	for _, name := range sampleNames {
		data, err := Sample(name)
		if err != nil {
			continue
		}
		a := About{Name: name, Title: name, Shows: headOf(string(data))}
		if doc, err := input.Parse(name, data); err == nil {
			if title, ok := doc.Root().String("title"); ok {
				a.Title = title
			}
		}
		list = append(list, a)
	}
	return list
}

// headOf is the second paragraph of the comment that a file begins with: the
// first only says that the figures are invented.
func headOf(text string) string {
	paragraphs := []string{""}
	for _, row := range strings.Split(text, "\n") {
		words, comment := strings.CutPrefix(strings.TrimSpace(row), "#")
		if !comment {
			break
		}
		if words = strings.TrimSpace(words); words == "" {
			paragraphs = append(paragraphs, "")
			continue
		}
		last := len(paragraphs) - 1
		paragraphs[last] = strings.TrimSpace(paragraphs[last] + " " + words)
	}
	if len(paragraphs) < 2 {
		return ""
	}
	return paragraphs[1]
}
