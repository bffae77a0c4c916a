package main

import (
	"fmt"
	"strings"

	"afterpour/chem/input"
	"afterpour/econ"

	"github.com/charmbracelet/x/ansi"
)

// sheetText prints a sheet as plain text, one column of at most pageWidth.
func sheetText(s *econ.Sheet) string {
	w := &textSheet{}
	s.Write(w)
	w.rest()
	return w.page.String()
}

// textSheet lays a sheet out on a page.
type textSheet struct {
	page
	blanks []string // waiting to be set on lines together
	indent string
}

// Title begins the page.
func (w *textSheet) Title(text string) {
	w.text("", "%s", strings.ToUpper(firstWords(text)))
	if _, rest, ok := strings.Cut(text, ": "); ok {
		w.text("", "%s", rest)
	}
	w.lines = append(w.lines, strings.Repeat("=", pageWidth))
}

// firstWords is what stands before the first colon.
func firstWords(text string) string {
	head, _, _ := strings.Cut(text, ": ")
	return head
}

// Section begins a part.
func (w *textSheet) Section(text string) {
	w.rest()
	w.indent = ""
	w.heading(text)
	w.lines = append(w.lines, strings.Repeat("-", ansi.StringWidth(input.Clean(text, 0))))
}

// Step begins a numbered step.
func (w *textSheet) Step(number int, title, of string) {
	w.rest()
	w.blank()
	w.indent = "   "
	head := fmt.Sprintf("%d. ", number)
	w.text(head, "%s", title)
	if of != "" {
		w.text(w.indent, "(%s)", of)
	}
}

// Line writes a labelled sentence.
func (w *textSheet) Line(label, text string) {
	w.rest()
	w.text(w.indent+label+": ", "%s", text)
}

// Point writes one of a list.
func (w *textSheet) Point(text string) {
	w.rest()
	w.text("- ", "%s", text)
}

// Action writes something to be ticked off.
func (w *textSheet) Action(letter, text string) {
	w.rest()
	if letter != "" {
		letter += ". "
	}
	w.text(w.indent+"[ ] "+letter, "%s", text)
}

// Caution writes a warning.
func (w *textSheet) Caution(severity, text string) {
	w.rest()
	w.text(w.indent+"! "+strings.ToUpper(severity)+" ", "%s", text)
}

// Blank keeps a line to write on; those of one place are set together.
func (w *textSheet) Blank(what, unit string) {
	text := what + " ________"
	if unit != "" {
		text += " " + unit
	} else {
		text += "____"
	}
	w.blanks = append(w.blanks, text)
}

// rest sets the blanks that wait.
func (w *textSheet) rest() {
	line := ""
	put := func() {
		if line != "" {
			w.lines = append(w.lines, w.indent+"> "+line)
		}
		line = ""
	}
	room := pageWidth - len(w.indent) - 2
	for _, b := range w.blanks {
		b = input.Clean(b, room)
		if line != "" && ansi.StringWidth(line)+2+ansi.StringWidth(b) > room {
			put()
		}
		if line != "" {
			line += "  "
		}
		line += b
	}
	put()
	w.blanks = nil
}
