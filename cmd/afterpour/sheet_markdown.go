package main

import (
	"fmt"
	"strings"

	"afterpour/chem/input"
	"afterpour/econ"
)

// sheetMarkdown prints a sheet as Markdown with task lists.
func sheetMarkdown(s *econ.Sheet) string {
	w := &markdownSheet{}
	s.Write(w)
	return w.b.String()
}

// markdownSheet writes Markdown. Every text is cleaned and escaped.
type markdownSheet struct {
	b    strings.Builder
	list bool // the last part was an item of a list
}

// markdownEscapes are the signs by which a text could become markup. Everything
// else in a line of its own position is harmless, because no text begins a line.
var markdownEscapes = strings.NewReplacer(
	`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`, "<", "&lt;", ">", "&gt;", "&", "&amp;", "|", `\|`, "~", `\~`, "$", `\$`,
)

func markdownText(text string) string { return markdownEscapes.Replace(input.Clean(text, 0)) }

// part begins a new paragraph or goes on with a list.
func (w *markdownSheet) part(item bool) {
	if w.b.Len() > 0 && (!item || !w.list) {
		w.b.WriteByte('\n')
	}
	w.list = item
}

// Title writes the first heading.
func (w *markdownSheet) Title(text string) {
	w.part(false)
	fmt.Fprintf(&w.b, "# %s\n", markdownText(text))
}

// Section writes a heading.
func (w *markdownSheet) Section(text string) {
	w.part(false)
	fmt.Fprintf(&w.b, "## %s\n", markdownText(text))
}

// Step writes a heading with the number of the step.
func (w *markdownSheet) Step(number int, title, of string) {
	w.part(false)
	fmt.Fprintf(&w.b, "### %d. %s\n", number, markdownText(title))
	if of != "" {
		w.part(false)
		fmt.Fprintf(&w.b, "*%s*\n", markdownText(of))
	}
}

// Line writes a labelled sentence.
func (w *markdownSheet) Line(label, text string) {
	w.part(false)
	fmt.Fprintf(&w.b, "**%s:** %s\n", markdownText(label), markdownText(text))
}

// Point writes an item.
func (w *markdownSheet) Point(text string) {
	w.part(true)
	fmt.Fprintf(&w.b, "- %s\n", markdownText(text))
}

// Action writes a task.
func (w *markdownSheet) Action(letter, text string) {
	w.part(true)
	if letter != "" {
		letter += ". "
	}
	fmt.Fprintf(&w.b, "- [ ] %s%s\n", letter, markdownText(text))
}

// Caution writes a quoted warning.
func (w *markdownSheet) Caution(severity, text string) {
	w.part(false)
	fmt.Fprintf(&w.b, "> **%s:** %s\n", strings.ToUpper(markdownText(severity)), markdownText(text))
}

// Blank writes a line to write on.
func (w *markdownSheet) Blank(what, unit string) {
	w.part(true)
	line := fmt.Sprintf("- %s: \\_\\_\\_\\_\\_\\_\\_\\_\\_\\_ %s", markdownText(what), markdownText(unit))
	w.b.WriteString(strings.TrimRight(line, " ") + "\n")
}
